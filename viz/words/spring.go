package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"underdisc/model/explain"
)

// Units are the units that sentences about a spring-loaded valve are in.
type Units interface {
	PressureOf(p float64) string
	PressureName() string
	Difference(dp float64) string
	DifferenceName() string
	Flow(w float64) string
}

// SpringState says what a spring-loaded valve does in a few words.
func SpringState(s explain.SpringStand) string { return strings.ReplaceAll(s.String(), "-", " ") }

// SpringQuestion is the question that its state raises.
func SpringQuestion(q explain.SpringQuestion) string { return springQuestions[q] }

var springQuestions = map[explain.SpringQuestion]string{
	explain.WhyTight:      "Why is it shut?",
	explain.WhySimmers:    "Why does it simmer?",
	explain.WhyOpen:       "Why is it open?",
	explain.WhyWontReseat: "Why does it not reseat?",
	explain.WhyHeldOff:    "Why does it not seat?",
	explain.WhyCannotLift: "Why can it not lift?",
	explain.WhyChatters:   "Why does it chatter?",
}

// teller writes sentences in given units.
type teller struct{ u Units }

func (t teller) pressure(p float64) string { return t.u.PressureOf(p) + " " + t.u.PressureName() }
func (t teller) difference(dp float64) string {
	return t.u.Difference(math.Abs(dp)) + " " + t.u.DifferenceName()
}

// SpringAnswer answers the question in a few sentences: what holds the valve, in
// numbers; what it waits for and when that comes; what the lever, a back pressure
// or a gag have to do with it.
func SpringAnswer(f *explain.SpringFacts, u Units) []string {
	t := teller{u}
	out := []string{springReasons[f.Why](t, f)}
	if s := t.waits(f); s != "" {
		out = append(out, s)
	}
	if s := t.behind(f); s != "" {
		out = append(out, s)
	}
	if s := t.hand(f); s != "" {
		out = append(out, s)
	}
	return out
}

