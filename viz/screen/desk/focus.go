package desk

import (
	"strings"

	"underdisc/viz/scene"
)

// Stop is a place that the keyboard goes to. Exactly one of Command, Spot and
// Item says what it is.
type Stop struct {
	Command *Command
	Spot    *scene.Spot
	Item    *Item
}

// Name tells a stop from the others.
func (s Stop) Name() string {
	switch {
	case s.Command != nil:
		return "button " + s.Command.Name
	case s.Spot != nil:
		return "spot " + s.Spot.Name
	case s.Item != nil:
		return "item " + s.Item.Name
	}
	return ""
}

// Says is what is read out when the keyboard comes to it.
func (s Stop) Says(d *Desk) string {
	switch {
	case s.Command != nil:
		line := s.Command.Help + ", key " + keysOf(s.Command.Keys)
		if s.Command.On != nil && s.Command.On(d) {
			line += ", on"
		}
		return line
	case s.Spot != nil:
		return s.Spot.Name + ": " + s.Spot.Says
	case s.Item != nil:
		return s.Item.says()
	}
	return ""
}

func (i *Item) says() string {
	line := i.Text
	switch i.Kind {
	case Field:
		line += ": " + i.Value
	case Choice, List:
		if i.Picked >= 0 && i.Picked < len(i.Options) {
			line = strings.TrimPrefix(line+": "+i.Options[i.Picked], ": ")
		}
	case Press:
		if i.On {
			line += ", on"
		}
	}
	if i.Beside != "" {
		line += "; " + i.Beside
	}
	if i.Wrong != "" {
		line += "; " + i.Wrong
	}
	return line
}

// Stops is the order in which the keyboard goes through things: those of the
// panel, if one is open; else what is seen, the sentence, the links, the charts,
// the buttons of time, the pins of the ribbon.
func (d *Desk) Stops(items []Item, spots []scene.Spot) []Stop {
	var out []Stop
	if d.panel != nil {
		for i := range items {
			if items[i].Reached() {
				out = append(out, Stop{Item: &items[i]})
			}
		}
		return out
	}
	for _, name := range ViewsBar {
		out = append(out, Stop{Command: Find(name)})
	}
	for i := range spots {
		if !IsPin(&spots[i]) {
			out = append(out, Stop{Spot: &spots[i]})
		}
	}
	for _, row := range TimeBar {
		for _, name := range row {
			out = append(out, Stop{Command: Find(name)})
		}
	}
	for i := range spots {
		if IsPin(&spots[i]) {
			out = append(out, Stop{Spot: &spots[i]})
		}
	}
	return out
}

// IsAt tells whether a spot is the stop of a name.
func IsAt(name string, s *scene.Spot) bool {
	of, ok := strings.CutPrefix(name, "spot ")
	return ok && of == s.Name
}

// IsPin tells the pins of the ribbon from the other spots.
func IsPin(s *scene.Spot) bool { return strings.Contains(s.Name, "pin ") }
