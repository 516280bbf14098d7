package twin

import (
	"strconv"
	"strings"

	"underdisc/model/plant"
	"underdisc/viz/scene"
)

// around says what leads into and out of the valve beside its seat: the block
// valve, leak and drain, and where the tailpipe ends.
func around(b *strings.Builder, v *scene.View, run string) {
	st, u := &v.Snapshot.Valves[v.Valve], v.Units
	if q := &st.Block; q.Fitted {
		says := strconv.FormatFloat(100*q.Opening, 'f', 0, 64) + " % open"
		if q.Opening != q.Asked {
			says += ", going to " + strconv.FormatFloat(100*q.Asked, 'f', 0, 64) + " %"
		}
		line(b, run+"block valve", says)
	}
	if st.CoverArea > 0 {
		line(b, run+"leak past the chamber's cover", u.Flow(st.Cover))
	}
	spec := v.Model.Valves[v.Valve].Spec
	if spec.Drain != nil {
		says := "shut"
		if spec.Drain.Opening > 0 {
			says = "open, " + u.Flow(st.Drain) + " out"
		}
		line(b, run+"body drain", says)
	}
	pipe, _ := plant.Spec[plant.Tailpipe](v.Model.Plant, spec.Outlet)
	if pipe == nil {
		return
	}
	if _, ok := plant.Spec[plant.Tailpipe](v.Model.Plant, pipe.To); ok {
		line(b, run+"the tailpipe ends in", pipe.To+" at "+u.PressureOf(st.Behind)+" "+u.PressureName())
	}
}