// springReasons has a sentence for every reason.
var springReasons = map[explain.SpringReason]func(teller, *explain.SpringFacts) string{
	explain.BelowParting: func(t teller, f *explain.SpringFacts) string {
		text := fmt.Sprintf("It is shut: its faces part at %s at its inlet, and there are %s, %s less. Spring and weight press it down with %s, the pressure on its seat lifts with %s.",
			t.pressure(f.Parting.Pressure), t.pressure(f.Inlet), t.difference(f.Parting.Margin), Force(f.Forces.Spring+f.Forces.Weight), Force(f.Forces.Seat+f.Forces.Bellows))
		if f.Parting.Friction > 0.005*f.Parting.Pressure {
			text += fmt.Sprintf(" Friction of its guide is %s of that pressure.", t.difference(f.Parting.Friction))
		}
		if f.LeakW > 0 {
			text += fmt.Sprintf(" Yet %s pass its shut seat.", t.u.Flow(f.LeakW))
		}
		return text
	},
	explain.RingLetsOut: func(t teller, f *explain.SpringFacts) string {
		return fmt.Sprintf("It simmers: its faces have parted by %s, and %s pass. What leaks out leaves over the lower ring as fast as it comes, so that the huddling chamber adds %s, and the spring stays stronger.",
			microns(f.Lift), t.u.Flow(f.Flow), little(f.Forces.Huddle))
	},
	explain.HuddleLifts: func(t teller, f *explain.SpringFacts) string {
		return fmt.Sprintf("It is on its way up, %s off its seat: what passes adds %s to the %s on its seat, more than the spring gives way.",
			millimetres(f.Lift), Force(f.Forces.Flow()), Force(f.Forces.Seat))
	},
	explain.FlowHolds: func(t teller, f *explain.SpringFacts) string {
		o := &f.Forces
		return fmt.Sprintf("It is held open, %s off its seat, by its own flow: the pressure on its seat gives %s against %s of spring and weight, and what passes adds %s: %s.",
			millimetres(f.Lift), Force(o.Seat+o.Bellows), Force(o.Spring+o.Weight), Force(o.Flow()), adds(o)) + beyond(f)
	},
	explain.PressureHolds: func(t teller, f *explain.SpringFacts) string {
		o := &f.Forces
		return fmt.Sprintf("The pressure on its seat alone holds it open, %s off its seat: %s against %s of spring and weight; what passes adds %s: %s.",
			millimetres(f.Lift), Force(o.Seat+o.Bellows), Force(o.Spring+o.Weight), Force(o.Flow()), adds(o)) + beyond(f)
	},
	explain.InBalance: func(t teller, f *explain.SpringFacts) string {
		o := &f.Forces
		return fmt.Sprintf("It floats %s off its seat, of %s that it could lift: there the spring and the weight, %s, and what pushes it up, %s on its seat and %s by what passes, are in balance.",
			millimetres(f.Lift), millimetres(f.FullTravel), Force(o.Spring+o.Weight), Force(o.Seat+o.Bellows), Force(o.Flow()))
	},
	explain.SpringShuts: func(t teller, f *explain.SpringFacts) string {
		o := &f.Forces
		if up := o.Seat + o.Bellows + o.Flow(); up > o.Spring+o.Weight {
			return fmt.Sprintf("It is on its way down, %s off its seat, thrown back: what lifts it, %s, is more than spring and weight, %s, and will turn it round.",
				millimetres(f.Lift), Force(up), Force(o.Spring+o.Weight))
		}
		return fmt.Sprintf("It is on its way down, %s off its seat: spring and weight, %s, are stronger than what still lifts it, %s.",
			millimetres(f.Lift), Force(o.Spring+o.Weight), Force(o.Seat+o.Bellows+o.Flow()))
	},
	explain.NutHolds: func(t teller, f *explain.SpringFacts) string {
		return fmt.Sprintf("The lifting nut has turned down and holds the disc %s off its seat: the lever has no free play. %s pass.", finely(f.HeldOff), Capital(t.u.Flow(f.Flow)))
	},
	explain.DebrisHolds: func(t teller, f *explain.SpringFacts) string {
		text := fmt.Sprintf("Something lies on its seat and holds the disc %s off it: the lever has free play, so it is not the nut. %s pass.", finely(f.HeldOff), Capital(t.u.Flow(f.Flow)))
		if f.Washes {
			return text + " A full lift would carry it away."
		}
		return text
	},
	explain.LeverHolds: func(t teller, f *explain.SpringFacts) string {
		o := &f.Forces
		return fmt.Sprintf("The lever holds it up, %s off its seat: a pull of %s by hand gives %s at the spindle. Without it spring and weight, %s, would shut it against %s.",
			millimetres(f.Lift), Force(f.Hand.Now), Force(o.Lever), Force(o.Spring+o.Weight), Force(o.Seat+o.Bellows+o.Flow()))
	},
	explain.GagHolds: func(t teller, f *explain.SpringFacts) string {
		text := fmt.Sprintf("A gag is on its spindle and leaves it %s of its %s of lift.", finely(f.Travel), millimetres(f.FullTravel))
		if f.Forces.Stop > 0 {
			return text + fmt.Sprintf(" It is pressed against it with %s: without it, it would be open. It protects nothing now.", Force(f.Forces.Stop))
		}
		return text + fmt.Sprintf(" Without it, its faces would part at %s; there are %s. With it, it protects nothing.", t.pressure(f.Parting.Pressure), t.pressure(f.Inlet))
	},
	explain.InletStarves: func(t teller, f *explain.SpringFacts) string {
		return fmt.Sprintf("It chatters, up and down every %s: as it opens, the pressure at its inlet breaks down below that in the vessel, and it shuts; then it comes back, and it opens. Now there are %s in the vessel and %s at its inlet.",
			every(f), t.pressure(f.Vessel), t.pressure(f.Inlet))
	},
	explain.TooMuchValve: func(t teller, f *explain.SpringFacts) string {
		return fmt.Sprintf("It chatters, up and down every %s: it passes so much more than comes that each lift draws the pressure below that at which it shuts.", every(f))
	},
	explain.FrictionHolds: func(t teller, f *explain.SpringFacts) string {
		way := "up"
		if f.Forces.Net < 0 {
			way = "down"
		}
		return fmt.Sprintf("Friction of its guide keeps it %s off its seat: %s push it %s, and friction can give %s.", microns(f.Lift), Force(math.Abs(f.Forces.Net)), way, Force(f.Forces.Friction))
	},
}

// little writes a force that may be next to nothing.
func little(f float64) string {
	if math.Abs(f) < 0.5 {
		return "next to nothing"
	}
	return "only " + Force(f)
}

// adds says what the flow's force is made of.
func adds(o *explain.SpringForces) string {
	var parts []string
	for _, p := range []struct {
		f    float64
		name string
	}{{o.Momentum, "by its change of direction"}, {o.Huddle, "in the huddling chamber"}, {o.Upper, "below the upper ring"}, {o.Jet, "turned down by hood or disc"}} {
		if math.Abs(p.f) >= 0.5 {
			parts = append(parts, Force(p.f)+" "+p.name)
		}
	}
	if len(parts) == 0 {
		return "nothing"
	}
	return strings.Join(parts, ", ")
}

