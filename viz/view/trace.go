package view

import (
	"math"
	"slices"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
)

// window is the stretch of time that the charts show.
type window struct {
	from, to, zero float64
	zeroName       string
}

// Where now stands in the charts, as a share of their width, and the bounds of
// what they show, s. shown leaves room to see a whole opening (0.1 s) and a
// whole closing (0.3 s) at one glance.
const (
	nowAt    = 0.70
	shortest = 0.012
	longest  = 6.0
	quiet    = 1.2 // shown of a valve that rests
	lifts    = 3.5 // periods shown of one that cycles
)

// windowOf chooses it: the sequence under way from the event that began it, if
// that is not long ago; some lifts of a valve that cycles; else the last second.
func windowOf(f *explain.Facts, p *explain.Past, t float64) window {
	span, zero, name := quiet, 0.0, ""
	began := func(at explain.Opt, what string) {
		if at.Known && t-at.Value <= longest && at.Value > zero {
			zero, name = at.Value, what
		}
	}
	switch {
	case f.State == explain.Cycling && f.Cycle.Period.Known:
		span = lifts * f.Cycle.Period.Value
	case f.Asked:
		began(p.SwitchMade, "the switch made")
		began(p.DiscLift, "the disc lifted")
		if p.SwitchMade.Known && zero == p.DiscLift.Value && p.CoilOn.Known && p.DiscLift.Value-p.SwitchMade.Value < longest {
			zero, name = p.SwitchMade.Value, "the switch made"
		}
	case f.State == explain.Shut || f.State == explain.Leaking:
		if p.DiscSeated.Known && t-p.DiscSeated.Value < 0.1 {
			began(p.SwitchReset, "the switch reset")
		}
	default:
		began(p.SwitchReset, "the switch reset")
		if p.DiscLift.Known && zero < p.DiscLift.Value {
			began(p.DiscLift, "the disc lifted")
		}
	}
	w := window{zero: zero, zeroName: name}
	if name != "" {
		span = math.Max((t-zero)/0.86, shortest)
	}
	w.from = math.Max(t-span, 0)
	if t == 0 {
		w.from = 0
	}
	w.to = w.from + math.Max(t-w.from, span*0.5)/nowAt
	return w
}

// samples of a trace; more than its charts have columns.
const samples = 900

// trace samples the history over the window: evenly, and on both sides of each
// event, so that no corner is cut.
func trace(run *live.Run, valve int, w window, t float64, ahead bool, p parts) (scene.Trace, error) {
	tr := scene.Trace{From: w.from, To: w.to, Zero: w.zero, ZeroName: w.zeroName}
	end := t
	if ahead {
		_, last := run.History.Span()
		end = math.Max(t, math.Min(w.to, last))
	}
	var times []float64
	for k := range samples + 1 {
		times = append(times, w.from+(end-w.from)*float64(k)/samples)
	}
	times[samples] = end
	for _, e := range run.Sim.Events() {
		if e.T > w.from && e.T < end && slices.Contains(p, e.Part) {
			times = append(times, math.Nextafter(e.T, w.from), e.T)
		}
	}
	times = append(times, t)
	slices.Sort(times)
	for _, at := range slices.Compact(times) {
		s, _, err := run.At(at)
		if err != nil {
			return tr, err
		}
		add(&tr, at, &s.Valves[valve])
	}
	return tr, nil
}

// add appends a sample. A threshold is drawn while it can decide: that to lift
// unless the disc is held at its stop, that to go back unless it is held on its
// seat.
func add(tr *scene.Trace, t float64, v *plant.ValveState) {
	th := explain.ThresholdsOf(v)
	if v.Disc.Hold == plant.HeldOpen {
		th.LiftBelow = math.NaN()
	}
	if v.Disc.Hold == plant.HeldShut {
		th.DropAbove = math.NaN()
	}
	tr.T = append(tr.T, t)
	tr.Above = append(tr.Above, v.Above)
	tr.Below = append(tr.Below, v.Below)
	tr.Outlet = append(tr.Outlet, v.Outlet)
	tr.Vessel = append(tr.Vessel, v.Vessel)
	tr.LiftBelow = append(tr.LiftBelow, th.LiftBelow)
	tr.DropAbove = append(tr.DropAbove, th.DropAbove)
	tr.Lift = append(tr.Lift, v.Disc.Lift)
	tr.Pilot = append(tr.Pilot, v.Pilot.Lift)
	tr.Current = append(tr.Current, v.Coil.Current)
}
