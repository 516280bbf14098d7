package network

import (
	"math"

	"underdisc/sim"
)

// Stored is the energy that mover i keeps: kinetic, spring and height [J],
//
//	M v^2/2 + Preload x + Rate x^2/2 - Weight x
//
// and that of the faces of its seat.
func (n *Network) Stored(i int, y []float64) float64 {
	p := &n.parts[i]
	return n.kinetic(i, y[p.v]) + n.potential(i, y[p.x], y)
}

func (n *Network) kinetic(i int, v float64) float64 { return 0.5 * n.Movers[i].Mass * v * v }

func (n *Network) potential(i int, x float64, y []float64) float64 {
	m := &n.Movers[i]
	e := m.Preload*x + 0.5*m.Rate*x*x - m.Weight*x
	if m.Seat != nil {
		e += m.Seat.stored(n.gap(i, x, y))
	}
	return e
}

// BookChange enters into the ledger what movers and walls gain in energy when
// the network n takes the place of old at the state s: no force has done that
// work, the change of a parameter has.
func (n *Network) BookChange(old *Network, s *sim.State) {
	for i := range n.parts {
		s.Q[n.parts[i].qFault] += n.Stored(i, s.Y) - old.Stored(i, s.Y)
	}
	for i := range n.Walls {
		s.Q[n.wallQ[i]+wallFault] += (n.Walls[i].HeatCapacity - old.Walls[i].HeatCapacity) * s.Y[n.wallVar[i]]
	}
}

// Compiled is the network itself. A System that embeds a Network inherits it,
// and so can be audited.
func (n *Network) Compiled() *Network { return n }

// Kinds of account.
const (
	Mass   = "mass"   // of a volume, kg
	Energy = "energy" // of a volume or a wall, J
	Work   = "work"   // of a moving part, J
)

// Account is one balance of one part over a run, closed twice. Each residual
// is the worst over the run, looked at at the end of every step, of
//
//	|content - content at the start - gains + losses| / size
//
// The size is that of the part, so that in a small part a small loss shows:
//
//	mass of a volume    the larger of its content at the start and its gross
//	                    throughput over the run, sum over flows of |W| dt [kg]
//	energy of a volume  the same in energy, works p dV and wall heats counted
//	                    as throughput [J]
//	energy of a wall    its gross throughput of heat, or the heat of one kelvin
//	                    where that is more: how much a wall holds depends on
//	                    where its temperature is counted from
//	work of a mover     the gross work of all forces on it, impacts and changes
//	                    of its parameters included; of one with faces at least
//	                    what lifts it by a hundredth of its reach [J]
type Account struct {
	Part, Kind string
	// ByState takes gains and losses from the quadratures that were integrated
	// beside the variables.
	ByState float64
	// ByFlow takes them from flows and forces computed again along the
	// recorded trajectory; NaN where no trajectory was given.
	ByFlow float64
}

// Audit is the ledger of a run.
type Audit struct{ Accounts []Account }

// Find returns the account of that part and kind.
func (a *Audit) Find(part, kind string) (Account, bool) {
	for _, c := range a.Accounts {
		if c.Part == part && c.Kind == kind {
			return c, true
		}
	}
	return Account{}, false
}

// worst is the largest residual over the accounts of a kind, 0 if there are
// none; NaN if one is not a number, so that it cannot pass for closed.
func (a *Audit) worst(kind string, of func(*Account) float64) float64 {
	w := 0.0
	for i := range a.Accounts {
		if c := &a.Accounts[i]; c.Kind == kind {
			w = math.Max(w, of(c)) // NaN if either is
		}
	}
	return w
}

func byState(c *Account) float64 { return c.ByState }
func byFlow(c *Account) float64  { return c.ByFlow }

// MassByState is the worst mass residual over the volumes, by quadratures.
func (a *Audit) MassByState() float64 { return a.worst(Mass, byState) }

// MassByFlow is the worst mass residual over the volumes, by recorded flows.
func (a *Audit) MassByFlow() float64 { return a.worst(Mass, byFlow) }

// EnergyByState is the worst energy residual over volumes and walls, by
// quadratures.
func (a *Audit) EnergyByState() float64 { return a.worst(Energy, byState) }

// EnergyByFlow is the worst energy residual over volumes and walls, by
// recorded flows.
func (a *Audit) EnergyByFlow() float64 { return a.worst(Energy, byFlow) }

// DiscWorkByState is the worst work residual over the moving parts, discs and
// plungers alike, by quadratures. It is no more exact than the integration:
// kinetic energy is not linear in the variables.
func (a *Audit) DiscWorkByState() float64 { return a.worst(Work, byState) }

// DiscWorkByForce is the worst work residual over the moving parts, by
// recorded forces and speeds.
func (a *Audit) DiscWorkByForce() float64 { return a.worst(Work, byFlow) }

// book says which quadratures make up an account, and what it keeps.
type book struct {
	part, kind string
	entries    []bookEntry
	content    func(n *Network, y []float64) float64
	size       func(start float64) float64 // the least, from the content at the start
}

// bookEntry is a quadrature that counts with its sign.
type bookEntry struct {
	q    int
	sign float64
}

