package plant

import (
	"underdisc/model/unit"
)

// checkFire looks at the controller of a fire.
func checkFire(name string, f *HeatInput) []Issue {
	c := f.Control
	if c == nil {
		return nil
	}
	power := func(w float64) string { return unit.Format(w, unit.Power) }
	if !(c.Least < c.Most) {
		return []Issue{{name + ".control.least", power(c.Least) + ", not below the most", "less than " + power(c.Most)}}
	}
	if !(f.Power >= c.Least && f.Power <= c.Most) {
		return []Issue{{name + ".power", power(f.Power) + ", outside of what its controller allows", power(c.Least) + " to " + power(c.Most)}}
	}
	return nil
}

// checkFeed looks at the controller of a feed of water.
func checkFeed(name string, f *Inflow) []Issue {
	c := f.Control
	if c == nil || f.MassFlow <= c.Most {
		return nil
	}
	return []Issue{{name + ".mass-flow", unit.Format(f.MassFlow, unit.MassFlow) + ", more than its controller allows", "at most " + unit.Format(c.Most, unit.MassFlow)}}
}

// checkOperators: a fire that they can work.
func (p *Plant) checkOperators(name string, o *Operators) []Issue {
	if f, ok := Spec[HeatInput](p, o.Fire); ok && f.Control == nil {
		return []Issue{{name + ".fire", o.Fire + ", a constant heat", "a heat-input with a control"}}
	}
	return nil
}

// checkSensor: a line is sensed at the end of its length of pipe.
func (p *Plant) checkSensor(name string, s *Sensor) []Issue {
	if l, ok := Spec[Line](p, s.On); ok && l.Run == nil {
		return []Issue{{name + ".on", s.On + ", which has no length of pipe", "a line with the key run, or its vessel or valve"}}
	}
	return nil
}
