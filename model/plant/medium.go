package plant

import (
	"math"
	"sync"

	"underdisc/model/flow"
	"underdisc/model/flow/equilibrium"
	"underdisc/model/fluid"
	"underdisc/model/fluid/viscosity"
	"underdisc/model/fluid/water"
)

// Medium is what fills a plant: a fluid, and the laws by which it flows.
type Medium struct {
	Fluid  fluid.Fluid
	Gas    fluid.Gas         // an ideal gas
	Warm   *fluid.ThermalGas // a gas whose heat capacity varies, else nil
	Water  *water.Water      // of steam and water, else nil
	Void   fluid.Voider      // of steam and water, else nil
	Nozzle flow.Law
	gap    func(d, c, l float64) flow.Law
}

// mediumOf makes the plant's fluid. The plant must have passed Check.
func mediumOf(p *Plant) Medium {
	if q := p.OfKind("ideal-gas"); q != nil {
		s := q[0].Spec.(*Gas)
		g := fluid.Gas{Gamma: s.HeatCapacityRatio, R: s.GasConstant, Viscosity: s.Viscosity}
		return Medium{Fluid: &g, Gas: g, Nozzle: flow.NewNozzle(&g),
			gap: func(d, c, l float64) flow.Law { return flow.NewClearance(&g, d, c, l) }}
	}
	if q := p.OfKind("thermal-gas"); q != nil {
		g := fluid.Air()
		if q[0].Spec.(*ThermalGas).Substance == "nitrogen" {
			g = fluid.Nitrogen()
		}
		return Medium{Fluid: g, Warm: g, Nozzle: flow.NewThermalNozzle(g),
			gap: func(d, c, l float64) flow.Law { return flow.NewClearance(g, d, c, l) }}
	}
	w, mu := water.Shared(), thickness()
	return Medium{Fluid: w, Water: w, Void: mu, Nozzle: equilibrium.Shared(),
		gap: func(d, c, l float64) flow.Law { return flow.NewClearance(mu, d, c, l).Turbulent() }}
}

// thickness is the viscosity of steam and water, made on first use.
var thickness = sync.OnceValue(viscosity.NewSteam)

// start is specific volume and energy at a pressure and temperature; of water,
// of dry saturated steam at the pressure.
func (m *Medium) start(p, t float64) (v, u float64, err error) {
	if m.Water != nil {
		return m.Water.PX(p, 1)
	}
	if m.Warm != nil {
		return m.Warm.Volume(p, t), m.Warm.Energy(t), nil
	}
	return m.Gas.Volume(p, t), m.Gas.Energy(t), nil
}

// drum is the mean specific volume and energy of a drum at the start.
func (m *Medium) drum(d *Drum) (v, u float64, err error) {
	t, _ := m.Water.SaturatedT(d.Pressure)
	var s water.Saturation
	m.Water.Saturated(t, &s)
	switch {
	case d.WaterShare < 1 && d.Superheat > 0 || d.WaterShare == 1 && d.Superheat < 0:
		return m.Water.PT(d.Pressure, t+d.Superheat)
	}
	// Densities and energies per volume add by shares of the volume.
	rho := d.WaterShare/s.Vl + (1-d.WaterShare)/s.Vg
	return 1 / rho, (d.WaterShare*s.Ul/s.Vl + (1-d.WaterShare)*s.Ug/s.Vg) / rho, nil
}

// outlet is what a line from a drum is full of at the start: steam, or water
// if the drum holds nothing else.
func (m *Medium) outlet(d *Drum) (v, u float64, err error) {
	if d.WaterShare == 1 || d.WaterShare == 0 {
		return m.drum(d)
	}
	return m.Water.PX(d.Pressure, 1)
}

// enthalpy of what flows in at a pressure and temperature.
func (m *Medium) enthalpy(p, t float64) (float64, error) {
	switch {
	case m.Warm != nil:
		return m.Warm.Enthalpy(t), nil
	case m.Water == nil:
		return m.Gas.Cp() * t, nil
	}
	v, u, err := m.Water.PT(p, t)
	return u + p*v, err
}

// law is the nozzle's law for one flow.
func (m *Medium) law() flow.Law {
	if r, ok := m.Nozzle.(flow.Rememberer); ok {
		return r.Remembering()
	}
	return m.Nozzle
}

// At is the state at a specific volume and energy.
func (m *Medium) At(v, u float64, s *fluid.State) {
	switch {
	case m.Water != nil:
		m.Water.At(v, u, s)
	case m.Warm != nil:
		m.Warm.At(v, u, s)
	default:
		m.Gas.At(v, u, s)
	}
}

// Throttle gives in s the state at pressure p and the enthalpy of another: what
// it is after an opening in which it neither worked nor exchanged heat. NaN
// where the fluid has no such state.
func (m *Medium) Throttle(from *fluid.State, p float64, s *fluid.State) {
	if m.Water == nil {
		m.At(from.V*from.P/p, from.U, s) // a gas keeps its temperature
		return
	}
	v, u, ok := m.Water.PH(p, from.H, from)
	if !ok {
		v = math.NaN()
	}
	m.Water.At(v, u, s)
}
