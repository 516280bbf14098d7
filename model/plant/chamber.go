package plant

import (
	"underdisc/model/fluid"
	"underdisc/model/network"
)

// ChamberFlows are the mass flows into and out of a valve's chamber, kg/s, if
// its pressure were below (Pa, absolute) while everything else stood as in the
// snapshot: in through bore and guide clearance, out through the pilot as far
// as it is open now, its leak included. The chamber's enthalpy is taken as the
// body's, which is where it settles when the flow through it is steady and no
// heat is exchanged. Each flow may be negative.
func (m *Model) ChamberFlows(valve int, s *Snapshot, below float64) (in, out float64) {
	v := &m.Valves[valve]
	body := m.NodeState(s, v.Body)
	var chamber fluid.State
	m.Throttle(&body, below, &chamber)
	rate := func(k int, area float64, up, down fluid.State) float64 {
		if area == 0 {
			return 0
		}
		if up.P >= down.P {
			return area * m.Net.Flows[k].Law.Flux(&up, down.P)
		}
		return -area * m.Net.Flows[k].Law.Flux(&down, up.P)
	}
	in = rate(v.Bleed, s.Look.Flows[v.Bleed].Area, body, chamber)
	if v.Guide >= 0 {
		in += rate(v.Guide, s.Look.Flows[v.Guide].Area, body, chamber)
	}
	out = rate(v.PilotFlow, s.Look.Flows[v.PilotFlow].Area, chamber, m.NodeState(s, v.Dump))
	return in, out
}

// NodeState is the fluid in a volume of the snapshot.
func (m *Model) NodeState(s *Snapshot, n network.Node) (f fluid.State) {
	k := &s.Look.Nodes[n]
	m.At(k.V/k.Mass, k.U/k.Mass, &f)
	return f
}
