package report

import (
	"slices"

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

// wallPlace is a wall of a valve, or of the pipe behind it.
type wallPlace struct {
	name string // in files
	said string
	wall func(v *plant.ValveState) *plant.WallState
	at   int // in network.Network.Walls
}

// wallsOf are those that a valve has.
func wallsOf(m *plant.Model, valve int) (out []wallPlace) {
	v := &m.Valves[valve]
	at := map[string]int{"body": v.BodyWall, "chamber": v.ChamberWall, "dump": v.DumpWall, "tailpipe": v.OutletWall, "low_point": v.LowPoint}
	for _, c := range volumes {
		out = append(out, wallPlace{c.name, c.said, c.wall, at[c.name]})
	}
	out = append(out, wallPlace{"low_point", "low point", func(v *plant.ValveState) *plant.WallState { return &v.LowPoint }, v.LowPoint})
	return slices.DeleteFunc(out, func(p wallPlace) bool { return p.at < 0 })
}

// steamAtEnd is what a valve holds at the end, and how warm its metal was.
func (rec *Record) steamAtEnd(valve int) *SummarySteam {
	v, m := &rec.Run.Now().Valves[valve], rec.Run.Present()
	out := &SummarySteam{Holds: map[string]SummaryHolds{}, Walls: map[string]float64{}, Reaches: map[string]SummaryWall{}}
	for _, c := range volumesOf(m, valve) {
		h := c.holds(v)
		air, _, water := words.Shares(h)
		out.Holds[c.name] = SummaryHolds{h.Temperature - 273.15, 1 - water, air, 1e6 * h.Water, 1e6 * h.Volume}
	}
	for _, p := range wallsOf(m, valve) {
		out.Walls[p.name] = p.wall(v).T - 273.15
	}
	if w := rec.Valves[valve].watched; w != nil {
		for _, r := range w.walls {
			s := SummaryWall{Coldest: r.low - 273.15, ColdestAt: r.lowAt, Warmest: r.high - 273.15, WarmestAt: r.highAt,
				Before: finite(r.before - 273.15), Peak: finite(r.peak - 273.15)}
			if s.Peak != nil {
				s.PeakAfter = finite(r.peakAt - rec.lastSeated(valve))
			}
			out.Reaches[r.name] = s
		}
	}
	return out
}

// lastSeated is when the disc was last held on its seat after a lift, s.
func (rec *Record) lastSeated(valve int) float64 {
	lifts := rec.Valves[valve].Lifts
	return lifts[len(lifts)-1].Seated
}
