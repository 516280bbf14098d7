package live

import (
	"math"

	"underdisc/model/unit"
)

// Difference is how a sign stands to that of the healthy plant.
type Difference int

const (
	Same Difference = iota
	Up
	Down
	Gone // the healthy plant has it, this one does not
	New  // the other way round
)

func (d Difference) String() string {
	return [...]string{"same", "up", "down", "gone", "new"}[d]
}

// none is the value of what a run does not show.
var none = math.NaN()

// margins are what an instrument at a plant, read with care, would not tell
// apart: an amount, and a share of the value.
var margins = map[unit.Dimension]struct{ amount, share float64 }{
	unit.Pressure:           {0.1e5, 0},
	unit.PressureDifference: {0.05e5, 0},
	unit.Ratio:              {0.01, 0},
	unit.Length:             {0.05e-3, 0},
	unit.Temperature:        {3, 0},
	unit.Current:            {0.02, 0.03},
	unit.Time:               {3e-3, 0.03},
	unit.Volume:             {20e-6, 0},
}

// Compare says how a value stands to that of the healthy plant, beyond what
// careful reading tells apart.
func (c SignColumn) Compare(v, healthy float64) Difference {
	switch {
	case math.IsNaN(v) && math.IsNaN(healthy):
		return Same
	case math.IsNaN(v):
		return Gone
	case math.IsNaN(healthy):
		return New
	}
	m := margins[c.Dim] // none for a yes or no, and for a count
	if c.Yes || c.Count {
		m.amount = 0.5
	}
	switch d := v - healthy; {
	case d > m.amount+m.share*math.Abs(healthy):
		return Up
	case d < -m.amount-m.share*math.Abs(healthy):
		return Down
	}
	return Same
}
