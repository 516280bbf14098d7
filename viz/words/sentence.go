package words

import (
	"fmt"
	"math"
	"unicode"
	"unicode/utf8"

	"underdisc/model/explain"
	"underdisc/model/plant"
)

// atPoint [Pa] is how near to its threshold a pressure counts as being there.
const atPoint = 50.0

// Margin says by how much the disc stays, or by how much it goes, in one
// sentence without a full stop. Pressures are the chamber's.
func Margin(f *explain.Facts) string {
	m := &f.Margin
	stands := fmt.Sprintf("the chamber stands at %s bar abs", Bar(f.Chamber.Pressure))
	by := fmt.Sprintf("%s (%s)", Difference(math.Abs(m.Pressure)), Force(math.Abs(m.Force)))
	rests := func(goes, where string) string {
		text := fmt.Sprintf("%s; the disc %s %s", stands, goes, Bar(m.Threshold))
		switch {
		case math.Abs(m.Pressure) < atPoint:
			return text + ", which is now"
		case m.Pressure > 0:
			return text + ": a margin of " + by + " holds it " + where
		}
		return text + "; it is past that by " + by
	}
	drives := func(way string) string {
		if m.Pressure > 0 {
			return fmt.Sprintf("%s; what drove the disc %s has turned against it, by %s", stands, way, by)
		}
		return fmt.Sprintf("%s, past the balance of forces by %s, which drives the disc %s", stands, by, way)
	}
	switch m.Toward {
	case explain.ToLift:
		if m.Threshold <= 0 {
			return stands + "; at these pressures even an empty chamber would not let the disc lift"
		}
		return rests("lifts below", "on its seat")
	case explain.ToShut:
		return rests("shuts above", "off its seat")
	case explain.ToOpen:
		return rests("opens further below", "where it is")
	case explain.InClosing:
		return drives("shut")
	}
	return drives("open")
}

// Holder says what holds the disc where it is.
func Holder(f *explain.Facts) string {
	d := &f.Disc
	switch {
	case d.Hold == plant.HeldShut && d.Contact > 0:
		return fmt.Sprintf("The disc rests on its seat, pressed there with %s.", Force(d.Contact))
	case d.Hold == plant.HeldShut:
		return "The disc stays on its seat only by " + holding(d) + ", " + rubbing(d) + "."
	case d.Hold == plant.HeldOpen && d.Contact < 0:
		return fmt.Sprintf("The disc rests at its stop, %s down, pressed there with %s.", millimetres(d.Lift), Force(-d.Contact))
	case d.Hold == plant.HeldOpen:
		return "The disc stays at its stop only by " + holding(d) + ", " + rubbing(d) + "."
	case d.Hold == plant.Sticking:
		return fmt.Sprintf("The disc rests part way, %s down, held by friction, %s.", millimetres(d.Lift), rubbing(d))
	case d.Floats:
		return fmt.Sprintf("The disc floats %s down.", millimetres(d.Lift))
	}
	if d.Lift < atSeat && d.Speed < 0 {
		return fmt.Sprintf("The disc reaches its seat at %.2f m/s.", -d.Speed)
	}
	way := "down"
	if d.Speed < 0 {
		way = "up"
	}
	return fmt.Sprintf("The disc is %s down and moves %s at %.2f m/s.", millimetres(d.Lift), way, math.Abs(d.Speed))
}

// atSeat [m] is how near its seat a moving disc counts as reaching it.
const atSeat = 5e-5

// rubbing says what friction gives and what it can give.
func rubbing(d *explain.DiscFacts) string {
	return fmt.Sprintf("%s of the %s that it can give", Force(math.Abs(d.Friction)), Force(d.Stick+d.Bond))
}

// holding says what can hold a disc at rest.
func holding(d *explain.DiscFacts) string {
	if d.Bond > 0 {
		return "friction and a bond"
	}
	return "friction"
}

// Explain says all that matters of a valve at one moment, sentence by
// sentence: what it does, what holds the disc, by what margin, and which link
// decides.
func Explain(f *explain.Facts) []string {
	out := []string{Capital(State(f.State)) + ".", Holder(f), Capital(Margin(f)) + "."}
	verdict := Reason(f, f.Why)
	if f.Why.Link != explain.None {
		verdict = Link(f.Why.Link) + " decides: " + verdict
	}
	out = append(out, Capital(verdict)+".")
	if f.State == explain.HungOpen {
		out = append(out, hung(f)...)
	}
	return out
}

// hung says what would shut a disc that hangs open, and what would not. At the
// moment at which it goes there is nothing to add.
func hung(f *explain.Facts) []string {
	if f.Margin.Pressure < atPoint {
		return nil
	}
	var out []string
	c := &f.Chamber
	switch {
	case c.Crosses && c.ByFlow.Known:
		return []string{fmt.Sprintf("The chamber is on its way there and reaches it in about %s.", Gap(c.ByFlow.Value))}
	case f.Why.Link != explain.Disc && f.Margin.Toward == explain.ToShut && c.SteadyTight.Known && c.SteadyTight.Value < f.Margin.Threshold:
		out = append(out, fmt.Sprintf("That is not all: even with a tight pilot the chamber would settle at %s bar abs, too low to shut the disc.", Bar(c.SteadyTight.Value)))
	}
	return append(out, fallen(f))
}

// fallen says how far the system must fall before a hung disc shuts. Whether it
// falls that far is another matter.
func fallen(f *explain.Facts) string {
	if p := f.Reseat.Vessel; p.Known {
		return fmt.Sprintf("As things stand it would shut with the vessel at about %s, if the vessel falls that far; that is no reason to wait.", Pressure(p.Value))
	}
	return "As things stand no fall of pressure shuts it."
}

// Capital begins a text with a capital letter.
func Capital(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[n:]
}
