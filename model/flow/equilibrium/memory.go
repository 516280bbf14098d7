package equilibrium

import (
	"math"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// memory is the law with the last upstream state kept: a seat asks for one
// inlet's flux at many pressures, and a plant for the same state more than once.
// Its answers are those of the law.
type memory struct {
	*Nozzle
	v, u, p float64 // of the state
	x       float64
	in      inlet
	scale   float64
	t       throat  // of this inlet, if known
	choked  float64 // the flux there
	known   bool
}

var _ flow.Rememberer = (*Nozzle)(nil)

// Remembering implements flow.Rememberer.
func (n *Nozzle) Remembering() flow.Law { return &memory{Nozzle: n} }

// Flux implements flow.Law.
func (m *memory) Flux(up *fluid.State, down float64) float64 {
	if !(up.P > 0 && down >= 0) {
		return math.NaN() // no state
	}
	if up.V != m.v || up.U != m.u || up.P != m.p || up.X != m.x {
		m.v, m.u, m.p, m.x = up.V, up.U, up.P, up.X
		m.in = inlet{}
		m.enter(up, &m.in, nil)
		m.scale, m.known = up.P/m.in.p, false
	}
	in, scale := &m.in, m.scale
	pd := down / scale
	if !m.known {
		m.throat(in, pd, &m.t)
		if m.t.p > 0 {
			m.known, m.choked = true, m.reach(in, &m.t.spot)
		}
	}
	if m.known && !(pd > m.t.p) {
		return scale * m.choked
	}
	var at spot
	z := 1 - pd/in.p
	if z >= linearBelow {
		return scale * m.reach(in, m.place(in, pd, &at))
	}
	pl, zl := in.p*(1-linearBelow), linearBelow
	var g float64
	if m.known && m.t.p > pl {
		zl = 1 - m.t.p/in.p
		g = m.choked
	} else {
		g = m.reach(in, m.place(in, pl, &at))
	}
	y := z / zl
	return scale * g * y * (1.25 - 0.25*y*y)
}
