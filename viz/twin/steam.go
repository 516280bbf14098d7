package twin

import (
	"strconv"
	"strings"

	"underdisc/model/plant"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// steam says what is where in a steam plant, and how warm the metal is.
func steam(b *strings.Builder, v *scene.View, run string) {
	if v.Model.Water == nil {
		return
	}
	st, u := &v.Snapshot.Valves[v.Valve], v.Units
	if share, ok := v.DrumWater(); ok {
		line(b, run+"the drum holds", "water in "+strconv.FormatFloat(100*share, 'f', 0, 64)+" % of its volume, steam above it")
	}
	for _, r := range []struct {
		name  string
		holds *plant.Contents
		there bool
	}{
		{"in the body", &st.AboveFluid, true},
		{"in the chamber", &st.BelowFluid, true},
		{"in the dump line", &st.DumpFluid, v.Model.Valves[v.Valve].HasDump},
		{"in the tailpipe", &st.OutletFluid, true},
	} {
		if !r.there {
			continue
		}
		says := words.Mixture(r.holds)[0]
		if words.Warm(r.holds) {
			says += ", " + u.Temperature(r.holds.Temperature)
		}
		switch {
		case scene.Lies(r.holds):
			says += ", " + words.Water(r.holds.Water) + " of water lies there"
		case r.holds.Water >= words.Drop*r.holds.Volume:
			says += ", " + words.Water(r.holds.Water) + " of it water, as mist or film"
		}
		line(b, run+r.name, says)
	}
	var walls []string
	for _, w := range []struct {
		name string
		wall *plant.WallState
	}{{"tailpipe", &st.OutletWall}, {"dump line", &st.DumpWall}, {"body", &st.BodyWall}, {"chamber", &st.ChamberWall}} {
		if w.wall.Fitted {
			says := w.name + " " + u.Temperature(w.wall.T)
			if w.wall == &st.OutletWall && st.LowPoint.Fitted {
				says += " (lowest point " + u.Temperature(st.LowPoint.T) + ")"
			}
			walls = append(walls, says)
		}
	}
	if walls != nil {
		line(b, run+"wall temperatures", strings.Join(walls, ", "))
	}
}
