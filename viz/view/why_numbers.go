package view

import (
	"math"
	"strconv"

	"underdisc/model/explain"
	"underdisc/model/unit"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// shown writes a quantity with its unit.
func shown(q explain.Quantity, v float64, u scene.Units) string {
	switch q {
	case explain.ChamberWater:
		return strconv.FormatFloat(100*v, 'f', 1, 64) + " %"
	case explain.EarthFaults:
		return strconv.Itoa(int(v))
	}
	switch q.Dim() {
	case unit.Pressure:
		return u.PressureOf(v) + " " + u.PressureName()
	case unit.PressureDifference:
		return u.Difference(v) + " " + u.DifferenceName()
	case unit.Time:
		if v > 3600 {
			return "more than an hour"
		}
		return scene.Span(v)
	case unit.Temperature:
		return u.Temperature(v)
	case unit.MassFlow:
		return u.Flow(v)
	case unit.Length:
		return strconv.FormatFloat(1e3*v, 'f', 2, 64) + " mm"
	case unit.Area:
		return square(v)
	case unit.Force:
		return scene.Force(v)
	case unit.Current:
		return scene.Current(v) + " A"
	case unit.Voltage:
		return words.Voltage(v)
	}
	return unit.Format(significant(v), q.Dim())
}

// square writes an area, m2, to three figures.
func square(a float64) string {
	return strconv.FormatFloat(significant(1e6*a), 'f', -1, 64) + " mm²"
}

// significant is a number to three figures.
func significant(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64)
	if err != nil || math.IsNaN(v) {
		return v
	}
	return r
}

// noLeak is a ratio of leak to bleed that is none: what is left of a chamber that
// still settles.
const noLeak = 0.02

// numbersOf are those of the answer, in the order in which they are asked for.
func numbersOf(pg *explain.Page, u scene.Units) []scene.WhyNumber {
	var out []scene.WhyNumber
	add := func(name, value string) { out = append(out, scene.WhyNumber{Name: name, Value: value}) }
	p := func(name string, v float64) { add(name, shown(explain.ChamberPressure, v, u)) }
	opt := func(name string, q explain.Quantity, v explain.Opt, otherwise string) {
		switch {
		case v.Known:
			add(name, shown(q, v.Value, u))
		case otherwise != "":
			add(name, otherwise)
		}
	}
	f := &pg.Facts
	ch, th := &f.Chamber, &f.Thresholds
	if pg.Question == explain.Cycles {
		n := &pg.Cycle
		add("lifts so far", strconv.Itoa(n.Lifts))
		if n.Span.Known && n.Seen > 1 {
			add("the last "+strconv.Itoa(n.Seen)+" of them within", shown(explain.Wait, n.Span.Value, u))
		}
		opt("from lift to lift", explain.Wait, n.Period, "")
		add("set less reset", shown(explain.Deadband, n.Deadband, u))
		if n.FallRate.Known {
			add("the vessel falls, full open", u.Difference(n.FallRate.Value)+" "+u.DifferenceName()+"/s")
		}
		opt("closing delay, demand to seat", explain.Wait, n.ClosingDelay, "")
		opt("lost while it shuts, whatever the reset", explain.Deadband, n.ShortestBlowdown, "")
		if pg.Facts.Why.Reason == explain.InletDrops {
			opt("lost in the line while it blows", explain.Deadband, f.Cycle.InletDrop, "")
		}
		opt("asked open for", explain.Wait, n.AskedOpen, "")
		opt("a sound lift would be asked for", explain.Wait, n.Needed, "")
	}
	onSeat := pg.OnSeat()
	p("chamber, now", ch.Pressure)
	opt("chamber, where it settles", explain.ChamberPressure, ch.Steady, "any pressure: nothing flows")
	if !onSeat {
		opt("chamber, without a leak", explain.ChamberPressure, ch.SteadyTight, "")
	}
	if th.LiftBelow > 0 {
		p("disc lifts with the chamber below", th.LiftBelow)
	} else {
		add("disc lifts with the chamber below", "no pressure: not even an empty one")
	}
	if onSeat {
		if th.DropAbove > 0 {
			p("from its stop it would shut above", th.DropAbove)
		} else {
			add("from its stop it would shut above", "any pressure")
		}
	} else {
		p("disc goes to its seat above", pg.Leaves)
	}
	p("body", pg.Above)
	p("vessel", pg.Vessel)
	p("outlet", pg.Outlet)
	if !onSeat {
		if t := pg.Seat.Chamber; t.Known && pg.Facts.Why.Reason == explain.FillsTooSlowly {
			add("time until the chamber is there", "at least "+shown(explain.Wait, t.Value, u))
		} else {
			opt("time until the chamber is there", explain.Wait, t, "never, as things stand")
		}
		opt("and from there to the seat", explain.Wait, pg.Seat.Stroke, "")
	}
	ratio := func(name string, v explain.Opt) {
		if v.Known {
			add(name, strconv.FormatFloat(v.Value, 'f', 2, 64))
		}
	}
	if pg.Ratio.Now.Value > noLeak {
		ratio("leak to bleed, as flows, now", pg.Ratio.Now)
	}
	ratio("most leak to bleed that lets it seat", pg.Ratio.Seats)
	ratio("most leak to bleed to stay shut", pg.Ratio.Holds)
	return out
}
