package scene

import (
	"math"

	"underdisc/model/plant"
)

// springStrips are the charts of a spring-loaded valve, from top to bottom.
func (s *sheet) springStrips() []*chart {
	tr, st, u := &s.v.Trace, s.sp, s.v.Units
	pressure := s.springPressures(tr)
	lift := travelChart("lift chart", "Lift, mm", st.Spec.Disc.Travel, 0)
	lift.curves = []curve{{tr: tr, y: tr.Lift, pen: s.solid(3.4), value: s.liftShown(), strong: true}}
	if s.p.wide {
		pressure.share, lift.share = 0.66, 0.34
		if s.v.AtRest() && !rests(tr.TailWall, 1) {
			lift = s.wallChart(0.34)
		}
		return []*chart{pressure, lift}
	}
	flow := s.quantity("flow chart", s.say("Flow, ", u.flowName()), u.flowSize(), 1e-3, tr.Flow)
	flow.curves = []curve{{tr: tr, y: tr.Flow, pen: s.solid(2.6), value: s.flowShown(), strong: true}}
	if s.v.AtRest() && !rests(tr.TailWall, 1) {
		flow = s.wallChart(0)
	}
	if s.p.little() {
		pressure.share, lift.share, flow.share = 0.50, 0.26, 0.24
		return []*chart{pressure, lift, flow}
	}
	forces := s.forceChart(tr)
	wear := s.quantity("wear chart", "Seat wear, a relative index", 1, 0.1, tr.Wear)
	wear.curves = []curve{{tr: tr, y: tr.Wear, pen: s.solid(2.6), value: s.number(st.Wear, 2), strong: true}}
	pressure.share, lift.share, flow.share, forces.share, wear.share = 0.36, 0.18, 0.14, 0.20, 0.12
	return []*chart{pressure, lift, flow, forces, wear}
}

// liftShown and flowShown are none at all of a shut valve.
func (s *sheet) liftShown() string {
	if s.sp.Pop == plant.Tight {
		return "on its seat"
	}
	return Lift(math.Max(0, s.sp.Lift))
}

func (s *sheet) flowShown() string {
	if s.sp.W == 0 {
		return "none"
	}
	return s.v.Units.Flow(s.sp.W)
}

// springPressures is the chart of the pressures, with those at which the faces part
// and the valve pops and reseats.
func (s *sheet) springPressures(tr *Trace) *chart {
	st, u, f := s.sp, s.v.Units, s.v.Spring
	c := s.pressureChart(&Trace{T: tr.T, Above: tr.Above, Below: tr.Huddle})
	c.curves = make([]curve, 0, 5)
	level := func(name string, p float64, pen Pen) {
		if p > s.v.Range.Low && p < s.v.Range.High {
			c.curves = append(c.curves, curve{level: s.numbers.put(p), pen: pen, name: name, value: s.pressure(u, p)})
		}
	}
	switch q := f.Folds; {
	case st.Pop == plant.Simmering && q.Pop.Known:
		level("pops above", q.Pop.Value, s.dashed(limitLine, 9, 5))
	case st.Lift <= faceMost:
		level("faces part", f.Parting.Pressure, s.dashed(limitLine, 9, 5))
	case q.Reseat.Known:
		level("reseats below", q.Reseat.Value, s.dashed(limitLine, 3, 4))
	}
	add := func(y []float64, pen Pen, name string, p float64, strong bool) {
		c.curves = append(c.curves, curve{tr: tr, y: y, pen: pen, name: name, value: s.pressure(u, p), strong: strong})
	}
	if st.Spec.UpperRing != nil {
		add(tr.Under, s.dashed(aboveLine, 7, 4), "upper ring", st.Under, false)
	}
	if st.Spec.LowerRing != nil {
		add(tr.Huddle, s.solid(belowLine), "huddling", st.Huddle, true)
	} else {
		add(tr.Outlet, s.dashed(aboveLine, 7, 4), "outlet", st.Outlet, false)
	}
	add(tr.Above, s.solid(aboveLine), "inlet", st.Inlet, true)
	return c
}

// quantity is a chart from nothing up to the most of a trace, or to the least that is
// worth one, in a unit of that size.
func (s *sheet) quantity(part, heading string, size, least float64, y []float64) *chart {
	most := least
	for _, v := range y {
		if v > most { // not NaN
			most = v
		}
	}
	c := &chart{part: part, heading: heading, size: size, high: 1.12 * most / size}
	c.at, c.decimals = ticks(0, c.high, 2)
	return c
}

// forceChart is what lifts the disc against what shuts it.
func (s *sheet) forceChart(tr *Trace) *chart {
	st := s.sp
	low, high := math.Inf(1), math.Inf(-1)
	for _, y := range [...][]float64{tr.Up, tr.Down} {
		for _, v := range y {
			if !math.IsNaN(v) {
				low, high = math.Min(low, v), math.Max(high, v)
			}
		}
	}
	least := 0.1 * st.Spec.Spring.Preload
	if !(high >= low) {
		low, high = 0, least
	}
	if high-low < least {
		mid := (low + high) / 2
		low, high = mid-least/2, mid+least/2
	}
	pad := 0.08 * (high - low)
	c := &chart{part: "force chart", heading: "Forces on the disc, kN", size: 1e3, low: (low - pad) / 1e3, high: (high + pad) / 1e3}
	c.at, c.decimals = ticks(c.low, c.high, 3)
	up := st.SeatForce + st.Momentum + st.HuddleForce + st.UpperForce + st.Jet + st.Back + st.LeverForce
	c.curves = []curve{
		{tr: tr, y: tr.Down, pen: s.dashed(aboveLine, 9, 4), name: "spring", value: s.force(st.Spring + st.Weight)},
		{tr: tr, y: tr.Up, pen: s.solid(2.8), name: "lifts", value: s.force(up), strong: true},
	}
	return c
}

// flowSize and flowName are the unit of a flow on a chart, kg/s.
func (u Units) flowSize() float64 {
	switch {
	case u.PoundsPerHour:
		return 0.45359237 / 3600
	case !u.KilogramsPerSecond:
		return 1.0 / 3600
	}
	return 1
}

func (u Units) flowName() string {
	switch {
	case u.PoundsPerHour:
		return "lb/h"
	case !u.KilogramsPerSecond:
		return "kg/h"
	}
	return "kg/s"
}

// saysSpringCharts is the charts for the text twin.
func (s *sheet) saysSpringCharts() string {
	st, u := s.sp, s.v.Units
	rings := ""
	if st.Spec.LowerRing != nil {
		rings = s.say(rings, ", huddling chamber ", s.pressure(u, st.Huddle))
	}
	if st.Spec.UpperRing != nil {
		rings = s.say(rings, ", below the upper ring ", s.pressure(u, st.Under))
	}
	return s.say(s.number(s.v.Snapshot.T, 3), " s: inlet ", s.pressureUnit(u, st.Inlet), rings, ", lift ", Lift(math.Max(0, st.Lift)),
		", flow ", s.flow(u, st.W), ", relative wear ", s.number(st.Wear, 2), s.saysFlags())
}
