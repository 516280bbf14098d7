package sim

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// Fork takes the run of the history up again at t, which the history covers, as
// a run of its own with a history of its own, h2. It is the same, bit for bit,
// as a run from the beginning that has been advanced to t, whatever this one did
// after t: of its commands those later than t are left out, as are the places
// later than t where it was made to stop. The steps up to t are computed again
// when they are asked for.
func (h *History) Fork(t float64, h2 *History) (*Run, error) {
	from, to := h.Span()
	if len(h.blocks) == 0 || !(t >= from && t <= to) {
		return nil, fmt.Errorf("sim: the history reaches from %g to %g s, not to %g s", from, to, t)
	}
	r := h.run
	// From before t, so that the fork has a last step that it can take back.
	k := max(sort.Search(len(h.blocks), func(k int) bool { return h.blocks[k].start.State.T >= t })-1, 0)
	// Not from a step that was cut for something after t.
	for k > 0 && !math.IsInf(h.blocks[k].limit, 1) && h.blocks[k].limit > t {
		k--
	}
	b := h.blocks[k]
	if !math.IsInf(b.limit, 1) && b.limit > t {
		b = &block{start: b.start, limit: math.Inf(1)}
	}
	start := b.start
	upTo := func(n int, at func(int) float64, t float64) int {
		return sort.Search(n, func(i int) bool { return at(i) > t })
	}
	cmds := r.cmds[:upTo(len(r.cmds), func(i int) float64 { return r.cmds[i].T }, t)]
	if start.Next > len(cmds) {
		return nil, fmt.Errorf("sim: the step at %g s came after a command that lies after it", start.State.T)
	}
	set := r.set
	set.History = h2
	f, err := Resume(h.System(start.Interval), start, set, cmds...)
	if err != nil {
		return nil, err
	}
	copy(f.systems, r.systems)
	if n := upTo(len(r.events), func(i int) float64 { return r.events[i].T }, start.State.T); n > 0 {
		f.events = slices.Clip(r.events[:n])
	}
	stopAt := func(i int) float64 { return r.stops[i] }
	f.stops = slices.Clone(r.stops[:upTo(len(r.stops), stopAt, t)])
	f.stop = upTo(len(f.stops), stopAt, start.State.T)
	for _, old := range h.blocks[:k] {
		h2.blocks = append(h2.blocks, &block{start: old.start, limit: old.limit, end: old.end})
	}
	for !math.IsInf(b.limit, 1) && f.s.T < b.limit {
		if err := f.step(b.limit); err != nil {
			return nil, err
		}
	}
	_, err = f.Advance(t, 0)
	return f, err
}
