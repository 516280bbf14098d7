package live

import (
	"math"

	"underdisc/model/plant"
	"underdisc/sim"
)

// SpringLift is one lift of a spring-loaded valve, from the parting of its faces
// until they meet again. Pressures in Pa absolute, times in s; NaN is what has not
// happened, or what a run without a history does not tell.
type SpringLift struct {
	Simmer, SimmerAt float64 // pressure at the inlet when the faces parted for it

	// Pop is the highest pressure at the inlet in the second before the disc was
	// off by a fifth of its travel: where it pops, the flow draws it down.
	Pop, PopVessel, PopAt float64

	Lift, LiftAt     float64 // the highest, m
	FullAt           float64 // when it first met its stop
	Most, MostVessel float64 // highest pressures at the inlet and in the vessel until it reseated

	Reseated                       bool
	Reseat, ReseatVessel, ReseatAt float64 // off by a fiftieth of its travel, at its inlet
	TightAt                        float64 // nothing passes any more

	Hand         bool // the lever lifted it
	Gradual      bool // it opens in proportion: it does not pop, and counts from where its faces part
	Wear         float64
	SeatImpact   float64 // J, the hardest of those on the seat
	StopImpact   float64 // J, the hardest of those on the upper stop
	Surroundings float64 // pressure that it discharges into in the end

	begin, end float64
}

// opens is the pressure that blowdown and accumulation count from: at which it
// popped, or of a valve that does not pop, at which its faces parted.
func (l *SpringLift) opens() float64 {
	if l.Gradual {
		return l.Simmer
	}
	return l.Pop
}

// Blowdown is in percent of the pressure at which it popped, gauge; false where
// there is none: it has not reseated, a hand lifted it, or it was a beat of chatter.
func (l *SpringLift) Blowdown() (percent float64, ok bool) {
	p, reseat := l.opens(), l.Reseat
	if !l.Gradual && !math.IsNaN(l.PopVessel) && !math.IsNaN(l.ReseatVessel) {
		// As the code means it: of the vessel. At an inlet pipe's end there are waves.
		p, reseat = l.PopVessel, l.ReseatVessel
	}
	if !l.Reseated || l.Hand || !(p > l.Surroundings) || l.ReseatAt-l.PopAt < beat {
		return 0, false
	}
	return 100 * (p - reseat) / (p - l.Surroundings), true
}

// Accumulation is how far the vessel went above the pressure at which it popped, in
// percent of that, gauge; false of a lift by hand.
func (l *SpringLift) Accumulation() (percent float64, ok bool) {
	p := l.PopVessel
	if l.Gradual {
		p = l.Simmer // nothing flows yet, so there is nothing between vessel and inlet
	}
	if l.Hand || math.IsNaN(l.MostVessel) || !(p > l.Surroundings) {
		return 0, false
	}
	return 100 * math.Max(0, l.MostVessel-p) / (p - l.Surroundings), true
}

// Open is how long it was open until t, s.
func (l *SpringLift) Open(t float64) float64 {
	if l.Reseated {
		return l.ReseatAt - l.PopAt
	}
	return t - l.PopAt
}

// beat is how short a lift is one beat of chatter, which has no blowdown, s.
const beat = 0.1

// bounces is how soon after it shut a parting of the faces counts as a bounce, s.
const bounces = 0.05

// popWindow is how far back the pressure at which a valve pops is looked for, s.
const popWindow = 1.0

// SpringLifts are the lifts of the spring-loaded valve of that name so far, in order
// of time; none if the plant has no such valve.
func SpringLifts(r *Run, valve string) []SpringLift {
	k := springIndex(r.Present(), valve)
	if k < 0 {
		return nil
	}
	out := r.springEvents(k)
	if r.History != nil && len(out) > 0 {
		r.springPeaks(k, out)
	}
	return out
}

func springIndex(m *plant.Model, valve string) int {
	for i := range m.Springs {
		if m.Springs[i].Name == valve {
			return i
		}
	}
	return -1
}

