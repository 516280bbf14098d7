package view

import (
	"underdisc/model/equilibria"
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
	are    [keptFolds]explain.SpringFolds
	next   int
}

// of are those of a plant's spring-loaded valve; what it does not have, or what was
// not found, is absent.
func (f *folds) of(m *plant.Model, spring int) explain.SpringFolds {
	for i, p := range f.plants {
		if p == m.Plant {
			return f.are[i]
		}
	}
	var out explain.SpringFolds
	if l, err := equilibria.Thresholds(m, m.Springs[spring].Name); err == nil {
		at := func(q *equilibria.Fold) explain.Opt {
			if q == nil {
				return explain.Opt{}
			}
			return explain.Opt{Known: true, Value: q.Inlet}
		}
		out = explain.SpringFolds{Pop: at(l.Pop), Reseat: at(l.Reseat)}
	}
	f.plants[f.next], f.are[f.next] = m.Plant, out
	f.next = (f.next + 1) % keptFolds
	return out
}
