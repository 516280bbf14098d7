package words

import (
	"fmt"
	"math"
	"unicode"
	"unicode/utf8"

	"underdisc/model/explain"
	"underdisc/model/plant"
)

// Margin says by how much the disc stays, or by how much it goes, in one
// sentence without a full stop. Pressures are the chamber's.
func Margin(f *explain.Facts) string {
	m := &f.Margin
	by := fmt.Sprintf("%s (%s)", Difference(math.Abs(m.Pressure)), Force(math.Abs(m.Force)))
	stands := fmt.Sprintf("the chamber stands at %s bar abs", Bar(f.Chamber.Pressure))
	switch m.Toward {
	case explain.ToLift:
		text := fmt.Sprintf("%s; the disc lifts below %s", stands, Bar(m.Threshold))
		switch {
		case m.Threshold <= 0:
			return stands + "; at these pressures even an empty chamber would not let the disc lift"
		case m.Pressure >= 0:
			return text + "; the margin that holds it on its seat is " + by
		}
		return text + "; it is past that by " + by
	case explain.ToShut:
		text := fmt.Sprintf("%s; the disc goes back above %s", stands, Bar(m.Threshold))
		if m.Pressure >= 0 {
			return text + "; the margin that holds it off its seat is " + by
		}
		return text + "; it is past that by " + by
	case explain.ToOpen:
		return fmt.Sprintf("%s; the disc goes on opening below %s; lacking are %s", stands, Bar(m.Threshold), by)
	}
	way := "open"
	if m.Toward == explain.InClosing {
		way = "shut"
	}
	if m.Pressure > 0 {
		return fmt.Sprintf("%s; what drives the disc %s has turned against it, by %s", stands, way, by)
	}
	return fmt.Sprintf("%s, %s past where the disc would rest; that drives it %s", stands, by, way)
}

// Holder says what holds the disc where it is.
func Holder(f *explain.Facts) string {
	d := &f.Disc
	switch {
	case d.Hold == plant.HeldShut && d.Contact > 0:
		return fmt.Sprintf("The disc rests on its seat, pressed there with %s.", Force(d.Contact))
	case d.Hold == plant.HeldShut:
		return fmt.Sprintf("The disc is about to leave its seat; friction holds it with %s.", Force(math.Abs(d.Friction)))
	case d.Hold == plant.HeldOpen && d.Contact < 0:
		return fmt.Sprintf("The disc rests at its stop, %s down, pressed there with %s.", millimetres(d.Lift), Force(-d.Contact))
	case d.Hold == plant.HeldOpen:
		return fmt.Sprintf("The disc is about to leave its stop; friction holds it with %s.", Force(math.Abs(d.Friction)))
	case d.Hold == plant.Sticking:
		return fmt.Sprintf("The disc sticks %s down; friction holds it with %s.", millimetres(d.Lift), Force(math.Abs(d.Friction)))
	case d.Floats:
		return fmt.Sprintf("The disc floats %s down.", millimetres(d.Lift))
	}
	way := "down"
	if d.Speed < 0 {
		way = "up"
	}
	return fmt.Sprintf("The disc is %s down and moves %s at %.2f m/s.", millimetres(d.Lift), way, math.Abs(d.Speed))
}

// Explain says all that matters of a valve at one moment, sentence by
// sentence: what it does, what holds the disc, by what margin, and which link
// decides.
func Explain(f *explain.Facts) []string {
	out := []string{Capital(State(f.State)) + ".", Holder(f), Capital(Margin(f)) + "."}
	verdict := "What decides is " + Link(f.Why.Link) + ": "
	if f.Why.Link == explain.None {
		verdict = ""
	}
	out = append(out, Capital(verdict+Reason(f, f.Why))+".")
	if f.State == explain.HungOpen {
		out = append(out, fallen(f))
	}
	return out
}

// fallen says how far the system must fall before a hung disc goes back.
func fallen(f *explain.Facts) string {
	if p := f.Reseat.Vessel; p.Known {
		return fmt.Sprintf("As things stand it goes back once the vessel has fallen to about %s.", Pressure(p.Value))
	}
	return "As things stand no fall of pressure brings it back."
}

// Capital begins a text with a capital letter.
func Capital(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[n:]
}
