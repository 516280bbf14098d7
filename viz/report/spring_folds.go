package report

import (
	"underdisc/model/explain"
	"underdisc/model/plant"
)

// foldsOf are the pressures at which a spring-loaded valve pops and reseats as things
// are.
func foldsOf(*plant.Model, *plant.Snapshot, int) explain.SpringFolds { return explain.SpringFolds{} }
