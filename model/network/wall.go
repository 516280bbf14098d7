package network

import (
	"math"

	"underdisc/model/fluid/water"
)

// Wall is a mass of one temperature Tw beside a volume. What it takes from the
// fluid is
//
//	q = c ((Inside + Driven f(W)) (T - Tw) + Wet (Tm - Tw) wetted), Tm = min(T, Tsat(p))
//
// Inside is the film of a gas at rest times its area. Driven is what a flow
// adds when it is DrivenAt: films of turbulent flow in pipes go with its power
// 0.8 (Dittus and Boelter, Nu = 0.023 Re^0.8 Pr^0.4; any text on heat transfer),
// f(W) = (W/DrivenAt)^0.8, level at no flow. Wet is the film while steam
// condenses on the wall (Tm above Tw, wetted = 1) or while water on it boils
// off (Tm below Tw, wetted = 1 - exp(-volume of water/WetBy)); zero for a gas.
// In an open pipe that the wall cools, air keeps the steam off it, by its share of
// the gas, and does not condense: a the share of air in the mass, x the quality,
// w the share of water in the volume,
//
//	q = s q(all films) + k q(Inside + Driven)
//	s = 1 - a/x, k = a/x w           while a < x
//	s = 0,       k = w (1 - a)/(1 - x) beyond
//
// so what is under water feels the water, as it cools, and where the "gas" is air
// alone nothing condenses: the water that stands for condensed air (a - x of the
// mass) is none. Elsewhere s is 1 and k 0.
// What it gives off, Outside (Tw - T'), goes to another wall, or to
// surroundings at Ambient.
type Wall struct {
	Name         string
	Node         Node
	HeatCapacity float64 // J/K
	Inside       float64 // W/K
	Driven       float64 // W/K
	DrivenAt     float64 // kg/s
	Flow         int     // one more than the index of the flow that drives it, 0: none
	Wet          float64 // W/K
	WetBy        float64 // m3
	Outside      float64 // W/K
	Beyond       int     // one more than the index of the other wall, 0: surroundings
	Ambient      float64 // K
	Start        float64 // K
}

// Quadratures of a wall, from its first.
const (
	wallIn = iota
	wallOut
	wallFault
)

// film is the heat that a wall takes from its node, with slopes.
type film struct {
	q, wall                     float64 // W; by Tw
	byT, byP, byWet             float64 // by T and p of the fluid; by the water's volume
	byX, byAir, byWater, byFlow float64 // by quality, air, share of water in the volume; by the flow
}

// film is the heat into wall i.
func (n *Network) film(i int, y []float64) film {
	w := &n.Walls[i]
	nd := n.node(w.Node)
	tw, t := y[n.wallVar[i]], nd.st.T
	dry := w.Inside
	f := film{}
	if w.Flow > 0 {
		share, slope := w.driven(n.edges[w.Flow-1].w)
		dry += w.Driven * share
		f.byFlow = w.Driven * slope * (t - tw)
	}
	f.q, f.wall, f.byT = dry*(t-tw), -dry, dry
	alone := f
	if w.Wet > 0 && nd.water != nil {
		n.wet(w, nd, tw, &f)
	}
	if nd.air >= 0 && f.q > 0 {
		f.share(&alone, nd.airShare(y), nd.st.X, nd.liquid()/nd.vol)
	}
	return f
}

// share is what air and water leave of a film: all films, and the dry ones alone.
func (f *film) share(dry *film, a, x, w float64) {
	if a <= 0 {
		return // no air, or less than none by rounding
	}
	var s, k float64
	if a < x {
		s, k = 1-a/x, a/x*w
		f.byX = (f.q - dry.q*w) * a / (x * x)
		f.byAir = (dry.q*w - f.q) / x
		f.byWater = dry.q * a / x
	} else {
		r := (1 - a) / (1 - x)
		k = w * r
		f.byX, f.byAir, f.byWater = dry.q*k/(1-x), -dry.q*w/(1-x), dry.q*r
		if x >= 1 {
			k, f.byX, f.byAir, f.byWater = 0, 0, 0, 0
		}
	}
	f.q = s*f.q + k*dry.q
	f.wall = s*f.wall + k*dry.wall
	f.byT = s*f.byT + k*dry.byT
	f.byP *= s
	f.byWet *= s
	f.byFlow = s*f.byFlow + k*dry.byFlow
}

