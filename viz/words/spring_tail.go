package words

import (
	"fmt"

	"underdisc/model/plant"
)

// SpringTailOf is what the discharge of a spring-loaded valve does, as heard and seen
// from where one can stand.
func SpringTailOf(v *plant.SpringState) Tail {
	switch share := v.W / (chokedFlux * v.Vessel * v.SeatArea); {
	case share > blowing:
		return Blows
	case share > heard:
		return Hisses
	}
	return Still
}

// SpringOutside says what a person at the plant reads and hears of a spring-loaded
// valve without opening anything.
func SpringOutside(v *plant.SpringState, u Units) string {
	t := teller{u}
	lever := ""
	if v.Hand > 0 {
		lever = ", its lever is pulled"
	}
	return fmt.Sprintf("Its discharge %s%s; there are %s in the vessel.", [...]string{"is still", "hisses", "blows"}[SpringTailOf(v)], lever, t.pressure(v.Vessel))
}
