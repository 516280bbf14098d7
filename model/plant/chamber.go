package plant

import "underdisc/model/fluid"

// ChamberFlows are the mass flows into and out of a valve's chamber, kg/s, if
// its pressure were below (Pa, absolute) while everything else stood as in the
// snapshot: in through bore and guide clearance, out through the pilot as far
// as it is open now, its leak included. The chamber's temperature is taken as
// the body's, which is where it settles when the flow through it is steady and
// no heat is exchanged. Each flow may be negative.
func (m *Model) ChamberFlows(valve int, s *Snapshot, below float64) (in, out float64) {
	v, st := &m.Valves[valve], &s.Valves[valve]
	state := func(p, t float64) (f fluid.State) {
		m.Gas.At(m.Gas.Volume(p, t), m.Gas.Energy(t), &f)
		return f
	}
	t := st.AboveTemperature
	chamber := state(below, t)
	rate := func(k int, area float64, up, down fluid.State) float64 {
		if area == 0 {
			return 0
		}
		if up.P >= down.P {
			return area * m.Net.Flows[k].Law.Flux(&up, down.P)
		}
		return -area * m.Net.Flows[k].Law.Flux(&down, up.P)
	}
	body := state(st.Above, t)
	in = rate(v.Bleed, s.Look.Flows[v.Bleed].Area, body, chamber)
	if v.Guide >= 0 {
		in += rate(v.Guide, s.Look.Flows[v.Guide].Area, body, chamber)
	}
	out = rate(v.PilotFlow, s.Look.Flows[v.PilotFlow].Area, chamber, state(st.Dump, s.Look.Nodes[v.Dump].T))
	return in, out
}