// driven is f(W) and its slope. Below a thousandth of DrivenAt it is rounded
// off to a parabola, so that it has a slope.
func (w *Wall) driven(flow float64) (share, slope float64) {
	const round = 1e-3
	const floor = 0.003981071705534973 // round^0.8
	r := flow / w.DrivenAt
	q := r*r + round*round
	p := math.Exp(0.4 * math.Log(q)) // faster than Pow
	return p - floor, 0.8 * p / q * r / w.DrivenAt
}

// wet adds condensation and boiling.
func (n *Network) wet(w *Wall, nd *node, tw float64, f *film) {
	st := &nd.st
	tm, byT, byP := st.T, 1.0, 0.0
	if st.X >= 1 {
		if ts, slope := nd.water.SaturatedT(st.P); ts < tm {
			tm, byT, byP = ts, 0, slope
		}
	}
	wetted, byVolume := 1.0, 0.0
	if tm < tw {
		volume := nd.liquid()
		e := math.Exp(-volume / w.WetBy)
		wetted, byVolume = 1-e, e/w.WetBy
	}
	f.q += w.Wet * wetted * (tm - tw)
	f.wall -= w.Wet * wetted
	f.byT += w.Wet * wetted * byT
	f.byP += w.Wet * wetted * byP
	f.byWet = w.Wet * byVolume * (tm - tw)
}

// liquid is the volume of the water in a node, m3.
func (nd *node) liquid() float64 {
	switch {
	case nd.st.X >= 1:
		return 0
	case nd.st.X <= 0:
		return nd.vol
	}
	var sat water.Saturation
	nd.water.Saturated(nd.st.T, &sat)
	return nd.mass * (sat.Vg - nd.st.V) / (sat.Vg - sat.Vl) * sat.Vl
}

// liquidSlopes are the slopes of liquid by specific volume, energy and mass.
func (nd *node) liquidSlopes() (v, u, m float64) {
	if nd.st.X >= 1 || nd.st.X <= 0 {
		return 0, 0, 0
	}
	var sat water.Saturation
	nd.water.Saturated(nd.st.T, &sat)
	d := sat.Vg - sat.Vl
	share := (sat.Vg - nd.st.V) / d // of water, by mass
	byT := nd.mass * (sat.Vl*(sat.VgT-share*(sat.VgT-sat.VlT))/d + share*sat.VlT)
	return byT*nd.st.Tv - nd.mass*sat.Vl/d, byT * nd.st.Tu, share * sat.Vl
}

// qualitySlopes are the slopes of the quality by specific volume and energy.
func (nd *node) qualitySlopes() (v, u float64) {
	if nd.st.X >= 1 || nd.st.X <= 0 {
		return 0, 0
	}
	var sat water.Saturation
	nd.water.Saturated(nd.st.T, &sat)
	d := sat.Vg - sat.Vl
	byT := -(sat.VlT + nd.st.X*(sat.VgT-sat.VlT)) / d
	return 1/d + byT*nd.st.Tv, byT * nd.st.Tu
}

// loss is the heat that wall i gives off outwards, W.
func (n *Network) loss(i int, y []float64) float64 {
	w := &n.Walls[i]
	to := w.Ambient
	if w.Beyond > 0 {
		to = y[n.wallVar[w.Beyond-1]]
	}
	return w.Outside * (y[n.wallVar[i]] - to)
}

