package twin

import (
	"math"
	"strconv"
	"strings"

	"underdisc/model/plant"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// springFlows says of a spring-loaded valve what the picture shows by colours and
// darts.
func springFlows(b *strings.Builder, v *scene.View, run string) {
	st, u := v.SpringState(), v.Units
	p := "vessel " + u.PressureOf(st.Vessel) + ", inlet " + u.PressureOf(st.Inlet)
	if v.Model.Water != nil {
		p = "drum" + strings.TrimPrefix(p, "vessel")
	}
	if st.Spec.LowerRing != nil {
		p += ", huddling chamber " + u.PressureOf(st.Huddle)
	}
	if st.Spec.UpperRing != nil {
		p += ", below the upper ring " + u.PressureOf(st.Under)
	}
	line(b, run+"pressures", p+", outlet "+u.PressureOf(st.Outlet)+" "+u.PressureName())
	line(b, run+"lift", scene.Lift(math.Max(0, st.Lift))+" of "+scene.Millimetres(st.Spec.Disc.Travel))
	passes := u.Flow(st.W)
	if st.W == 0 {
		passes = "none"
	} else if st.Choked {
		passes += ", choked"
	}
	line(b, run+"flow past the seat", passes)
	if r := st.Spec.LowerRing; r != nil {
		line(b, run+"lower ring", scene.Millimetres(r.Gap)+" of gap with the disc shut, "+scene.Millimetres(r.Gap+math.Max(0, st.Lift))+" now")
	}
	if r := st.Spec.UpperRing; r != nil {
		line(b, run+"upper ring", "its way out is "+scene.Millimetres(r.Height)+" high")
	}
	if st.Spec.Lever != nil && st.Pop == plant.Tight {
		line(b, run+"by hand at the lever it would take", scene.Force(st.HandToLift))
	}
	if st.Gagged {
		line(b, run+"gag", "on")
	}
	if v.Model.Water != nil {
		if share, ok := v.DrumWater(); ok {
			line(b, run+"the drum holds", "water in "+strconv.FormatFloat(100*share, 'f', 0, 64)+" % of its volume, steam above it")
		}
		if st.OutletFluid.Volume > 0 { // a pipe
			says := words.Mixture(&st.OutletFluid)[0]
			if words.Warm(&st.OutletFluid) {
				says += ", " + u.Temperature(st.OutletFluid.Temperature)
			}
			line(b, run+"in the discharge pipe", says)
		}
	}
	if st.OutletWall.Fitted {
		line(b, run+"wall of the discharge pipe", u.Temperature(st.OutletWall.T))
	}
	line(b, run+"wear of the seat, a relative index", strconv.FormatFloat(st.Wear, 'f', 2, 64))
}
