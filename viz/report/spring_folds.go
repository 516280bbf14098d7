package report

import (
	"underdisc/model/explain"
	"underdisc/model/plant"
)

// foldKey is what the folds of a spring-loaded valve hang on: the plant's description
// (what is done to a plant makes another one), the valve, and what holds its disc off.
type foldKey struct {
	plant  *plant.Plant
	spring int
	off    float64
}

// foldCache keeps the pressures at which spring-loaded valves pop and reseat.
type foldCache map[foldKey]explain.SpringFolds

func (c foldCache) of(m *plant.Model, spring int, off float64) explain.SpringFolds {
	key := foldKey{m.Plant, spring, off}
	f, ok := c[key]
	if !ok {
		f = explain.SpringFoldsOf(m, spring, off)
		c[key] = f
	}
	return f
}
