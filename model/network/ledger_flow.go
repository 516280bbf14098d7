package network

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"

	"underdisc/sim"
)

// flowPoints is the number of points inside each step at which flows and
// forces are taken: Gauss-Legendre, exact for polynomials up to degree 7, two
// more than a flow along the dense output of degree 4 would need if it were
// linear in the state.
//
// Whether the dense output is good enough was measured. In a shut valve the
// stiffest mode (-8100 1/s, the bleed at its small pressure difference)
// multiplies an error of the interpolated pressures into the flow; over the
// gas bench at a relative tolerance of 1e-6, with single steps of up to 2.3 s,
// the bleed's mass is off by 5e-7 of its throughput all the same, for 3, 4 and
// 5 points alike. A rule from values and slopes at the ends of steps only
// (Hermite) was worse by a factor of ten in the opening, where the flow is
// less smooth than the state. A loose tolerance is another matter: when
// explicit steps at the limit of stability leave the stiff mode ringing, this
// quadrature shows it and the one by state does not.
const flowPoints = 4

// AuditRun closes the books of a run twice: by the quadratures of its states,
// and by an independent integration of flows, heats and forces that are
// computed again along the recorded trajectory, impacts from the speeds on
// both sides of their events and changed parameters from the networks on both
// sides. The second way reads no quadrature.
//
// systems are those of the run's intervals, each a *Network or embedding one;
// start and end are its first and present state. The events must carry the
// variables on both sides.
func AuditRun(h *sim.History, events []sim.Event, systems []sim.System, start, end sim.State) (*Audit, error) {
	nets := make([]*Network, len(systems))
	for i, s := range systems {
		c, ok := s.(interface{ Compiled() *Network })
		if !ok {
			return nil, fmt.Errorf("network: interval %d is governed by a %T, which has no network to audit", i, s)
		}
		nets[i] = c.Compiled()
	}
	if len(nets) == 0 {
		return nil, fmt.Errorf("network: a run without a system cannot be audited")
	}
	w := &walk{nets: nets, events: events, y: slices.Clone(start.Y), at: start.Clone().Y,
		rate:  make([]float64, len(start.Q)),
		state: newClosing(nets[0], start.Y, start.Q), flow: newClosing(nets[0], start.Y, start.Q)}
	if err := h.Each(w.segment); err != nil {
		return nil, err
	}
	// What came after the last step: events and commands of its last instant.
	if err := w.jump(end.T, len(nets)-1, end.Y); err != nil {
		return nil, err
	}
	w.state.upTo(end.Q)
	last := nets[len(nets)-1]
	w.state.look(last, end.Y)
	w.flow.look(last, end.Y)
	a := &Audit{}
	for i, b := range w.state.books {
		a.Accounts = append(a.Accounts, Account{Part: b.part, Kind: b.kind, ByState: w.state.residual(i), ByFlow: w.flow.residual(i)})
	}
	return a, nil
}

// walk goes along a trajectory and keeps both closings up to date.
type walk struct {
	nets        []*Network
	events      []sim.Event // those to come
	interval    int
	y           []float64 // where the last step ended
	at, rate    []float64
	state, flow *closing
}

func (w *walk) segment(g *sim.Segment) error {
	g.Eval(g.T0, w.at)
	if err := w.jump(g.T0, g.Interval, w.at); err != nil {
		return err
	}
	n := w.nets[g.Interval]
	var x, weight [flowPoints]float64
	quad.Legendre{}.FixedLocations(x[:], weight[:], g.T0, g.T1)
	gain := make([]float64, len(w.rate))
	for k, t := range x {
		g.Eval(t, w.at)
		n.rates(n.Look(t, w.at, g.Modes), w.rate)
		for i, r := range w.rate {
			gain[i] += weight[k] * r
		}
	}
	for i, d := range gain {
		w.flow.add(i, d)
	}
	g.End(w.y)
	w.state.upTo(g.Q)
	w.state.look(n, w.y)
	w.flow.look(n, w.y)
	return nil
}

// jump enters what happened between the end of the last step and the moment t,
// from where the run goes on at y in the given interval.
func (w *walk) jump(t float64, interval int, y []float64) error {
	for len(w.events) > 0 && w.events[0].T <= t {
		e := &w.events[0]
		w.events = w.events[1:]
		n := w.nets[e.Interval]
		for i := range n.Movers {
			m := &n.Movers[i]
			if e.Part != m.Name || e.Name != m.Events.Bounce && e.Name != m.Events.Low && e.Name != m.Events.High {
				continue
			}
			if e.Before == nil {
				return fmt.Errorf("network: the events of this run carry no variables: impacts cannot be audited")
			}
			v := n.parts[i].v
			w.flow.add(n.parts[i].qImpact, n.kinetic(i, e.Before[v])-n.kinetic(i, e.After[v]))
		}
	}
	if interval == w.interval {
		return nil
	}
	n, old := w.nets[interval], w.nets[w.interval]
	w.interval = interval
	for i := range n.parts {
		p := &n.parts[i]
		// A contact in the same instant changes the speed, which is the
		// impact's affair; the position is moved by the change alone.
		w.flow.add(p.qFault, n.kinetic(i, w.y[p.v])-old.kinetic(i, w.y[p.v])+
			n.potential(i, y[p.x], y)-old.potential(i, w.y[p.x], w.y))
	}
	for i := range n.Walls {
		k := n.wallVar[i]
		w.flow.add(n.wallQ[i]+wallFault, n.Walls[i].HeatCapacity*y[k]-old.Walls[i].HeatCapacity*w.y[k])
	}
	return nil
}

// rates writes what the ledger's quadratures would be fed with, from the flows
// and forces of a look alone. Impacts and changes of parameters have no rate.
func (n *Network) rates(l *Look, rate []float64) {
	clear(rate)
	for i := range n.Feeds {
		f := &l.Feeds[i]
		rate[n.feedQ[i]], rate[n.feedQ[i]+1] = f.W, f.W*n.Feeds[i].Enthalpy+f.Heat
	}
	for i := range l.Flows {
		rate[n.edges[i].qm], rate[n.edges[i].qh] = l.Flows[i].W, l.Flows[i].H
	}
	for i := range l.Channels {
		rate[n.channels[i].qm], rate[n.channels[i].qh] = l.Channels[i].W, l.Channels[i].H
		rate[n.channels[i].qe] = l.Channels[i].Enters
	}
	for i := range l.Movers {
		m, p := &l.Movers[i], &n.parts[i]
		for k, f := range p.faces {
			rate[n.nodes[f.node].work[f.at]] = m.Faces[k] * m.V
		}
		// A part at rest has the speed zero: what holds it does no work.
		rate[p.qDamp], rate[p.qFriction] = -m.Damping*m.V, -m.Friction*m.V
		rate[p.qPull], rate[p.qLoad] = m.Pull*m.V, m.SeatLoad*m.V
		if p.seat != nil {
			rate[p.qFace] = m.Excess * m.V
		}
		if p.past != nil {
			rate[p.qFace] = m.Past.Force * m.V
		}
		if n.Movers[i].Seat != nil {
			rate[p.qPull], rate[p.qImpact] = m.Lever*m.V, m.Hit
		}
	}
	for i := range l.Walls {
		rate[n.wallQ[i]+wallIn], rate[n.wallQ[i]+wallOut] = l.Walls[i].In, l.Walls[i].Out
	}
}