// springEvents reads the lifts from the record of events.
func (r *Run) springEvents(k int) []SpringLift {
	var out []SpringLift
	part := r.Present().Net.Movers[r.Present().Springs[k].Disc].Name
	end := r.Sim.State().T
	events := r.Sim.Events()
	nan := math.NaN()
	parted, partedAt := nan, nan
	for i := range events {
		e := &events[i]
		if e.Part != part {
			continue
		}
		var now *SpringLift
		if n := len(out); n > 0 {
			now = &out[n-1]
		}
		before, after := r.AtEvent(e)
		was, is := &before.Springs[k], &after.Springs[k]
		switch e.Name {
		case "simmer":
			parted, partedAt = is.Inlet, e.T
		case "pop":
			l := SpringLift{Simmer: parted, SimmerAt: partedAt, Pop: is.Inlet, PopVessel: is.Vessel, PopAt: e.T,
				Lift: is.Lift, LiftAt: e.T, FullAt: nan, Most: nan, MostVessel: nan, Reseat: nan, ReseatVessel: nan, ReseatAt: nan, TightAt: nan,
				Hand: is.LeverForce > 0, Gradual: is.Spec.Plug != nil, StopImpact: 0, SeatImpact: nan, Wear: nan, Surroundings: surroundingsOf(r.Model(e.Interval), k),
				begin: e.T, end: end}
			if !math.IsNaN(partedAt) {
				l.begin = partedAt
			}
			if now != nil {
				now.end = math.Min(now.end, e.T)
				if !(l.begin >= now.end) {
					l.begin = now.end
				}
			}
			parted, partedAt = nan, nan
			out = append(out, l)
		case "full-lift", "full-lift-bounce":
			if now == nil {
				continue
			}
			if math.IsNaN(now.FullAt) {
				now.FullAt = e.T
			}
			now.StopImpact = math.Max(now.StopImpact, 0.5*is.Spec.Disc.Mass*(was.Speed*was.Speed-is.Speed*is.Speed))
			if is.Lift > now.Lift {
				now.Lift, now.LiftAt = is.Lift, e.T
			}
		case "reseat":
			if now != nil {
				now.Reseated, now.Reseat, now.ReseatVessel, now.ReseatAt = true, is.Inlet, is.Vessel, e.T
			}
		case "tight":
			switch {
			case now == nil:
			case math.IsNaN(now.TightAt):
				now.TightAt, now.end = e.T, e.T
			case e.T-now.end < bounces:
				now.end = e.T
			}
			parted, partedAt = nan, nan
		}
	}
	return out
}

// springPeaks looks along the run for what no event tells.
func (r *Run) springPeaks(k int, out []SpringLift) {
	const looks = 4 // in a step
	var s plant.Snapshot
	y := make([]float64, len(r.Sim.State().Y))
	i := 0
	first := make([]float64, len(out)) // wear at the beginning
	for j := range first {
		first[j] = math.NaN()
	}
	// The run so far is held, so it cannot fail to be gone through.
	_ = r.History.Each(func(g *sim.Segment) error {
		for i < len(out) && out[i].end <= g.T0 {
			i++
		}
		if i == len(out) || g.T1 < math.Min(out[i].begin, out[i].PopAt-popWindow) {
			return nil
		}
		m := r.Model(g.Interval)
		for j := range looks + 1 {
			t := g.T0 + (g.T1-g.T0)*float64(j)/looks
			if j == looks {
				t = g.T1
			}
			g.Eval(t, y)
			m.SnapshotInto(&s, t, y, g.Modes, g.Timers)
			v := &s.Springs[k]
			// Where two lifts touch, a step may belong to both.
			for n := i; n < len(out) && n <= i+1; n++ {
				out[n].look(t, v, &first[n])
			}
		}
		return nil
	})
	for j := range out {
		out[j].Wear -= first[j]
	}
}

// look takes up the valve at a moment; first is its wear when the lift began.
func (l *SpringLift) look(t float64, v *plant.SpringState, first *float64) {
	if l.SimmerAt <= t && t <= l.PopAt && t >= l.PopAt-popWindow && v.Inlet > l.Pop {
		l.Pop, l.PopVessel = v.Inlet, math.Max(l.PopVessel, v.Vessel)
	}
	if t < l.begin || t > l.end {
		return
	}
	if math.IsNaN(*first) {
		*first = v.Wear
	}
	l.Wear = v.Wear
	if v.Lift > l.Lift {
		l.Lift, l.LiftAt = v.Lift, t
	}
	if !l.Reseated || t <= l.ReseatAt {
		l.Most = largest(l.Most, v.Inlet)
		l.MostVessel = largest(l.MostVessel, v.Vessel)
		return
	}
	if v.Speed < 0 && v.Lift-v.HeldOff < nearFaces*v.Spec.Seat.Length {
		l.SeatImpact = largest(l.SeatImpact, 0.5*v.Spec.Disc.Mass*v.Speed*v.Speed)
	}
}

// nearFaces is how near its seat a disc counts as striking it, in contact lengths.
const nearFaces = 3.0

// largest is the larger of two, the first of which may not be known yet.
func largest(a, b float64) float64 {
	if math.IsNaN(a) || b > a {
		return b
	}
	return a
}

// surroundingsOf is the pressure that a valve discharges into in the end.
func surroundingsOf(m *plant.Model, k int) float64 {
	_, air, ok := m.Plant.Around(m.Springs[k].Spec.Outlet)
	if !ok {
		return 0
	}
	return air.Pressure
}