// beyond says by how much it is held at its stop.
func beyond(f *explain.SpringFacts) string {
	if f.Forces.Stop > 0.5 {
		return fmt.Sprintf(" That leaves %s that press it against its stop.", Force(f.Forces.Stop))
	}
	return ""
}

// waits says what the valve waits for, and when that comes.
func (t teller) waits(f *explain.SpringFacts) string {
	soon := ""
	if f.In.Known {
		soon = ": in about " + about(f.In.Value)
	}
	switch f.State {
	case explain.SpringTight:
		if f.In.Known {
			return fmt.Sprintf("The pressure there is %s; at this pace it begins to simmer in about %s.", t.going(f), about(f.In.Value))
		}
	case explain.SpringSimmering:
		if p := f.Folds.Pop; p.Known {
			return fmt.Sprintf("It pops when the inlet reaches %s; now %s, %s%s. Below %s it is tight again.",
				t.pressure(p.Value), t.pressure(f.Inlet), t.going(f), soon, t.pressure(f.Parting.Shuts))
		}
		return fmt.Sprintf("Below %s at its inlet it is tight again; now %s, %s.", t.pressure(f.Parting.Shuts), t.pressure(f.Inlet), t.going(f))
	case explain.SpringAtFullLift, explain.SpringPartly:
		p := f.Folds.Reseat
		switch {
		case p.Known && f.Inlet > p.Value:
			return fmt.Sprintf("It reseats when the inlet falls below %s; now %s, %s%s.", t.pressure(p.Value), t.pressure(f.Inlet), t.going(f), soon)
		case p.Known:
			return fmt.Sprintf("At %s at its inlet it would reseat; there are %s: it is about to go.", t.pressure(p.Value), t.pressure(f.Inlet))
		}
		return fmt.Sprintf("The inlet is at %s, %s.", t.pressure(f.Inlet), t.going(f))
	}
	return ""
}

// going says where the pressure at the inlet goes.
func (t teller) going(f *explain.SpringFacts) string {
	rate := t.u.Difference(math.Abs(f.InletRate))
	if v, err := strconv.ParseFloat(rate, 64); err == nil && v == 0 {
		return "steady"
	}
	way := "rising"
	if f.InletRate < 0 {
		way = "falling"
	}
	return fmt.Sprintf("%s by %s %s each second", way, rate, t.u.DifferenceName())
}

// behind says what a back pressure does to it.
func (t teller) behind(f *explain.SpringFacts) string {
	b := &f.Back
	const worth = 0.002
	if !(math.Abs(b.Superimposed)+math.Abs(b.BuiltUp) > worth*f.Parting.Pressure) {
		return ""
	}
	text := fmt.Sprintf("Behind it stand %s more than outside: %s where its pipe ends, %s built up by what flows.",
		t.difference(b.Superimposed+b.BuiltUp), t.difference(b.Superimposed), t.difference(b.BuiltUp))
	if f.State == explain.SpringTight || f.State == explain.SpringSimmering {
		text += fmt.Sprintf(" That raises the pressure at which its faces part by %s.", t.difference(b.Raises))
	}
	return text
}

// hand says what it takes at the lever.
func (t teller) hand(f *explain.SpringFacts) string {
	h := &f.Hand
	if !h.Fitted || f.State != explain.SpringTight {
		return ""
	}
	text := fmt.Sprintf("By hand at the lever it would take %s now (%s without pressure)", Force(h.ToLift), Force(h.ToLift0))
	switch {
	case h.Asked && !h.Can():
		return text + fmt.Sprintf("; the hand that pulls gives %s, which is not enough.", Force(h.Most))
	case !h.Can():
		return text + fmt.Sprintf("; a person gives %s at most, so it cannot be lifted by hand.", Force(h.Most))
	case !f.Flushes():
		return text + "; the pressure is too low to flush its seat, so that this is no time to lift it."
	}
	return text + fmt.Sprintf("; a person gives %s at most.", Force(h.Most))
}

func every(f *explain.SpringFacts) string { return Gap(f.Every.Value) }

// microns writes a lift of the faces.
func microns(x float64) string {
	if x < 99.5e-6 {
		return strconv.FormatFloat(1e6*x, 'f', 1, 64) + " um"
	}
	return finely(x)
}

// finely writes a length in mm to the hundredth.
func finely(x float64) string { return strconv.FormatFloat(1e3*x, 'f', 2, 64) + " mm" }

// about writes a time that is only foretold.
func about(t float64) string {
	switch {
	case t < 0.95:
		return strconv.FormatFloat(t, 'f', 1, 64) + " s"
	case t < 120:
		return strconv.FormatFloat(t, 'f', 0, 64) + " s"
	}
	return strconv.FormatFloat(t/60, 'f', 0, 64) + " min"
}
