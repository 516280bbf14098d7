package network

import (
	"underdisc/model/fluid"
	"underdisc/model/fluid/water"
)

// Draw says what a flow takes from a node in which water and steam lie apart:
// a nozzle at the top takes steam, a drain at the bottom water.
type Draw int8

const (
	All    Draw = iota // the mixture
	Steam              // steam, as long as there is any at the nozzle
	Liquid             // water
)

// drawBand is the share of the volume below which a phase no longer reaches a
// nozzle by itself: from there on the other phase is drawn along, smoothly,
// until at none left the mixture is what there is. The level in a drum heaves
// and foams by some hundredths of its volume; a choice without a source.
const drawBand = 0.05

// source is what flows out of a node by one kind of draw, with its slopes by
// the node's columns.
type source struct {
	st         *fluid.State
	dv, du, dh []float64
	same       bool // as the mixture, in the present state
	// of the drawn (v, u) by the mixture's (v, u)
	vv, vu, uv, uu float64
}

// source is the node's source of that kind, made if it is new.
func (nd *node) source(d Draw) *source {
	if nd.fixed || nd.water == nil || d == All {
		if nd.drawn[All] == nil {
			nd.drawn[All] = &source{st: &nd.st} // of a reservoir
		}
		return nd.drawn[All]
	}
	if nd.drawn[d] == nil {
		k := len(nd.cols)
		nd.drawn[d] = &source{st: new(fluid.State), dv: make([]float64, k), du: make([]float64, k), dh: make([]float64, k)}
	}
	return nd.drawn[d]
}

// draw fills the states of what is drawn; fully, also their own slopes.
func (nd *node) draw(fully bool) {
	if nd.drawn[Steam] == nil && nd.drawn[Liquid] == nil {
		return
	}
	one := nd.st.X <= 0 || nd.st.X >= 1
	var sat water.Saturation
	if !one {
		nd.water.Saturated(nd.st.T, &sat)
	}
	for d, s := range nd.drawn {
		if d == int(All) || s == nil {
			continue
		}
		s.same = one
		if one {
			*s.st = nd.st
			continue
		}
		s.separate(nd, &sat, Draw(d), fully)
	}
}

// separate finds the drawn state in a wet node: at the same temperature and
// pressure, of the quality
//
//	x + (1 - x) w(a/drawBand) for steam, x (1 - w((1 - a)/drawBand)) for water
//
// with a = x v”/v the share of the volume that is steam and w the cubic that
// goes from 0 at 0 to 1 at 1 with level ends.
func (s *source) separate(nd *node, sat *water.Saturation, d Draw, fully bool) {
	st := &nd.st
	dv := sat.Vg - sat.Vl
	x := (st.V - sat.Vl) / dv
	dvT := sat.VgT - sat.VlT
	xT := -(sat.VlT + x*dvT) / dv // at constant v
	xv, xu := 1/dv+xT*st.Tv, xT*st.Tu
	a := x * sat.Vg / st.V
	av := (xv*sat.Vg+x*sat.VgT*st.Tv)/st.V - a/st.V
	au := (xu*sat.Vg + x*sat.VgT*st.Tu) / st.V
	var q, qx, qa float64 // drawn quality, its slopes
	if d == Steam {
		w, ws := ramp(a / drawBand)
		q, qx, qa = x+(1-x)*w, 1-w, (1-x)*ws/drawBand
	} else {
		w, ws := ramp((1 - a) / drawBand)
		q, qx, qa = x*(1-w), 1-w, x*ws/drawBand
	}
	qv, qu := qx*xv+qa*av, qx*xu+qa*au
	du, duT := sat.Ug-sat.Ul, sat.UgT-sat.UlT
	v, u := sat.Vl+q*dv, sat.Ul+q*du
	vT, uT := sat.VlT+q*dvT, sat.UlT+q*duT
	s.vv, s.vu = vT*st.Tv+dv*qv, vT*st.Tu+dv*qu
	s.uv, s.uu = uT*st.Tv+du*qv, uT*st.Tu+du*qu
	if q == 1 && !fully {
		// Dry steam, of which the line tells all that a flow asks for.
		s.st.V, s.st.U, s.st.P, s.st.T, s.st.H, s.st.X = v, u, st.P, st.T, u+st.P*v, 1
		return
	}
	nd.water.At(v, u, s.st)
}

// ramp is 3 y^2 - 2 y^3 within 0..1, with its slope.
func ramp(y float64) (w, slope float64) {
	switch {
	case y <= 0:
		return 0, 0
	case y >= 1:
		return 1, 0
	}
	return y * y * (3 - 2*y), 6 * y * (1 - y)
}

// drawSlopes fills the slopes of what is drawn, those of the mixture known.
func (nd *node) drawSlopes() {
	for d, s := range nd.drawn {
		if d == int(All) || s == nil {
			continue
		}
		for c := range nd.cols {
			v, u := nd.dv[c], nd.du[c]
			if !s.same {
				v, u = s.vv*v+s.vu*u, s.uv*v+s.uu*u
			}
			s.dv[c], s.du[c] = v, u
			s.dh[c] = s.st.Hv*v + s.st.Hu*u
		}
	}
}

// airShare is the share of air in what leaves a node.
func (nd *node) airShare(y []float64) float64 {
	switch {
	case nd.fixed && !nd.pure:
		return 1
	case nd.air < 0:
		return 0
	}
	return y[nd.air] / y[nd.m]
}

// carryAir moves air along with the flow.
func (e *edge) carryAir(y, dy []float64) {
	if e.head > 0 {
		return // water
	}
	up := e.from
	if e.w < 0 {
		up = e.to
	}
	w := e.w * up.airShare(y)
	if e.from.air >= 0 {
		dy[e.from.air] -= w
	}
	if e.to.air >= 0 {
		dy[e.to.air] += w
	}
}

// airSlopes fills the slopes of the flow of air.
func (e *edge) airSlopes(y []float64, w float64) {
	up, at, mass := e.from, e.fromAir, e.fromAt
	if w < 0 {
		up, at, mass = e.to, e.toAir, e.toAt
	}
	share := up.airShare(y)
	for c, d := range e.dw {
		e.da[c] = share * d
	}
	if up.air >= 0 {
		im := 1 / y[up.m]
		e.da[at] += w * im
		e.da[mass[0]] -= w * share * im
	}
}
