package report

import (
	"underdisc/model/plant"
)

// boilers are the drums of a plant that have a controller or a load, by their
// place among its drums.
func boilers(m *plant.Model) (out []int) {
	held := map[string]bool{}
	for i := range m.Plant.Parts {
		switch q := m.Plant.Parts[i].Spec.(type) {
		case *plant.HeatInput:
			held[q.Into] = held[q.Into] || q.Control != nil
		case *plant.Inflow:
			held[q.Into] = held[q.Into] || q.Control != nil
		case *plant.Load:
			held[q.From] = true
		}
	}
	for i := range m.Drums {
		if held[m.Drums[i].Name] {
			out = append(out, i)
		}
	}
	return out
}

// plantColumn is one quantity of the plant around the valves.
type plantColumn struct {
	part, name string // the name with its unit
	said       string
	value      func(s *plant.Snapshot) float64
	digits     int // after the point, where people read it
}

// plantColumns are those of boilers, operators and lamps: none in a plant without
// a boiler. All of it can be read from outside.
func plantColumns(m *plant.Model) (out []plantColumn) {
	all := boilers(m)
	if len(all) == 0 {
		return nil
	}
	for _, i := range all {
		name := m.Drums[i].Name
		add := func(column, said string, digits int, value func(d *plant.DrumState) float64) {
			out = append(out, plantColumn{name, column, said, func(s *plant.Snapshot) float64 { return value(&s.Drums[i]) }, digits})
		}
		add("pressure_bar_abs", "pressure, bar abs", 2, func(d *plant.DrumState) float64 { return d.Pressure * bar })
		add("water_share", "share of water in the volume", 3, func(d *plant.DrumState) float64 { return d.WaterShare })
		if len(m.Drums[i].Fires) > 0 {
			add("fire_MW", "fire, MW", 2, func(d *plant.DrumState) float64 { return 1e-6 * d.Fire })
			add("fire_asked_MW", "fire asked for, MW", 2, func(d *plant.DrumState) float64 { return 1e-6 * d.Asked })
		}
		if len(m.Drums[i].Waters) > 0 {
			add("feed_kg_per_s", "feedwater, kg/s", 2, func(d *plant.DrumState) float64 { return d.Feed })
		}
		if len(m.Drums[i].Loads) > 0 {
			add("load_kg_per_s", "steam to the load, kg/s", 2, func(d *plant.DrumState) float64 { return d.Load })
			add("load_open", "opening of the load's valve", 3, func(d *plant.DrumState) float64 { return d.Opening })
		}
	}
	for i, q := range m.Plant.OfKind("operators") {
		out = append(out, plantColumn{q.Name, "add_MW", "what they add to the fire, MW", func(s *plant.Snapshot) float64 { return 1e-6 * s.Operators[i].Adds }, 2})
	}
	for i, q := range m.Plant.OfKind("lamp") {
		out = append(out, plantColumn{q.Name, "lit", "lit", func(s *plant.Snapshot) float64 { return truth(s.Lamps[i].Lit) }, 0})
	}
	return out
}

// reach is how far one quantity went.
type reach struct {
	start, least, most, end float64
	leastAt, mostAt         float64 // s
}

// lampTime is how long a lamp was lit, and how long while the disc of its valve
// was shut, s.
type lampTime struct{ lit, wrong float64 }

// looksAtPlant is how many moments of the run the reaches are taken from.
const looksAtPlant = 4000

// plantReaches looks along the run.
func (rec *Record) plantReaches(columns []plantColumn) ([]reach, []lampTime, error) {
	out := make([]reach, len(columns))
	lamps := make([]lampTime, len(rec.Run.Now().Lamps))
	step := rec.Until() / looksAtPlant
	for k := range looksAtPlant + 1 {
		t := step * float64(k)
		if k == looksAtPlant {
			t = rec.Until()
		}
		s, _, err := rec.Run.At(t)
		if err != nil {
			return nil, nil, err
		}
		for i, c := range columns {
			x, r := c.value(s), &out[i]
			if k == 0 {
				*r = reach{start: x, least: x, most: x}
			}
			if x < r.least {
				r.least, r.leastAt = x, t
			}
			if x > r.most {
				r.most, r.mostAt = x, t
			}
			r.end = x
		}
		for i := range s.Lamps {
			if !s.Lamps[i].Lit || k == looksAtPlant {
				continue
			}
			lamps[i].lit += step
			for _, v := range s.Valves {
				if v.Name == s.Lamps[i].Valve && v.Disc.Hold == plant.HeldShut {
					lamps[i].wrong += step
				}
			}
		}
	}
	return out, lamps, nil
}
