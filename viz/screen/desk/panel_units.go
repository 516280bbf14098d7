package desk

import "underdisc/viz/scene"

// unitsPanel chooses the units that numbers are shown in.
type unitsPanel struct{}

func (p *unitsPanel) Title() string { return "Units" }

func (p *unitsPanel) Items(d *Desk) []Item {
	u := &d.Units
	choice := func(name, text string, picked int, pick func(int), options ...string) Item {
		return Item{Kind: Choice, Name: name, Text: text, Options: options, Picked: picked, Pick: func(i int) { pick(i); d.changes++ }}
	}
	flow := 0
	switch {
	case u.KilogramsPerSecond:
		flow = 1
	case u.PoundsPerHour:
		flow = 2
	}
	return []Item{
		choice("pressure", "Pressure", int(u.Pressure), func(i int) { u.Pressure = scene.PressureUnit(i) }, "bar", "psi", "kPa"),
		choice("zero", "counted from", bit(u.Gauge), func(i int) { u.Gauge = i == 1 }, "nothing: abs", "the air: gauge"),
		choice("temperature", "Temperature", bit(u.Fahrenheit), func(i int) { u.Fahrenheit = i == 1 }, "degC", "degF"),
		choice("flow", "Mass flow", flow, func(i int) { u.KilogramsPerSecond, u.PoundsPerHour = i == 1, i == 2 }, "kg/h", "kg/s", "lb/h"),
		closing(d),
	}
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}
