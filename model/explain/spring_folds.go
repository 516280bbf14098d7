package explain

import (
	"underdisc/model/equilibria"
	"underdisc/model/plant"
)

// SpringFoldsOf are the pressures at the inlet at which a spring-loaded valve pops and
// reseats as it is described and held off its seat by off, friction included; absent is
// what it does not have, or what cannot be found. They hang on these alone, and take
// about a tenth of a second: keep them as long as they stay.
func SpringFoldsOf(m *plant.Model, spring int, off float64) SpringFolds {
	l, err := equilibria.ThresholdsOff(m, m.Springs[spring].Name, &off)
	if err != nil {
		return SpringFolds{}
	}
	f := SpringFolds{Pop: inletOf(l.Pop), Reseat: inletOf(l.Reseat)}
	if off > 0 {
		f.Reseat = Opt{} // what it falls on is not its seat
	}
	return f
}

func inletOf(f *equilibria.Fold) Opt {
	if f == nil {
		return Opt{}
	}
	return some(f.Inlet)
}
