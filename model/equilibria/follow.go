package equilibria

import (
	"errors"
	"math"

	"underdisc/sim/branch"
)

// follower follows a valve's equilibria from its seat to its stop.
type follower struct {
	s               statics
	soft            bool // the seat gives way: the disc is in balance on it
	travel          float64
	length, off     float64 // of a soft seat
	lowest, highest float64 // vessel's pressure, Pa
	most            float64 // the longest step in balance

	path  []place // in the order of the curve
	short bool    // it broke off
}

// place is a point of the path.
type place struct {
	Point
	stable bool
	fold   bool
	parts  bool // the faces part here
	hard   hardEnd
}

type hardEnd int

const (
	free hardEnd = iota
	atSeat
	atStop
)

var settings = branch.Settings{First: 0.02, Least: 1e-6, Most: 0.12, Turn: 0.12, Points: 4000}

var errStart = errors.New("no equilibrium is found at low pressure from which to start: the valve's fluid, pipes or forces are out of the ordinary")

// follow fills the path.
func (f *follower) follow() error {
	f.path, f.short = nil, false
	if !f.soft {
		return f.hard()
	}
	u, stopped, err := f.start()
	if err != nil {
		return err
	}
	if !stopped {
		end, err := f.balanced(u, 1)
		if err != nil {
			return err
		}
		if end == nil {
			return nil
		}
		u = end
	}
	return f.stop(u)
}

// start is the equilibrium at the lowest pressure. The disc is moved up from deep
// in its seat, the pipes settled for each lift, until the forces balance; stopped
// where they do so beyond the stop.
func (f *follower) start() (u []float64, stopped bool, err error) {
	p, _ := f.s.scale()
	deep := f.off - f.length*20
	n := f.s.Size()
	u = make([]float64, n+1)
	u[n] = f.lowest / p
	f.s.rest(f.lowest, u[1:])
	h := holding(f.s, false, u[n])
	var w []float64
	for range 40 {
		u[0] = f.s.stretch(deep)
		w = append(append([]float64(nil), u[1:n]...), u[0])
		if w, err = branch.Start(h, w, n-1); err != nil {
			return nil, false, errStart
		}
		if h.net(w) > 0 {
			break
		}
		deep -= f.length * 20
	}
	to := make([]float64, n)
	to[n-1] = 1
	set := settings
	set.High = unbounded(n)
	set.High[n-1] = f.s.stretch(f.travel)
	c, err := branch.Trace(h, w, to, set)
	if err != nil {
		return nil, false, errStart
	}
	for i := range len(c.Points) - 1 {
		if h.net(c.Points[i].U) > 0 && h.net(c.Points[i+1].U) <= 0 {
			at, ok := c.Between(i, h.net)
			if !ok {
				return nil, false, errStart
			}
			return append([]float64(nil), h.all(at.U)...), false, nil
		}
	}
	if c.End != branch.AtBound {
		return nil, false, errStart
	}
	return append([]float64(nil), h.all(c.Points[len(c.Points)-1].U)...), true, nil
}

func unbounded(n int) []float64 {
	b := make([]float64, n)
	for i := range b {
		b[i] = math.NaN()
	}
	return b
}

// balanced follows the disc in balance, from u on with rising pressure (sense 1)
// or with rising lift (sense 0). It returns where it meets the stop, nil where it
// does not.
func (f *follower) balanced(u []float64, sense int) ([]float64, error) {
	n := f.s.Size()
	to := make([]float64, n+1)
	if sense == 1 {
		to[n] = 1
	} else {
		to[0] = 1
	}
	set := settings
	set.Most = f.most
	p, _ := f.s.scale()
	set.Low, set.High = unbounded(n+1), unbounded(n+1)
	set.Low[n], set.High[n] = 0.9*f.lowest/p, f.highest/p
	set.High[0] = f.s.stretch(f.travel)
	if !f.soft {
		set.Low[0] = 0
	}
	c, err := branch.Trace(f.s, u, to, set)
	if err != nil {
		return nil, errStart
	}
	f.short = c.End != branch.AtBound
	for i := range c.Points {
		q := &c.Points[i]
		if i > 0 && f.soft {
			f.crack(c, i-1)
		}
		f.add(q)
	}
	last := c.Points[len(c.Points)-1].U
	if c.End == branch.AtBound && c.Bound == 0 && last[0] >= set.High[0] {
		return last, nil
	}
	return nil, nil
}

