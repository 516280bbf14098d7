package scene

import "underdisc/model/plant"

// wet tells whether steam and water fill the plant.
func (v *View) wet() bool { return v.Model.Water != nil }

// vesselName is what the line comes from, in the words of the trade.
func (v *View) vesselName() string {
	if v.wet() {
		return "Drum"
	}
	return "Vessel"
}

// feltWalls are the walls that a hand outside comes near first: those of tailpipe
// and dump line of a steam plant, whose warmth tells what leaks.
func (v *View) feltWalls() []feltWall {
	if !v.wet() {
		return nil
	}
	tr := &v.Trace
	out := make([]feltWall, 0, 2)
	if q := v.SpringState(); q != nil {
		if q.OutletWall.Fitted {
			out = append(out, feltWall{"tailpipe", &q.OutletWall, tr.TailWall, &q.LowPoint})
		}
		return out
	}
	st := &v.Snapshot.Valves[v.Valve]
	if st.OutletWall.Fitted {
		out = append(out, feltWall{"tailpipe", &st.OutletWall, tr.TailWall, &st.LowPoint})
	}
	if st.DumpWall.Fitted {
		out = append(out, feltWall{"dump line", &st.DumpWall, tr.DumpWall, nil})
	}
	return out
}

type feltWall struct {
	name  string
	now   *plant.WallState
	trace []float64        // K
	low   *plant.WallState // its lowest point; nil without one
}

// AtRest tells whether the valve of a steam plant rests shut and unasked, so that
// the warmth of its walls is what goes on.
func (v *View) AtRest() bool {
	if q := v.SpringState(); q != nil {
		return v.wet() && q.Pop == plant.Tight && q.W == 0 && q.Hand == 0 && q.OutletWall.Fitted
	}
	st := &v.Snapshot.Valves[v.Valve]
	return v.wet() && st.Coil.Voltage == 0 && st.Coil.Current < 0.01 && !v.Facts.Asked &&
		st.Disc.Hold == plant.HeldShut && (st.OutletWall.Fitted || st.DumpWall.Fitted)
}

// degrees is a chart's zero, K, and unit, K, of temperature, and its name.
func (u Units) degrees() (zero, size float64, name string) {
	if u.Fahrenheit {
		return 459.67 / 1.8, 1 / 1.8, "degF"
	}
	return 273.15, 1, "degC"
}

// drumLevel marks the water's level in the drum, left and right of its words, by
// its share of the volume.
func (s *sheet) drumLevel(at Rect) {
	share, ok := s.v.DrumWater()
	if !ok {
		return
	}
	k := s.p.scale
	y := at.Bottom - share*at.Height()
	words := max(s.width(s.strong(), s.pressure(s.v.Units, s.st.Vessel)), s.width(s.label(), s.v.vesselName()))
	side := (at.Width()-words)/2 - 9*k
	if share <= 0 || share >= 1 || side < 8*k {
		return
	}
	for _, left := range [...]float64{at.Left + 3*k, at.Right - 3*k - side} {
		wave := s.points[:0]
		for i := range 7 {
			wave = append(wave, Point{left + side*float64(i)/6, y + 1.7*k*float64(1-2*(i&1))})
		}
		s.points = wave
		s.twice("drum level", s.open(wave...))
		for j, z := 0, y+7*k; z < at.Bottom-6*k; j, z = j+1, z+8*k {
			from := left + (0.15+0.3*float64(j&1))*side
			s.twice("drum level", s.open(Point{from, z}, Point{from + 0.45*side, z}))
		}
	}
}

// twice draws a line that shows on any colour: dark, with a light core.
func (s *sheet) twice(part string, path Path) {
	s.line(part, path, Dark, 3.2*s.p.scale)
	s.line(part, path, White, 1.2*s.p.scale)
}

// DrumWater is the share of the drum's volume that is water; not ok without a
// drum, or where its level is not known.
func (v *View) DrumWater() (share float64, ok bool) {
	i := int(v.vesselNode())
	if !v.wet() || v.Snapshot.Look == nil || i >= len(v.Snapshot.Look.Nodes) {
		return 0, false
	}
	n := &v.Snapshot.Look.Nodes[i]
	if n.V <= 0 {
		return 0, false
	}
	return n.Liquid / n.V, true
}
