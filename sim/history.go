package sim

import (
	"fmt"
	"math"
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
	blocks  []*block
	spare   []Segment // of a block that has been dropped, for the next one
	again   *History  // the block that was computed again last
	againAt int
}

// block is up to blockSteps steps and the moment from which they can be
// computed again.
type block struct {
	start Checkpoint
	limit float64 // where the first step was told to end at the latest
	end   float64
	segs  []Segment // nil: let go
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

// push takes up the step that r has just made.
func (h *History) push(r *Run, t0, t1 float64) {
	b := h.open(r)
	k := len(b.segs)
	b.segs = b.segs[:k+1]
	g := &b.segs[k]
	g.T0, g.T1, g.Interval = t0, t1, len(r.systems)-1
	copy(g.Modes, r.s.Modes)
	copy(g.Timers, r.s.Timers)
	copy(g.C, r.c)
	copy(g.Q, r.s.Q)
	b.end = t1
}

// open is the block that takes the next step: the last one, or a new one in
// the room of one that is let go for it.
func (h *History) open(r *Run) *block {
	k := len(h.blocks)
	// The last block may have been let go for one that a cut has dropped again.
	if k > 0 && h.blocks[k-1].segs != nil && len(h.blocks[k-1].segs) < blockSteps {
		return h.blocks[k-1]
	}
	cp := Checkpoint{State: r.last.s.Clone(), Control: r.last.ctl.clone(), Interval: len(r.systems) - 1, Next: r.next}
	b := &block{start: cp, limit: r.last.limit}
	switch {
	case h.spare != nil:
		b.segs, h.spare = h.spare, nil
	case h.Keep > 0 && k >= h.Keep && h.blocks[k-h.Keep].segs != nil:
		old := h.blocks[k-h.Keep]
		b.segs, old.segs = old.segs[:0], nil
	default:
		b.segs = h.room(len(r.s.Modes), len(r.s.Timers))
	}
	h.blocks = append(h.blocks, b)
	return b
}

// room makes the memory of a block.
func (h *History) room(modes, timers int) []Segment {
	segs := make([]Segment, blockSteps)
	numbers := make([]float64, (5*h.n+h.nq+timers)*blockSteps)
	small := make([]Mode, modes*blockSteps)
	take := func(n int) []float64 {
		part := numbers[:n:n]
		numbers = numbers[n:]
		return part
	}
	for i := range segs {
		segs[i].C, segs[i].Q, segs[i].Timers = take(5*h.n), take(h.nq), take(timers)
		segs[i].Modes = small[i*modes : (i+1)*modes : (i+1)*modes]
	}
	return segs[:0]
}

// drop forgets the step that began at t0; a run that has just been resumed may
// take back one that is not here.
func (h *History) drop(t0 float64) {
	if len(h.blocks) == 0 {
		return
	}
	b := h.blocks[len(h.blocks)-1]
	k := len(b.segs)
	if k == 0 || b.segs[k-1].T0 < t0 {
		return
	}
	b.segs = b.segs[:k-1]
	if k > 1 {
		b.end = b.segs[k-2].T1
		return
	}
	h.spare = b.segs
	h.blocks = h.blocks[:len(h.blocks)-1]
}

// Span is the time that the history covers.
func (h *History) Span() (from, to float64) {
	if len(h.blocks) == 0 {
		return 0, 0
	}
	return h.blocks[0].start.State.T, h.blocks[len(h.blocks)-1].end
}

// System is the one that was in force in an interval.
func (h *History) System(interval int) System { return h.run.systems[interval] }

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
	if b.segs != nil {
		return b.segs, nil
	}
	if h.again != nil && h.againAt == k {
		return h.again.blocks[0].segs, nil
	}
	again := &History{}
	set := h.run.set
	set.History, set.NoPast = again, true
	r, err := Resume(h.System(b.start.Interval), b.start, set, h.run.cmds...)
	if err != nil {
		return nil, err
	}
	for i, at := range h.run.stops {
		if at > b.start.State.T {
			r.stops = h.run.stops[i:]
			break
		}
	}
	// A step that was made to end at a limit must be made so again: the
	// command that set the limit would first try it longer.
	for !math.IsInf(b.limit, 1) && r.s.T < b.limit {
		if err := r.step(b.limit); err != nil {
			return nil, err
		}
	}
	// A command at the block's end that cut its last step is carried out too;
	// the run then stands at the end all the same.
	if _, err := r.Advance(b.end, 0); err != nil {
		return nil, err
	}
	if got := again.blocks[0].end; len(again.blocks) != 1 || got != b.end {
		return nil, fmt.Errorf("sim: computing the steps before %g s again ended at %g s", b.end, got)
	}
	h.again, h.againAt = again, k
	return again.blocks[0].segs, nil
}
