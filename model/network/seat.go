package network

import (
	"math"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// seat is a flow through curtain and bore in series, and the pressure between
// them, which acts on the face of the part that opens it.
type seat struct {
	edge  *edge
	law   flow.Seat
	flux  flow.SeatFlux
	face  float64 // Pa
	at    float64 // position that it was found for
	fresh bool
	dface []float64 // by the flow's columns
}

func newSeat(e *edge, void fluid.Voider) *seat {
	return &seat{edge: e, law: flow.Seat{Law: e.law, Voider: void}, dface: make([]float64, len(e.cols))}
}

// curtain is the curtain's area over the bore's.
func (o *Opening) curtain(x float64) float64 { return math.Pi * o.Diameter * x / o.Bore }

// forward tells whether the flow goes from the curtain to the bore. Against it
// the seat is taken as two orifices at small differences of pressure, as
// Opening.at and the part's shape have it; both agree where the flow turns.
func (s *seat) forward() bool { return s.edge.from.st.P >= s.edge.to.st.P }

// flow fills mass and energy flow of its edge with the part at x.
func (s *seat) flow(e *edge, x float64) {
	s.fresh, s.at = true, x
	o := e.opening
	if !s.forward() {
		up := e.in.st
		e.w = -e.area * e.law.Flux(up, e.from.st.P)
		e.h = e.w * up.H
		return
	}
	up := e.out.st
	e.w = 0
	if o.Leak > 0 {
		e.w = o.Leak * e.law.Flux(up, e.to.st.P)
	}
	var g float64
	g, s.face = s.law.Flux(up, e.to.st.P, o.curtain(x))
	e.w += o.Cd * o.Bore * g
	e.h = e.w * up.H
}

// excess is the force on the part's face beyond what its shape gives, N:
// bore (face - (phi pA + (1 - phi) pT)).
func (s *seat) excess(p *part) float64 {
	if p.pos == 0 || !s.forward() {
		return 0
	}
	e := s.edge
	if !s.fresh || s.at != p.pos {
		_, s.face = s.law.Flux(e.out.st, e.to.st.P, e.opening.curtain(p.pos))
		s.fresh, s.at = true, p.pos
	}
	return e.opening.Bore * (s.face - (p.phi*e.from.st.P + (1-p.phi)*e.to.st.P))
}

// slopes fills the slopes of the flow and of the face, and returns the flow.
func (s *seat) slopes(e *edge, x float64) float64 {
	o, up, fx := e.opening, e.out, &s.flux
	clear(s.dface)
	w := 0.0
	if o.Leak > 0 {
		var leak flow.Flux
		e.law.FluxSlopes(up.st, e.to.st.P, &leak)
		w = o.Leak * leak.G
		for c, at := range e.fromAt {
			e.dw[at] += o.Leak * (leak.Gv*up.dv[c] + leak.Gu*up.du[c])
		}
		for c, at := range e.toAt {
			e.dw[at] += o.Leak * leak.Gp * e.to.dp[c]
		}
	}
	s.law.FluxSlopes(up.st, e.to.st.P, o.curtain(x), fx)
	a := o.Cd * o.Bore
	for c, at := range e.fromAt {
		e.dw[at] += a * (fx.Gv*up.dv[c] + fx.Gu*up.du[c])
		s.dface[at] += fx.Facev*up.dv[c] + fx.Faceu*up.du[c]
	}
	for c, at := range e.toAt {
		e.dw[at] += a * fx.Gp * e.to.dp[c]
		s.dface[at] += fx.Facep * e.to.dp[c]
	}
	da := math.Pi * o.Diameter / o.Bore
	e.dw[e.partAt] += a * fx.Ga * da
	s.dface[e.partAt] += fx.Facea * da
	s.face, s.fresh, s.at = fx.Face, true, x
	return w + a*fx.G
}

// compileFace hands out the Jacobian's places of the face's force: on the
// part's speed, on the energy downstream and in the ledger.
func (p *part) compileFace(l *slots, nv int, e *edge) {
	row := func(r int, speed bool) {
		for _, c := range e.cols[:e.plain] {
			p.jFace = append(p.jFace, l.at(r, c))
		}
		if speed {
			p.jFace = append(p.jFace, l.at(r, p.v))
		}
	}
	row(p.v, false)
	row(nv+p.qFace, true)
	if !e.to.fixed {
		row(e.to.u, true)
	}
}

// jacobian enters the slopes of the face's force and of its work.
func (s *seat) jacobian(p *part, v, im float64, j []float64) {
	if !s.forward() {
		return
	}
	e := s.edge
	bore := e.opening.Bore
	d := s.dface[:e.plain]
	// From here on the slopes of the excess.
	for c := range d {
		d[c] *= bore
	}
	for c, at := range e.fromAt {
		d[at] -= bore * p.phi * e.from.dp[c]
	}
	for c, at := range e.toAt {
		d[at] -= bore * (1 - p.phi) * e.to.dp[c]
	}
	d[e.partAt] -= bore * p.dphi * (e.from.st.P - e.to.st.P)
	force := s.excess(p)
	k := len(d)
	jq := p.jFace[k:]
	for c, g := range d {
		j[p.jFace[c]] += g * im
		j[jq[c]] += g * v
	}
	j[jq[k]] += force
	if e.to.fixed {
		return
	}
	ju := jq[k+1:]
	for c, g := range d {
		j[ju[c]] -= g * v
	}
	j[ju[k]] -= force
}
