package view

import (
	"math"

	"underdisc/model/explain"
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
	atRest   = 2e3 // shown at most while walls warm or cool
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
	return w.spanning(span, t)
}

// windowAtRest is that of a valve whose warmth is what goes on: from when the disc
// last seated, or from the start, for walls warm and cool over minutes.
func windowAtRest(p *explain.Past, t float64) window {
	w := window{}
	if p.DiscSeated.Known {
		w.zero, w.zeroName = p.DiscSeated.Value, "the disc seated"
	}
	return w.spanning(math.Min(math.Max((t-w.zero)/0.86, quiet), atRest), t)
}

// spanning is the window with so much of the past in it, s.
func (w window) spanning(span, t float64) window {
	w.from = math.Max(t-span, 0)
	w.to = w.from + math.Max(t-w.from, span*0.5)/nowAt
	return w
}
