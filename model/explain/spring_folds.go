package explain

import (
	"underdisc/model/equilibria"
	"underdisc/model/plant"
)

// SpringFoldsOf are the pressures at the inlet at which a spring-loaded valve pops and
// reseats as it is described, friction included; absent is what it does not have, or
// what cannot be found. They hang on the description alone, and take about a tenth of
// a second: keep them as long as it stays.
func SpringFoldsOf(m *plant.Model, spring int) SpringFolds {
	l, err := equilibria.Thresholds(m, m.Springs[spring].Name)
	if err != nil {
		return SpringFolds{}
	}
	return SpringFolds{Pop: inletOf(l.Pop), Reseat: inletOf(l.Reseat)}
}

func inletOf(f *equilibria.Fold) Opt {
	if f == nil {
		return Opt{}
	}
	return some(f.Inlet)
}
