// Package fluid holds equations of state. Every fluid is asked for in the
// variables of the balances, specific volume v and specific internal energy u.
package fluid

import "math"

// State is a fluid at one (v, u), with the derivatives that a Jacobian needs.
type State struct {
	V, U   float64 // specific volume, m3/kg; specific internal energy, J/kg
	P      float64 // pressure, Pa
	T      float64 // temperature, K
	H      float64 // specific enthalpy u + p v, J/kg
	Pv, Pu float64 // dp/dv at constant u, dp/du at constant v
	Tv, Tu float64
	Hv, Hu float64
	// X is the mass share of vapour: 1 in a gas and in steam, 0 in water, in
	// between where both are in equilibrium.
	X float64
}

// Fluid is an equation of state. Outside its domain (v or u not positive) it
// yields NaN, which makes an integration step be refused.
type Fluid interface {
	At(v, u float64, s *State)
}

// Gas is a calorically perfect gas: p v = R T, u = R T/(gamma - 1),
// h = gamma u; internal energy zero at 0 K. Air near room temperature obeys it
// within 1 % in density up to 20 bar and in cp from 250 to 400 K.
type Gas struct {
	Gamma     float64 // cp/cv
	R         float64 // J/(kg K)
	Viscosity float64 // Pa s, constant
}

// At implements Fluid.
func (g *Gas) At(v, u float64, s *State) {
	if !(v > 0 && u > 0) {
		v = math.NaN()
	}
	g1 := g.Gamma - 1
	s.V, s.U = v, u
	s.Pu = g1 / v
	s.P = s.Pu * u
	s.Pv = -s.P / v
	s.Tu = g1 / g.R
	s.T = s.Tu*u + 0*v
	s.Tv = 0
	s.H = g.Gamma*u + 0*v
	s.Hv, s.Hu = 0, g.Gamma
	s.X = 1
}

// Cp is the specific heat at constant pressure, J/(kg K).
func (g *Gas) Cp() float64 { return g.Gamma * g.R / (g.Gamma - 1) }

// Energy is the specific internal energy at a temperature, J/kg.
func (g *Gas) Energy(t float64) float64 { return g.R * t / (g.Gamma - 1) }

// Volume is the specific volume at pressure and temperature, m3/kg.
func (g *Gas) Volume(p, t float64) float64 { return g.R * t / p }