func (n *Network) wallRates(y, dy, dq []float64) {
	for i := range n.Walls {
		w := &n.Walls[i]
		k := n.wallVar[i]
		in, out := n.film(i, y).q, n.loss(i, y)
		dy[n.node(w.Node).u] -= in
		dy[k] += (in - out) / w.HeatCapacity
		if w.Beyond > 0 {
			dy[n.wallVar[w.Beyond-1]] += out / n.Walls[w.Beyond-1].HeatCapacity
		}
		if len(dq) > 0 {
			q := n.wallQ[i]
			dq[q+wallIn], dq[q+wallOut], dq[q+wallFault] = in, out, 0
		}
	}
}

// compileWall hands out the Jacobian's places of wall i: heat in on energy,
// temperature and ledger, each over the wall, the node's columns and its air;
// then heat out.
func (n *Network) compileWall(i int, s *slots, nv int) []int32 {
	w := &n.Walls[i]
	v, nd := n.wallVar[i], n.node(w.Node)
	var j []int32
	for _, r := range []int{nd.u, v, nv + n.wallQ[i]} {
		j = append(j, s.at(r, v))
		for _, c := range nd.cols {
			j = append(j, s.at(r, c))
		}
		if nd.air >= 0 {
			j = append(j, s.at(r, nd.air))
		}
	}
	if w.Flow > 0 {
		e := &n.edges[w.Flow-1]
		for _, r := range []int{nd.u, v, nv + n.wallQ[i]} {
			for _, c := range e.cols[:e.plain] {
				j = append(j, s.at(r, c))
			}
		}
	}
	j = append(j, s.at(nv+n.wallQ[i]+wallOut, v))
	if w.Beyond > 0 {
		b := n.wallVar[w.Beyond-1]
		j = append(j, s.at(nv+n.wallQ[i]+wallOut, b), s.at(v, b), s.at(b, v), s.at(b, b))
	}
	return j
}

func (n *Network) wallJacobian(y, j []float64) {
	for i := range n.Walls {
		w := &n.Walls[i]
		nd := n.node(w.Node)
		f := n.film(i, y)
		jw := n.wallJac[i]
		k := len(nd.cols) + 1
		if nd.air >= 0 {
			k++
		}
		ic := 1 / w.HeatCapacity
		enter := func(c int, d float64) {
			j[jw[c]] -= d
			j[jw[k+c]] += d * ic
			j[jw[2*k+c]] += d
		}
		enter(0, f.wall)
		var lv, lu, lm float64
		if f.byWet != 0 || f.byWater != 0 {
			lv, lu, lm = nd.liquidSlopes()
		}
		var xv, xu float64
		if f.byX != 0 {
			xv, xu = nd.qualitySlopes()
		}
		water := f.byWater / nd.vol // by the volume of the water
		for c := range nd.cols {
			d := f.byT*nd.dT[c] + f.byP*nd.dp[c] + (f.byWet+water)*(lv*nd.dv[c]+lu*nd.du[c])
			switch {
			case c == 0:
				d += (f.byWet + water) * lm
				if nd.air >= 0 {
					d -= f.byAir * nd.airShare(y) / nd.mass
				}
			case c >= 2 && water != 0:
				d -= water * nd.liquid() / nd.vol * nd.faces[c-2].area
			}
			d += f.byX * (xv*nd.dv[c] + xu*nd.du[c])
			enter(1+c, d)
		}
		if nd.air >= 0 {
			enter(k-1, f.byAir/nd.mass)
		}
		out := jw[3*k:]
		if w.Flow > 0 {
			e := &n.edges[w.Flow-1]
			for c, dw := range e.dw[:e.plain] {
				d := f.byFlow * dw
				j[out[c]] -= d
				j[out[e.plain+c]] += d * ic
				j[out[2*e.plain+c]] += d
			}
			out = out[3*e.plain:]
		}
		j[out[0]] += w.Outside
		j[jw[k]] -= w.Outside * ic
		if w.Beyond > 0 {
			ib := 1 / n.Walls[w.Beyond-1].HeatCapacity
			j[out[1]] -= w.Outside
			j[out[2]] += w.Outside * ic
			j[out[3]] += w.Outside * ib
			j[out[4]] -= w.Outside * ib
		}
	}
}
