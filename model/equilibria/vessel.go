package equilibria

import (
	"math"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
)

// vessel is what a valve draws from a vessel that is at rest at some pressure.
// Gas, and water or steam of one phase, keep the temperature that the vessel
// starts with; what is wet keeps its share of water.
type vessel struct {
	m     *plant.Model
	t     float64 // K; 0: saturated
	share float64 // of the volume that is water
	start float64 // Pa
}

func newVessel(m *plant.Model, name, draws string) vessel {
	v := vessel{m: m}
	if s, ok := plant.Spec[plant.Vessel](m.Plant, name); ok {
		v.start = s.Pressure
		if m.Water == nil {
			v.t = s.Temperature
		}
		return v
	}
	d, _ := plant.Spec[plant.Drum](m.Plant, name)
	v.start = d.Pressure
	ts, _ := m.Water.SaturatedT(d.Pressure)
	switch {
	case d.WaterShare == 0 && d.Superheat > 0 || d.WaterShare == 1 && d.Superheat < 0:
		v.t = ts + d.Superheat
	case d.WaterShare == 1 || d.WaterShare > 0 && draws == "water":
		v.share = 1
	case draws == "all":
		v.share = d.WaterShare
	}
	return v
}

// at fills s with what is drawn at the pressure p; NaN where the fluid has no
// such state.
func (w *vessel) at(p float64, s *fluid.State) {
	m := w.m
	var v, u float64
	var err error
	switch {
	case !(p > 0):
		v = math.NaN()
	case m.Warm != nil:
		v, u = m.Warm.Volume(p, w.t), m.Warm.Energy(w.t)
	case m.Water == nil:
		v, u = m.Gas.Volume(p, w.t), m.Gas.Energy(w.t)
	case w.t > 0:
		v, u, err = m.Water.PT(p, w.t)
	case w.share == 0 || w.share == 1:
		v, u, err = m.Water.PX(p, 1-w.share)
	default:
		v, u, err = w.mixture(p)
	}
	if err != nil {
		v = math.NaN()
	}
	if math.IsNaN(v) {
		*s = fluid.State{V: v, U: v, P: v, T: v, H: v}
		return
	}
	m.At(v, u, s)
}

// mixture is water and steam with that share of the volume.
func (w *vessel) mixture(p float64) (v, u float64, err error) {
	vl, ul, err := w.m.Water.PX(p, 0)
	if err != nil {
		return 0, 0, err
	}
	vg, ug, err := w.m.Water.PX(p, 1)
	rho := w.share/vl + (1-w.share)/vg
	return 1 / rho, (w.share*ul/vl + (1-w.share)*ug/vg) / rho, err
}

// law is the nozzle's law for one use.
func law(m *plant.Model) flow.Law {
	if r, ok := m.Nozzle.(flow.Rememberer); ok {
		return r.Remembering()
	}
	return m.Nozzle
}

// rate is what passes an opening of that area, in either direction. What comes
// back has the enthalpy of what went.
func rate(l flow.Law, m *plant.Model, up *fluid.State, down, area float64) float64 {
	switch {
	case area == 0:
		return 0
	case up.P >= down:
		return area * l.Flux(up, down)
	}
	var back fluid.State
	m.Throttle(up, down, &back)
	return -area * l.Flux(&back, up.P)
}