// crack adds the point where the faces part, if it lies between two points.
func (f *follower) crack(c *branch.Curve, i int) {
	parts := func(u []float64) float64 { return f.s.lift(u[0]) }
	if parts(c.Points[i].U)*parts(c.Points[i+1].U) < 0 {
		if q, ok := c.Between(i, parts); ok {
			f.add(&q)
			last := &f.path[len(f.path)-1]
			last.parts, last.Lift = true, 0
		}
	}
}

func (f *follower) add(q *branch.Point) {
	_, force := f.s.scale()
	p := place{Point: f.s.point(q.U), stable: q.Own < 0, fold: q.Fold}
	p.Held = 0
	if !p.stable {
		p.Wave = math.NaN()
	}
	f.join(&p)
	p.Slope = q.Own * force / f.s.unstretch(q.U[0])
	if q.Fold {
		p.Slope = 0
	}
	f.path = append(f.path, p)
}

// join lets a point at which a disc leaves or meets a hard end be the same on both
// sides, to the last digit.
func (f *follower) join(p *place) {
	if len(f.path) == 0 {
		return
	}
	last := &f.path[len(f.path)-1]
	if last.hard != p.hard && math.Abs(p.Vessel-last.Vessel) < 1e-7*p.Vessel && math.Abs(p.Lift-last.Lift) < 1e-7*f.travel {
		p.Vessel = last.Vessel
		if p.hard != free {
			last.Lift = p.Lift
		} else {
			p.Lift = last.Lift
		}
	}
}

// stop follows the disc at its stop, upwards in pressure, as long as the stop has
// something to carry. u is where it meets it.
func (f *follower) stop(u []float64) error {
	h := holding(f.s, true, f.s.stretch(f.travel))
	_, err := f.resting(h, u[1:], atStop, func(w []float64) float64 { return h.net(w) })
	return err
}

// resting follows a disc at a hard end upwards in pressure as long as carried is
// not below zero, and returns the point where it becomes so; nil where it does
// not.
func (f *follower) resting(h *held, u []float64, end hardEnd, carried func(u []float64) float64) ([]float64, error) {
	n := h.Size()
	to := make([]float64, n+1)
	to[n] = 1
	p, _ := f.s.scale()
	set := settings
	set.Most = 0.1
	set.High = unbounded(n + 1)
	set.High[n] = f.highest / p
	if u[n] >= set.High[n] {
		return nil, nil
	}
	c, err := branch.Trace(h, u, to, set)
	if err != nil {
		return nil, errStart
	}
	put := func(w []float64) []float64 {
		full := append([]float64(nil), h.all(w)...)
		p := place{Point: f.s.point(full), stable: true, hard: end}
		p.Lift, p.Wave = f.travel, math.NaN()
		if end == atSeat {
			p.Lift = 0
		}
		f.join(&p)
		f.path = append(f.path, p)
		return full
	}
	for i := range c.Points {
		if i > 0 && carried(c.Points[i].U) < 0 {
			q, ok := c.Between(i-1, carried)
			if !ok {
				return nil, nil
			}
			return put(q.U), nil
		}
		put(c.Points[i].U)
	}
	f.short = c.End != branch.AtBound
	return nil, nil
}

// hard follows a disc between two hard ends.
func (f *follower) hard() error {
	n := f.s.Size()
	p, _ := f.s.scale()
	u := make([]float64, n+1)
	u[n] = f.lowest / p
	f.s.rest(f.lowest, u[1:])
	h := holding(f.s, true, 0)
	w, err := branch.Start(h, u[1:], n-1)
	if err != nil {
		return errStart
	}
	off, err := f.resting(h, w, atSeat, func(w []float64) float64 { return -h.net(w) })
	if err != nil || off == nil {
		return err
	}
	end, err := f.balanced(off, 0)
	if err != nil || end == nil {
		return err
	}
	return f.stop(end)
}
