package plant

import (
	"fmt"

	"underdisc/model/fluid/water"
	"underdisc/model/unit"
)

// checkFluid looks for parts that the plant's fluid cannot fill.
func (p *Plant) checkFluid(fluid Part) []Issue {
	var out []Issue
	lacks := func(kind, fluidKind, want string) {
		if fluid.Kind == fluidKind {
			for _, q := range p.OfKind(kind) {
				out = append(out, Issue{q.Name, "a " + kind + " in a plant of " + fluidKind, want})
			}
		}
	}
	lacks("vessel", "water", "a drum, which holds steam and water")
	for _, kind := range []string{"ideal-gas", "thermal-gas"} {
		lacks("neighbour", kind, "a plant of water: a neighbour discharges steam")
		if fluid.Kind != kind {
			continue
		}
		for _, q := range p.OfKind("piloted-valve") {
			if c := q.Spec.(*PilotedValve).Chamber.Condensate; c != nil && c.Share > 0 {
				out = append(out, Issue{q.Name + ".chamber.condensate.share", "water in a plant of " + kind, "0"})
			}
		}
	}
	lacks("drum", "ideal-gas", "a vessel, which holds a gas")
	lacks("drum", "thermal-gas", "a vessel, which holds a gas")
	if fluid.Kind != "water" {
		return out
	}
	if drums := p.OfKind("drum"); drums != nil && len(p.OfKind("surroundings")) == 0 {
		out = append(out, Issue{drums[0].Name, "a drum in no surroundings", "a part of the kind surroundings, to lose heat to"})
	}
	for _, q := range p.OfKind("surroundings") {
		if s := q.Spec.(*Surroundings); s.Pressure < lowestWater || s.Pressure > highestWater {
			out = append(out, Issue{q.Name + ".pressure", unit.Format(s.Pressure, unit.Pressure),
				fmt.Sprintf("%s to %s, where the tables of steam hold", unit.Format(lowestWater, unit.Pressure), unit.Format(highestWater, unit.Pressure))})
		}
	}
	for _, q := range p.OfKind("inflow") {
		in := q.Spec.(*Inflow)
		d, ok := Spec[Drum](p, in.Into)
		if !ok {
			continue
		}
		if _, _, err := water.Shared().PT(d.Pressure, in.Temperature); err != nil {
			out = append(out, Issue{q.Name + ".temperature", unit.Format(in.Temperature, unit.Temperature), "water or steam at the drum's pressure: " + err.Error()})
		}
	}
	return out
}

// Pressures between which the tables of steam and water hold, Pa.
const lowestWater, highestWater = 2000, 165e5

// checkDrum looks at how a drum is filled at the start.
func checkDrum(name string, d *Drum) []Issue {
	show := unit.Format(d.Superheat, unit.TemperatureDifference)
	switch {
	case d.Superheat > 0 && d.WaterShare > 0:
		return []Issue{{name + ".superheat", show + " in a drum that holds water", "0 K, or no water in the drum"}}
	case d.Superheat < 0 && d.WaterShare < 1:
		return []Issue{{name + ".superheat", show + " in a drum that is not full of water", "0 K, or a drum full of water"}}
	case d.Superheat == 0:
		return nil
	}
	w := water.Shared()
	t, _ := w.SaturatedT(d.Pressure)
	if _, _, err := w.PT(d.Pressure, t+d.Superheat); err != nil {
		return []Issue{{name + ".superheat", show, "a state of water or steam: " + err.Error()}}
	}
	return nil
}

// pressure is that of a vessel or drum at the start.
func (p *Plant) pressure(name string) (float64, bool) {
	if v, ok := Spec[Vessel](p, name); ok {
		return v.Pressure, true
	}
	if d, ok := Spec[Drum](p, name); ok {
		return d.Pressure, true
	}
	return 0, false
}
