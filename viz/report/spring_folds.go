package report

import (
	"underdisc/model/explain"
	"underdisc/model/plant"
)

// foldCache keeps the pressures at which the spring-loaded valves of a plant pop and
// reseat, by its description: what is done to a plant makes another one.
type foldCache map[*plant.Plant][]explain.SpringFolds

func (c foldCache) of(m *plant.Model, spring int) explain.SpringFolds {
	all, ok := c[m.Plant]
	if !ok {
		for i := range m.Springs {
			all = append(all, explain.SpringFoldsOf(m, i))
		}
		c[m.Plant] = all
	}
	return all[spring]
}
