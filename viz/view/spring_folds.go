package view

import (
	"underdisc/model/explain"
	"underdisc/model/plant"
)

// keptFolds is how many descriptions of a plant have theirs kept; what is done to a
// plant makes another one.
const keptFolds = 8

// folds keeps the pressures at which a spring-loaded valve pops and reseats: they
// hang on the plant's description alone, and take a tenth of a second to find.
type folds struct {
	plants [keptFolds]*plant.Plant
	offs   [keptFolds]float64 // what holds the disc off its seat
	are    [keptFolds]explain.SpringFolds
	next   int
}

// of are those of a plant's spring-loaded valve; what it does not have, or what was
// not found, is absent.
func (f *folds) of(m *plant.Model, spring int, off float64) explain.SpringFolds {
	for i, p := range f.plants {
		if p == m.Plant && f.offs[i] == off {
			return f.are[i]
		}
	}
	out := explain.SpringFoldsOf(m, spring, off)
	f.plants[f.next], f.offs[f.next], f.are[f.next] = m.Plant, off, out
	f.next = (f.next + 1) % keptFolds
	return out
}
