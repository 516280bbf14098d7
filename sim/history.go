package sim

import (
	"fmt"
	"slices"
	"sort"

	"underdisc/sim/method"
)

// blockSteps is how many steps share one checkpoint.
const blockSteps = 256

// History keeps a run's trajectory: checkpoints for good, the steps between
// them for as long as there is room. Steps that have been let go are computed
// again from their checkpoint when they are asked for, which gives the same
// numbers bit for bit.
type History struct {
	Keep int // blocks of 256 steps kept in memory; 0: all

	run     *Run
	n, nq   int
	systems []System
	blocks  []*block
	again   *History // the block that was computed again last
	againAt int
}

type block struct {
	start Checkpoint
	end   float64
	segs  []Segment
	store []float64
	gone  bool
}

// Segment is one step of the trajectory. Between T0 and T1 the variables
// follow the dense output; an event, if there was one, lies at T1, and the
// next segment starts after it.
type Segment struct {
	T0, T1   float64
	Interval int
	Modes    []Mode
	Timers   []float64 // due times during the step
	C        []float64 // dense output, as method.Eval takes it
	Q        []float64 // quadratures at T1
}

// Eval writes the variables at t, T0 <= t <= T1.
func (g *Segment) Eval(t float64, y []float64) {
	method.Eval(g.C, (t-g.T0)/(g.T1-g.T0), y)
}

// End writes the variables at T1, before the event that may lie there.
func (g *Segment) End(y []float64) {
	n := len(y)
	for i := range y {
		y[i] = g.C[i] + g.C[n+i]
	}
}

func (h *History) push(r *Run, t0, t1 float64) {
	if h.run == nil {
		h.run, h.n, h.nq, h.systems = r, len(r.s.Y), len(r.s.Q), r.systems
	}
	size := 5*h.n + h.nq + 1 + (len(r.modes)+7)/8
	var b *block
	if k := len(h.blocks); k > 0 && len(h.blocks[k-1].segs) < blockSteps {
		b = h.blocks[k-1]
	} else {
		b = &block{start: Checkpoint{State: r.last.s.Clone(), Control: r.last.ctl, Interval: len(r.systems) - 1, Next: r.next}}
		b.start.Control.Z = slices.Clone(r.last.ctl.Z)
		if h.Keep > 0 && k >= h.Keep {
			old := h.blocks[k-h.Keep]
			b.segs, b.store = old.segs[:0], old.store
			old.segs, old.store, old.gone = nil, nil, true
		} else {
			b.segs, b.store = make([]Segment, 0, blockSteps), make([]float64, size*blockSteps)
		}
		h.blocks = append(h.blocks, b)
	}
	k := len(b.segs)
	b.segs = b.segs[:k+1]
	g := &b.segs[k]
	if g.Modes == nil {
		g.Modes = make([]Mode, len(r.s.Modes))
		g.Timers = make([]float64, len(r.s.Timers))
		g.C = b.store[k*size : k*size+5*h.n : k*size+5*h.n]
		g.Q = b.store[k*size+5*h.n : k*size+5*h.n+h.nq : k*size+5*h.n+h.nq]
	}
	g.T0, g.T1, g.Interval = t0, t1, len(r.systems)-1
	copy(g.Modes, r.s.Modes)
	copy(g.Timers, r.s.Timers)
	copy(g.C, r.c)
	copy(g.Q, r.s.Q)
	b.end = t1
}

// drop forgets the step that began at t0, and whatever came after.
func (h *History) drop(t0 float64) {
	for len(h.blocks) > 0 {
		b := h.blocks[len(h.blocks)-1]
		for k := len(b.segs); k > 0 && b.segs[k-1].T0 >= t0; k-- {
			b.segs = b.segs[:k-1]
		}
		if k := len(b.segs); k > 0 {
			b.end = b.segs[k-1].T1
			return
		}
		h.blocks = h.blocks[:len(h.blocks)-1]
	}
}

// Span is the time that the history covers.
func (h *History) Span() (from, to float64) {
	if len(h.blocks) == 0 {
		return 0, 0
	}
	return h.blocks[0].start.State.T, h.blocks[len(h.blocks)-1].end
}

// System is the one that was in force in an interval.
func (h *History) System(interval int) System { return h.systems[interval] }

// At finds the segment that holds at t; at a moment with an event, the one
// that starts there. The segment is valid until the next call.
func (h *History) At(t float64) (*Segment, error) {
	from, to := h.Span()
	if len(h.blocks) == 0 || !(t >= from && t <= to) {
		return nil, fmt.Errorf("sim: the history reaches from %g to %g s, not to %g s", from, to, t)
	}
	k := sort.Search(len(h.blocks), func(k int) bool { return h.blocks[k].start.State.T > t }) - 1
	segs, err := h.steps(k)
	if err != nil {
		return nil, err
	}
	i := sort.Search(len(segs), func(i int) bool { return segs[i].T0 > t }) - 1
	return &segs[max(i, 0)], nil
}

// Each calls do for every segment, in order, until it returns an error.
func (h *History) Each(do func(*Segment) error) error {
	for k := range h.blocks {
		segs, err := h.steps(k)
		if err != nil {
			return err
		}
		for i := range segs {
			if err := do(&segs[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// steps returns the segments of block k, computing them again if they have
// been let go.
func (h *History) steps(k int) ([]Segment, error) {
	b := h.blocks[k]
	if !b.gone {
		return b.segs, nil
	}
	if h.again != nil && h.againAt == k {
		return h.again.blocks[0].segs, nil
	}
	again := &History{}
	set := h.run.set
	set.History, set.NoPast = again, true
	r, err := Resume(h.systems[b.start.Interval], b.start, set, h.run.cmds...)
	if err != nil {
		return nil, err
	}
	// The systems before the checkpoint only keep the count of intervals right.
	r.systems = slices.Clone(h.systems[:b.start.Interval+1])
	if _, err := r.Advance(b.end, 0); err != nil {
		return nil, err
	}
	// A command may cut the block's last step: Advance has then carried it
	// out and stands at the block's end all the same.
	if got := again.blocks[0].end; len(again.blocks) != 1 || got != b.end {
		return nil, fmt.Errorf("sim: computing the steps before %g s again ended at %g s", b.end, got)
	}
	h.again, h.againAt = again, k
	return again.blocks[0].segs, nil
}