// books lists the accounts of the network. They are the same for every network
// of one layout.
func (n *Network) books() []book {
	var out []book
	for v := range n.Volumes {
		nd := &n.nodes[v]
		variable := func(k int) func(*Network, []float64) float64 {
			return func(_ *Network, y []float64) float64 { return y[k] }
		}
		mass := book{part: n.Volumes[v].Name, kind: Mass, content: variable(nd.m), size: math.Abs}
		energy := book{part: n.Volumes[v].Name, kind: Energy, content: variable(nd.u), size: math.Abs}
		flow := func(q int, sign float64) {
			mass.entries = append(mass.entries, bookEntry{q, sign})
			energy.entries = append(energy.entries, bookEntry{q + 1, sign})
		}
		for i := range n.Feeds {
			if n.Feeds[i].To == Node(v) {
				flow(n.feedQ[i], 1)
			}
		}
		for i := range n.Flows {
			if n.Flows[i].From == Node(v) {
				flow(n.edges[i].qm, -1)
			}
			if n.Flows[i].To == Node(v) {
				flow(n.edges[i].qm, 1)
			}
		}
		for i := range n.Channels {
			if n.Channels[i].From == Node(v) {
				flow(n.channels[i].qm, -1)
			}
			if n.Channels[i].To == Node(v) {
				mass.entries = append(mass.entries, bookEntry{n.channels[i].qm, 1})
				energy.entries = append(energy.entries, bookEntry{n.channels[i].qe, 1})
			}
		}
		for i := range n.parts {
			if s := n.parts[i].seat; s != nil && s.edge.to == nd {
				energy.entries = append(energy.entries, bookEntry{n.parts[i].qFace, -1})
			}
			if s := n.parts[i].past; s != nil && s.edge.to == nd {
				energy.entries = append(energy.entries, bookEntry{n.parts[i].qFace, -1})
			}
		}
		for _, q := range nd.work {
			energy.entries = append(energy.entries, bookEntry{q, -1})
		}
		for i := range n.Walls {
			if n.Walls[i].Node == Node(v) {
				energy.entries = append(energy.entries, bookEntry{n.wallQ[i] + wallIn, -1})
			}
		}
		out = append(out, mass, energy)
	}
	for i := range n.Walls {
		q := n.wallQ[i]
		entries := []bookEntry{{q + wallIn, 1}, {q + wallOut, -1}, {q + wallFault, 1}}
		for k := range n.Walls {
			if n.Walls[k].Beyond == i+1 {
				entries = append(entries, bookEntry{n.wallQ[k] + wallOut, 1})
			}
		}
		out = append(out, book{part: n.Walls[i].Name, kind: Energy,
			size:    func(float64) float64 { return n.Walls[i].HeatCapacity },
			entries: entries,
			content: func(n *Network, y []float64) float64 { return n.Walls[i].HeatCapacity * y[n.wallVar[i]] }})
	}
	for i := range n.Movers {
		p := &n.parts[i]
		b := book{part: n.Movers[i].Name, kind: Work,
			size:    func(float64) float64 { return n.pressing(i) },
			content: func(n *Network, y []float64) float64 { return n.Stored(i, y) },
			entries: []bookEntry{{p.qPull, 1}, {p.qLoad, -1}, {p.qDamp, -1}, {p.qFriction, -1}, {p.qImpact, -1}, {p.qFault, 1}}}
		for _, f := range p.faces {
			b.entries = append(b.entries, bookEntry{n.nodes[f.node].work[f.at], 1})
		}
		if p.seat != nil || p.past != nil {
			b.entries = append(b.entries, bookEntry{p.qFace, 1})
		}
		out = append(out, b)
	}
	return out
}

// closing follows the residuals of one way of closing the books.
type closing struct {
	books []book
	start []float64 // content of each account at the start
	last  []float64 // quadratures at the last look
	gross []float64 // turned over, of each quadrature
	gain  []float64 // of each quadrature
	worst []float64 // largest difference of each account so far
}

func newClosing(n *Network, y, q []float64) *closing {
	b := n.books()
	c := &closing{books: b, start: make([]float64, len(b)), worst: make([]float64, len(b)),
		last: append([]float64(nil), q...), gross: make([]float64, len(q)), gain: make([]float64, len(q))}
	for i := range b {
		c.start[i] = b[i].content(n, y)
	}
	return c
}

// add enters what the quadrature gained since the last look.
func (c *closing) add(q int, gain float64) {
	c.gain[q] += gain
	c.gross[q] += math.Abs(gain)
}

// upTo enters the values that the quadratures have reached.
func (c *closing) upTo(q []float64) {
	for i, v := range q {
		c.gross[i] += math.Abs(v - c.last[i])
		c.gain[i] += v - c.last[i]
		c.last[i] = v
	}
}

// look compares contents and books at a moment.
func (c *closing) look(n *Network, y []float64) {
	for i := range c.books {
		off := c.books[i].content(n, y) - c.start[i]
		for _, e := range c.books[i].entries {
			off -= e.sign * c.gain[e.q]
		}
		c.worst[i] = math.Max(c.worst[i], math.Abs(off))
	}
}

// residual is the worst that look has seen of account i, by the part's size.
func (c *closing) residual(i int) float64 {
	b := &c.books[i]
	turned := 0.0
	for _, e := range b.entries {
		turned += c.gross[e.q]
	}
	if c.worst[i] == 0 {
		return 0 // and nothing may have been turned over
	}
	return c.worst[i] / math.Max(turned, b.size(c.start[i]))
}

// ByStateOnly closes the books by the quadratures alone, between two states
// of a run without a trajectory. first and last are the networks in force at
// either; throughput that went both ways counts only as far as it did not
// cancel, which makes the residual no smaller.
func ByStateOnly(first, last *Network, start, end sim.State) *Audit {
	c := newClosing(first, start.Y, start.Q)
	c.upTo(end.Q)
	c.look(last, end.Y)
	a := &Audit{}
	for i, b := range c.books {
		a.Accounts = append(a.Accounts, Account{Part: b.part, Kind: b.kind, ByState: c.residual(i), ByFlow: math.NaN()})
	}
	return a
}
