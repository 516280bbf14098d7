package fluid

import "math"

// ThermalGas is a gas without forces between its molecules, p v = R T, whose
// heat capacity depends on the temperature. Internal energy follows cp - R from
// Coldest to Hottest; colder and hotter the heat capacity stays what it is at
// these ends, and internal energy is zero at 0 K.
//
// Within its range it is what the gas tends to at low pressure. Of air near
// room temperature it keeps the density within 1 % up to 20 bar; cp itself
// rises with pressure, by 0.16 % a bar at 300 K.
type ThermalGas struct {
	Name             string
	R                float64 // J/(kg K)
	Coldest, Hottest float64 // K, the range of the heat capacity
	capacity         HeatCapacity
	collisions       Collisions
	cold, hot        float64 // cp/R at the ends
	h0, s0           float64 // what makes internal energy zero at 0 K, the integrals at the ends
	hotH, hotS       float64
	firstU, perU     float64 // row = (u - firstU) perU
	rows             []energyRow
}

// energyRow is a cubic in the part of the step in u: t = c0 + x(c1 + ...).
type energyRow [4]float64

// energyRows of them over some 2,000 K: T agrees with the integral's inverse to
// a few 1e-9 K (tested).
const energyRows = 600

// NewThermalGas makes a gas of that gas constant, J/(kg K), from cp/R between
// two temperatures, and what its viscosity follows from.
func NewThermalGas(name string, r float64, c HeatCapacity, coldest, hottest float64, k Collisions) *ThermalGas {
	g := &ThermalGas{Name: name, R: r, Coldest: coldest, Hottest: hottest, capacity: c, collisions: k,
		cold: c.Cp(coldest), hot: c.Cp(hottest)}
	g.h0 = g.cold*coldest - c.Enthalpy(coldest)
	g.s0 = g.cold*math.Log(coldest) - c.Entropy(coldest)
	g.hotH = c.Enthalpy(hottest) + g.h0
	g.hotS = c.Entropy(hottest) + g.s0
	first, last := g.Energy(coldest), g.Energy(hottest)
	step := (last - first) / energyRows
	g.firstU, g.perU = first, 1/step
	g.rows = make([]energyRow, energyRows)
	t := coldest
	inverse := func(u float64) float64 {
		for range 20 {
			d := (u - g.Energy(t)) / (g.Cp(t) - g.R)
			t += d
			if math.Abs(d) < 1e-12*t {
				break
			}
		}
		return t
	}
	t0, m0 := coldest, step/(g.Cp(coldest)-r)
	for i := range g.rows {
		t1 := inverse(first + step*float64(i+1))
		m1 := step / (g.Cp(t1) - r)
		d := t1 - t0
		g.rows[i] = energyRow{t0, m0, 3*d - 2*m0 - m1, m0 + m1 - 2*d}
		t0, m0 = t1, m1
	}
	return g
}

// Temperature is T and dT/du at a specific internal energy.
func (g *ThermalGas) Temperature(u float64) (t, slope float64) {
	x := (u - g.firstU) * g.perU
	switch {
	case x < 0:
		slope = 1 / ((g.cold - 1) * g.R)
		return u * slope, slope
	case x < energyRows:
		i := int(x)
		x -= float64(i)
		c := &g.rows[i]
		return c[0] + x*(c[1]+x*(c[2]+x*c[3])), (c[1] + x*(2*c[2]+3*x*c[3])) * g.perU
	default: // also NaN
		slope = 1 / ((g.hot - 1) * g.R)
		return g.Hottest + (u-g.firstU-energyRows/g.perU)*slope, slope
	}
}

// At implements Fluid.
func (g *ThermalGas) At(v, u float64, s *State) {
	if !(v > 0 && u > 0) {
		v, u = math.NaN(), math.NaN()
	}
	s.V, s.U = v, u
	t, tu := g.Temperature(u)
	rho := g.R / v
	s.T, s.Tv, s.Tu = t, 0, tu
	s.P, s.Pv, s.Pu = rho*t, -rho*t/v, rho*tu
	s.H, s.Hv, s.Hu = u+g.R*t, 0, 1+g.R*tu
	s.X = 1
}

// Cp is the specific heat at constant pressure at a temperature, J/(kg K).
func (g *ThermalGas) Cp(t float64) float64 {
	return g.R * g.capacity.Cp(min(max(t, g.Coldest), g.Hottest))
}

// Gamma is cp/cv at a temperature.
func (g *ThermalGas) Gamma(t float64) float64 { return g.Cp(t) / (g.Cp(t) - g.R) }

// Sound is the speed of sound at a temperature, m/s.
func (g *ThermalGas) Sound(t float64) float64 { return math.Sqrt(g.Gamma(t) * g.R * t) }

// Enthalpy is the specific enthalpy at a temperature, J/kg.
func (g *ThermalGas) Enthalpy(t float64) float64 {
	switch {
	case t < g.Coldest:
		return g.R * g.cold * t
	case t > g.Hottest:
		return g.R * (g.hotH + g.hot*(t-g.Hottest))
	}
	return g.R * (g.capacity.Enthalpy(t) + g.h0)
}

// Entropy is the specific entropy at a temperature along a line of constant
// pressure, J/(kg K), up to a constant.
func (g *ThermalGas) Entropy(t float64) float64 {
	switch {
	case t < g.Coldest:
		return g.R * g.cold * math.Log(t)
	case t > g.Hottest:
		return g.R * (g.hotS + g.hot*math.Log(t/g.Hottest))
	}
	return g.R * (g.capacity.Entropy(t) + g.s0)
}

// Energy is the specific internal energy at a temperature, J/kg.
func (g *ThermalGas) Energy(t float64) float64 { return g.Enthalpy(t) - g.R*t }

// Volume is the specific volume at pressure and temperature, m3/kg.
func (g *ThermalGas) Volume(p, t float64) float64 { return g.R * t / p }
