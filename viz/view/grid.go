package view

import (
	"math"
	"sort"

	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/sim"
	"underdisc/viz/scene"
)

// The charts are sampled on a grid whose spacing is a power of two seconds and
// whose lines lie on whole multiples of it, so that a window that slides or
// grows finds most of its samples taken. A window spans from least to twice as
// many of its cells.
//
// Between two lines nothing is missed: the engine steps more closely where
// something is fast, so of the starts and the middles of its steps those are
// kept, for each cell, at which one of the curves is lowest or highest. And both
// sides of each event are kept, so that no corner is cut.
const (
	leastCells = 640
	mostCells  = 2048 // that are kept, of each of two spacings; more than any window shows
	usual      = 4    // probes that a cell has room for; more are taken where there are more
	fewEvents  = 8    // of more in one cell, those are kept that stand out, the first and the last
)

// grid holds the cells of a run that have been sampled. A cell has its place by
// its number; cells of odd and of even level lie apart, so that a spacing is
// doubled by putting cells together.
type grid struct {
	run    *live.Run
	valve  int // of the piloted ones, or of the spring-loaded ones
	spring bool
	names  parts
	cells  [2][]cell

	// The last step of the run when it was sampled. It may be taken back and
	// made again shorter.
	from, to float64
	interval int

	room []probe // for cells that have none yet
	y    []float64
	snap plant.Snapshot
}

// fill fills a trace for the window, up to end, with now at t.
func (g *grid) fill(tr *scene.Trace, w window, t, end float64, present probe) error {
	*tr = scene.Trace{From: w.from, To: w.to, Zero: w.zero, ZeroName: w.zeroName,
		T: tr.T[:0], Above: tr.Above[:0], Below: tr.Below[:0], Outlet: tr.Outlet[:0], Vessel: tr.Vessel[:0], LiftBelow: tr.LiftBelow[:0],
		DropAbove: tr.DropAbove[:0], Lift: tr.Lift[:0], Pilot: tr.Pilot[:0], Current: tr.Current[:0], TailWall: tr.TailWall[:0], DumpWall: tr.DumpWall[:0],
		Huddle: tr.Huddle[:0], Under: tr.Under[:0], Flow: tr.Flow[:0], Wear: tr.Wear[:0], Up: tr.Up[:0], Down: tr.Down[:0]}
	if w.from >= end { // the very start
		g.add(tr, &present)
		return nil
	}
	if err := g.check(); err != nil {
		return err
	}
	p, err := g.probe(w.from)
	if err != nil {
		return err
	}
	last, shown := math.Inf(-1), false
	put := func(p *probe) {
		if !shown && p.t >= t {
			shown, last = true, t
			g.add(tr, &present)
		}
		if p.t > last {
			last = p.t
			g.add(tr, p)
		}
	}
	put(&p)
	level := math.Ilogb((w.to - w.from) * nowAt / leastCells)
	size := math.Ldexp(1, level)
	for k := int64(math.Floor(w.from / size)); float64(k)*size < end; k++ {
		c, err := g.cell(level, k, end)
		if err != nil {
			return err
		}
		for i := range c.rest {
			if c.line.t > w.from && c.rest[i].t >= c.line.t {
				put(&c.line)
			}
			if c.rest[i].t > w.from {
				put(&c.rest[i])
			}
		}
		if c.line.t > w.from {
			put(&c.line)
		}
	}
	if end > t {
		if p, err = g.probe(end); err != nil {
			return err
		}
		put(&p)
	} else if !shown {
		g.add(tr, &present)
	}
	return nil
}

// check forgets what has been sampled of a step that was taken back since.
func (g *grid) check() error {
	h := g.run.History
	if g.to > g.from {
		s, err := h.At(math.Min(g.from, end(h)))
		if err != nil {
			return err
		}
		if s.T0 != g.from || s.T1 != g.to || s.Interval != g.interval {
			for _, table := range g.cells {
				for i := range table {
					table[i].filled = table[i].filled && table[i].upTo <= g.from
				}
			}
		}
	}
	s, err := h.At(end(h))
	if err != nil {
		return err
	}
	g.from, g.to, g.interval = s.T0, s.T1, s.Interval
	return nil
}

func end(h *sim.History) float64 {
	_, to := h.Span()
	return to
}

