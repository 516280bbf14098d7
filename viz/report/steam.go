package report

import (
	"bytes"
	"fmt"
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/viz/words"
)

// steam tells whether steam and water fill the plant.
func (rec *Record) steam() bool { return rec.Run.Model(0).Water != nil }

// volume is one of a valve's volumes, with its wall.
type volume struct {
	name  string // in files
	said  string
	holds func(v *plant.ValveState) *plant.Contents
	wall  func(v *plant.ValveState) *plant.WallState
}

var volumes = []volume{
	{"body", "body", func(v *plant.ValveState) *plant.Contents { return &v.AboveFluid }, func(v *plant.ValveState) *plant.WallState { return &v.BodyWall }},
	{"chamber", "chamber", func(v *plant.ValveState) *plant.Contents { return &v.BelowFluid }, func(v *plant.ValveState) *plant.WallState { return &v.ChamberWall }},
	{"dump", "dump line", func(v *plant.ValveState) *plant.Contents { return &v.DumpFluid }, func(v *plant.ValveState) *plant.WallState { return &v.DumpWall }},
	{"tailpipe", "tailpipe", func(v *plant.ValveState) *plant.Contents { return &v.OutletFluid }, func(v *plant.ValveState) *plant.WallState { return &v.OutletWall }},
}

// volumesOf are those that a valve has.
func volumesOf(m *plant.Model, valve int) (out []volume) {
	for _, c := range volumes {
		if c.name != "dump" || m.Valves[valve].HasDump {
			out = append(out, c)
		}
	}
	return out
}

// walled tells whether a volume has a wall.
func (c *volume) walled(m *plant.Model, valve int) bool {
	v := &m.Valves[valve]
	return map[string]int{"body": v.BodyWall, "chamber": v.ChamberWall, "dump": v.DumpWall, "tailpipe": v.OutletWall}[c.name] >= 0
}

// columnsOf are the columns of a valve's trace: those of every valve, and in a
// steam plant what chamber, dump line and tailpipe hold; then the walls that there
// are, and a block valve that travels, a cover and a drain.
func columnsOf(m *plant.Model, valve int) []column {
	out := append([]column(nil), columns...)
	add := func(name string, value func(v *plant.ValveState) float64) {
		out = append(out, column{name, func(v *plant.ValveState, _ *explain.Thresholds) float64 { return value(v) }})
	}
	for _, c := range volumesOf(m, valve) {
		if m.Water == nil {
			continue
		}
		add(c.name+"_degC", func(v *plant.ValveState) float64 { return c.holds(v).Temperature - 273.15 })
		add(c.name+"_quality", func(v *plant.ValveState) float64 { return c.holds(v).Quality })
		add(c.name+"_water_mL", func(v *plant.ValveState) float64 { return 1e6 * c.holds(v).Water })
	}
	for _, c := range volumesOf(m, valve) {
		if c.walled(m, valve) {
			add(c.name+"_wall_degC", func(v *plant.ValveState) float64 { return c.wall(v).T - 273.15 })
		}
	}
	if m.Valves[valve].Block >= 0 {
		add("block_valve_open", func(v *plant.ValveState) float64 { return v.Block.Opening })
	}
	if m.Valves[valve].Spec.Chamber.Cover != nil {
		add("cover_flow_kg_per_s", func(v *plant.ValveState) float64 { return v.Cover })
	}
	if m.Valves[valve].Spec.Drain != nil {
		add("drain_flow_kg_per_s", func(v *plant.ValveState) float64 { return v.Drain })
	}
	return out
}

// steamAtEnd is what a valve holds at the end.
func (rec *Record) steamAtEnd(valve int) *SummarySteam {
	v, m := &rec.Run.Now().Valves[valve], rec.Run.Present()
	out := &SummarySteam{Holds: map[string]SummaryHolds{}, Walls: map[string]float64{}}
	for _, c := range volumesOf(m, valve) {
		h := c.holds(v)
		out.Holds[c.name] = SummaryHolds{h.Temperature - 273.15, h.Quality, math.Max(h.Air, 0), 1e6 * h.Water}
		if w := c.wall(v); w.Fitted {
			out.Walls[c.name] = w.T - 273.15
		}
	}
	return out
}

// writeSteam says what a valve holds at the end, and how warm its walls were.
func (rec *Record) writeSteam(b *bytes.Buffer, v *ValveRecord) error {
	const looks = 2000
	m := rec.Run.Present()
	all := volumesOf(m, v.Index)
	type reach struct{ low, high, lowAt, highAt float64 }
	walls := make([]reach, len(all))
	for i := range walls {
		walls[i] = reach{low: math.Inf(1), high: math.Inf(-1)}
	}
	for k := range looks + 1 {
		t := rec.Until() * float64(k) / looks
		s, _, err := rec.Run.At(t)
		if err != nil {
			return err
		}
		for i, c := range all {
			w, r := c.wall(&s.Valves[v.Index]), &walls[i]
			if w.T < r.low {
				r.low, r.lowAt = w.T, t
			}
			if w.T > r.high {
				r.high, r.highAt = w.T, t
			}
		}
	}
	now := &rec.Run.Now().Valves[v.Index]
	fmt.Fprintf(b, "  %-10s %14s  %-46s %s\n", "", "at the end", "what it holds then, by mass", "water in it")
	for _, c := range all {
		h := c.holds(now)
		t := words.Degrees(h.Temperature)
		if !words.Warm(h) { // what the air in it makes of it is not known
			t = "-"
		}
		water := "none"
		if h.Water >= words.Drop*h.Volume {
			water = words.Water(h.Water)
		}
		fmt.Fprintf(b, "  %-10s %14s  %-46s %s\n", c.said, t, words.Mixture(h)[0], water)
	}
	fmt.Fprintf(b, "\n  %-10s %14s  %-22s %s\n", "wall of", "at the end", "coldest", "warmest")
	for i, c := range all {
		w, r := c.wall(now), walls[i]
		if !w.Fitted {
			continue
		}
		at := func(t, when float64) string { return fmt.Sprintf("%s at %.1f s", words.Degrees(t), when) }
		fmt.Fprintf(b, "  %-10s %14s  %-22s %s\n", c.said, words.Degrees(w.T), at(r.low, r.lowAt), at(r.high, r.highAt))
	}
	paragraph(b, "", "The walls of dump line and tailpipe tell from outside what passes the shut pilot and the shut seat: "+
		"after a lift they cool; those of a valve that leaks stay warm. Metal at these temperatures burns: it is measured, not touched.")
	return nil
}
