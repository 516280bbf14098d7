package report

import (
	"fmt"
	"math"
	"strconv"

	"underdisc/model/plant"
)

// springColumn is one quantity of a spring-loaded valve in the trace. Forces are
// those of explain.SpringForces' snapshot, N, opening positive.
type springColumn struct {
	name  string // with its unit
	value func(v *plant.SpringState) float64
}

var springColumns = []springColumn{
	{"vessel_bar_abs", func(v *plant.SpringState) float64 { return v.Vessel * bar }},
	{"inlet_bar_abs", func(v *plant.SpringState) float64 { return v.Inlet * bar }},
	{"huddle_bar_abs", func(v *plant.SpringState) float64 { return v.Huddle * bar }},
	{"under_ring_bar_abs", func(v *plant.SpringState) float64 { return v.Under * bar }},
	{"outlet_bar_abs", func(v *plant.SpringState) float64 { return v.Outlet * bar }},
	{"lift_mm", func(v *plant.SpringState) float64 { return v.Lift * milli }},
	{"flow_kg_per_s", func(v *plant.SpringState) float64 { return v.W }},
	{"seat_force_N", func(v *plant.SpringState) float64 { return v.SeatForce }},
	{"momentum_force_N", func(v *plant.SpringState) float64 { return v.Momentum }},
	{"huddle_force_N", func(v *plant.SpringState) float64 { return v.HuddleForce }},
	{"upper_ring_force_N", func(v *plant.SpringState) float64 { return v.UpperForce }},
	{"jet_force_N", func(v *plant.SpringState) float64 { return v.Jet }},
	{"back_force_N", func(v *plant.SpringState) float64 { return v.Back }},
	{"faces_force_N", func(v *plant.SpringState) float64 { return v.Faces }},
	{"lever_force_N", func(v *plant.SpringState) float64 { return v.LeverForce }},
	{"spring_force_N", func(v *plant.SpringState) float64 { return -v.Spring }},
	{"wear_relative", func(v *plant.SpringState) float64 { return v.Wear }},
}

// springHead are the names of the columns of all spring-loaded valves; where there
// are any, the piloted valves' wear stands behind them.
func (rec *Record) springHead() []string {
	var out []string
	for i := range rec.Springs {
		for _, c := range springColumns {
			out = append(out, rec.Springs[i].Name+"."+c.name)
		}
	}
	if len(rec.Springs) > 0 {
		for i := range rec.Valves {
			out = append(out, rec.Valves[i].Name+".wear_relative")
		}
	}
	return out
}

// appendSprings adds their values to a row.
func appendSprings(row []byte, s *plant.Snapshot) ([]byte, error) {
	for i := range s.Springs {
		v := &s.Springs[i]
		for _, c := range springColumns {
			x := c.value(v)
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return row, fmt.Errorf("%s.%s is not a number at %g s", v.Name, c.name, s.T)
			}
			row = strconv.AppendFloat(append(row, ','), x, 'g', valueDigits, 64)
		}
	}
	if len(s.Springs) > 0 {
		for i := range s.Valves {
			row = strconv.AppendFloat(append(row, ','), s.Valves[i].Wear, 'g', valueDigits, 64)
		}
	}
	return row, nil
}
