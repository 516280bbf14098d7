package flow_test

import (
	"math"

	"pgregory.net/rapid"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// brook is a liquid that does not shrink, with a pressure that rises with its
// energy, and the law of Torricelli with the nozzle's own cubic near zero: a
// liquid's law for the seat, simple enough to see through.
type brook struct{}

func (brook) At(v, u float64, s *fluid.State) {
	*s = fluid.State{V: v, U: u, P: u / v, T: 300, Pu: 1 / v, Pv: -u / v / v}
}

func (l brook) Flux(up *fluid.State, down float64) float64 {
	var f flow.Flux
	l.FluxSlopes(up, down, &f)
	return f.G
}

func (brook) FluxSlopes(up *fluid.State, down float64, f *flow.Flux) {
	const z0 = 1e-3
	z := 1 - down/up.P
	psi, slope := math.Sqrt(2*z), 0.0 // by z
	if z < z0 {
		t, top := z/z0, math.Sqrt(2*z0)
		psi, slope = top*(5*t-t*t*t)/4, top/z0*(5-3*t*t)/4
	} else {
		slope = 1 / psi
	}
	q := math.Sqrt(up.P / up.V)
	byP := q*psi/(2*up.P) + q*slope*down/(up.P*up.P)
	*f = flow.Flux{G: q * psi, Gp: -q * slope / up.P, Gv: byP*up.Pv - q*psi/(2*up.V), Gu: byP * up.Pu}
}

// foam is a law that says that a part of the volume is liquid, the more so the
// denser it is: for the exponent between liquid and gas and its slopes.
type foam struct {
	flow.Law
	half float64 // the volume that is half vapour
}

func (f foam) Void(s *fluid.State) (alpha, byV, byU float64) {
	d := s.V + f.half
	return s.V / d, f.half / (d * d), 0
}

// seatCase is a law, a fluid, an upstream state and what to do with it.
type seatCase struct {
	fluid interface {
		At(v, u float64, s *fluid.State)
	}
	law     flow.Law
	up      fluid.State
	down, a float64
	bore    func(p float64) fluid.State // same enthalpy, other pressure
}

// anySeat draws a gas or the brook, and openings from nearly shut to wide.
func anySeat(t *rapid.T) seatCase {
	a := math.Exp(rapid.Float64Range(math.Log(1e-4), math.Log(30)).Draw(t, "ln a"))
	if rapid.IntRange(0, 3).Draw(t, "liquid") == 0 {
		c := seatCase{fluid: brook{}, law: brook{}, a: a}
		p := rapid.Float64Range(1e5, 3e6).Draw(t, "p")
		brook{}.At(1e-3, p*1e-3, &c.up)
		c.down = c.up.P * rapid.Float64Range(0, 1).Draw(t, "r")
		c.bore = func(p float64) (s fluid.State) { brook{}.At(1e-3, p*1e-3, &s); return }
		return c
	}
	g := gasOf(rapid.Float64Range(1.05, 1.667).Draw(t, "gamma"))
	up, down := anyState(t, g)
	return seatCase{fluid: g, law: flow.NewNozzle(g), up: up, down: down, a: a,
		bore: func(p float64) fluid.State { return stateOf(g, p, up.T) }}
}
