package scene

import (
	"strconv"

	"underdisc/model/explain"
	"underdisc/model/plant"
)

// Standing says how a link of the chain stands.
type Standing int

const (
	ToCome Standing = iota // it has yet to act
	Done                   // it has acted
	ActsNow
	Unknown // the inside is sealed
)

var standingWords = [...]string{"to come", "done", "acts now", "not known"}

func (s Standing) String() string { return standingWords[s] }

// LinkStanding tells how a link stands, 1 to 6. While the valve is asked open,
// or stands there by its links, a link has acted when it is as an open valve
// has it; while a valve that is no longer asked goes shut, when it is as a shut
// one has it.
func (v *View) LinkStanding(link int) Standing {
	if q := v.SpringState(); q != nil {
		return springStanding(v.Spring, q, link, springActs(v.Spring))
	}
	f, st := v.Facts, &v.Snapshot.Valves[v.Valve]
	if int(f.Acts.Link) == link {
		return ActsNow
	}
	if explain.Link(link) == explain.Switch && !f.Switch.InChain {
		return ToCome // a selector goes past it
	}
	// Nobody asks a shut valve to open: that it leaks is no link that has acted.
	if !f.Asked && st.Disc.Hold == plant.HeldShut && st.Pilot.Hold == plant.HeldShut && !f.Relay.On {
		return ToCome
	}
	open := map[bool]Standing{true: Done}
	away := f.Asked // the direction that counts
	if link < int(f.Acts.Link) {
		return Done
	}
	switch explain.Link(link) {
	case explain.Switch:
		return open[f.Switch.Made == away]
	case explain.Relay:
		return open[f.Relay.On == away]
	case explain.Coil:
		on := f.Coil.Current >= f.Coil.DropOutUnbonded
		return open[on == away]
	case explain.Pilot:
		if away {
			return open[st.Pilot.Hold == plant.HeldOpen]
		}
		return open[st.Pilot.Hold == plant.HeldShut]
	case explain.Chamber:
		if away {
			return open[f.Chamber.Pressure < f.Thresholds.OpensBelow || st.Disc.Hold == plant.HeldOpen]
		}
		return open[f.Chamber.Pressure > f.Thresholds.ShutsAbove || st.Disc.Hold == plant.HeldShut]
	}
	if away {
		return open[st.Disc.Hold == plant.HeldOpen]
	}
	return open[st.Disc.Hold == plant.HeldShut]
}

// Badge draws the number of a link by how it stands: filled, a dotted ring, or a
// double ring in the ink of now.
func Badge(part string, at Point, r float64, link int, how Standing, size float64) []Shape {
	return new(stock).badge(nil, Shape{Part: part}, at, r, link, how, size)
}

// badge adds to shapes those of a badge, with the part and the carrier of one.
func (k *stock) badge(out []Shape, as Shape, at Point, r float64, link int, how Standing, size float64) []Shape {
	fill := func(radius float64, ink Ink) {
		as.Path, as.Fill, as.Stroke = k.circle(at, radius), k.paints.put(Paint{Ink: ink}), nil
		out = append(out, as)
	}
	ring := func(radius, width float64, ink Ink, dash ...float64) {
		as.Path, as.Fill, as.Stroke = k.circle(at, radius), nil, k.pens.put(Pen{Ink: ink, Width: width, Dash: k.numbers.list(dash...)})
		out = append(out, as)
	}
	ink := White
	switch how {
	case Done:
		fill(r, Dark)
	case ActsNow:
		fill(r*1.22, White)
		ring(r*1.22, r*0.13, Now)
		fill(r*0.97, Now)
	case Unknown:
		fill(r, Metal)
		ring(r*0.93, r*0.12, Soft)
		ink = Dark
	default:
		fill(r, White)
		ring(r*0.93, r*0.12, Soft, r*0.2, r*0.2)
		ink = Dark
	}
	as.Path, as.Fill, as.Stroke = nil, nil, nil
	as.Text = k.texts.put(Text{At: Point{at.X, at.Y + capShare*size/2}, Anchor: Centred, Size: size, Bold: true, Ink: ink, Words: strconv.Itoa(link)})
	return append(out, as)
}