// cell is the cell of that level and number, sampled up to end or its own.
func (g *grid) cell(level int, at int64, end float64) (*cell, error) {
	table := &g.cells[level&1]
	if *table == nil {
		*table = make([]cell, mostCells)
	}
	c := &(*table)[at&(mostCells-1)]
	if !c.is(level, at) || c.upTo > end && end < c.ends() {
		*c = cell{level: level, at: at, filled: true, rest: c.rest[:0]}
		if cap(c.rest) == 0 {
			c.rest = g.place()
		}
		c.upTo = c.begins()
		g.join(c, end)
	}
	if to := math.Min(c.ends(), end); c.upTo < to {
		if err := g.extend(c, c.upTo, to); err != nil {
			return nil, err
		}
		c.upTo = to
		c.sift()
	}
	return c, nil
}

// place is the room of a cell, taken from that of many.
func (g *grid) place() []probe {
	if len(g.room) < usual {
		g.room = make([]probe, 64*usual)
	}
	p := g.room[:0:usual]
	g.room = g.room[usual:]
	return p
}

// join fills a cell with the two halves that it is made of, as far as they have
// been sampled.
func (g *grid) join(c *cell, end float64) {
	table := g.cells[(c.level-1)&1]
	if table == nil {
		return
	}
	for at := 2 * c.at; at <= 2*c.at+1; at++ {
		half := &table[at&(mostCells-1)]
		if !half.is(c.level-1, at) || half.upTo > end || half.begins() != c.upTo || half.upTo == half.begins() {
			return
		}
		if at == 2*c.at {
			c.line = half.line
		}
		c.rest = append(c.rest, half.rest...)
		c.events += half.events
		c.upTo = half.upTo
	}
	c.sift()
}

// extend samples a cell from lo, included, to hi, not included.
func (g *grid) extend(c *cell, lo, hi float64) error {
	h := g.run.History
	line := c.begins()
	for at := lo; at < hi; {
		s, err := h.At(at)
		if err != nil {
			return err
		}
		if from := s.T0; from >= lo && from > 0 {
			event := g.happens(from)
			if event { // the step before ends here
				before := math.Nextafter(from, 0)
				p, err := g.probe(before)
				if err != nil {
					return err
				}
				p.event = true
				c.rest = append(c.rest, p)
				c.events++
				if s, err = h.At(at); err != nil {
					return err
				}
			}
			c.rest = append(c.rest, g.sample(s, from))
			c.rest[len(c.rest)-1].event = event
		}
		middle := s.T0 + (s.T1-s.T0)/2
		late := middle >= lo && middle < hi
		if late && middle < line {
			c.rest = append(c.rest, g.sample(s, middle))
			late = false
		}
		if line >= lo && line >= s.T0 && line < math.Min(s.T1, hi) {
			c.line = g.sample(s, line)
		}
		if late {
			c.rest = append(c.rest, g.sample(s, middle))
		}
		if !(s.T1 > at) {
			break
		}
		at = s.T1
	}
	return nil
}

// happens tells whether an event of the valve lies at t.
func (g *grid) happens(t float64) bool {
	events := g.run.Sim.Events()
	for i := sort.Search(len(events), func(i int) bool { return events[i].T >= t }); i < len(events) && events[i].T == t; i++ {
		for _, name := range g.names {
			if events[i].Part == name {
				return true
			}
		}
	}
	return false
}

// probe samples the history at a time.
func (g *grid) probe(t float64) (probe, error) {
	s, err := g.run.History.At(t)
	if err != nil {
		return probe{}, err
	}
	return g.sample(s, t), nil
}

// sample samples a step at a time within it.
func (g *grid) sample(s *sim.Segment, t float64) probe {
	m := g.run.Model(s.Interval)
	m.SnapshotInto(&g.snap, t, g.eval(s, t), s.Modes, s.Timers)
	return g.probeOf(t, &g.snap)
}

// probeOf is what the charts show of a snapshot.
func (g *grid) probeOf(t float64, s *plant.Snapshot) probe {
	if g.spring {
		return springProbe(t, &s.Springs[g.valve])
	}
	return probeOf(t, &s.Valves[g.valve])
}

// eval is the state within a step, valid until the next call.
func (g *grid) eval(s *sim.Segment, t float64) []float64 {
	if n := len(s.C) / 5; len(g.y) != n {
		g.y = make([]float64, n)
	}
	s.Eval(t, g.y)
	return g.y
}
