package words

import (
	"fmt"
	"math"
	"strings"

	"underdisc/model/explain"
)

// State says what a valve does in one or two words.
func State(s explain.State) string { return strings.ReplaceAll(s.String(), "-", " ") }

// Link names a link with its number: "link 4 (pilot)".
func Link(l explain.Link) string {
	if l == explain.None {
		return "no link"
	}
	return fmt.Sprintf("link %d (%s)", int(l), l)
}

// Reason says what it is about the link of a verdict, in one sentence without
// a full stop.
func Reason(f *explain.Facts, v explain.Verdict) string {
	say, ok := reasons[v.Reason]
	if !ok {
		return "nothing can be said of " + Link(v.Link)
	}
	return say(f, v) + soon(v)
}

// soon says when the link changes over, if that is known.
func soon(v explain.Verdict) string {
	if !v.In.Known || v.In.Value > 3600 {
		return ""
	}
	return "; at this pace it changes over in " + Gap(v.In.Value)
}

type sayer func(f *explain.Facts, v explain.Verdict) string

func fixed(text string) sayer { return func(*explain.Facts, explain.Verdict) string { return text } }

// reasons has a sentence for every reason.
var reasons = map[explain.Reason]sayer{
	explain.NoReason: fixed("every link stands as asked"),

	explain.BelowSet: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the switch has not made: it reads %s bar abs and makes at %s", Bar(f.Switch.Reading), Bar(f.Switch.Set))
	},
	explain.AboveReset: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the switch has not reset: it reads %s bar abs and resets at %s", Bar(f.Switch.Reading), Bar(f.Switch.Reset))
	},
	explain.SensorLags: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the sensor lags: the pressure is %s bar abs, past the switch's trip point, and it reads %s",
			Bar(f.Switch.Sensed), Bar(f.Switch.Reading))
	},
	explain.DeadbandShort: func(f *explain.Facts, _ explain.Verdict) string {
		text := fmt.Sprintf("the switch asks for too short a lift: between set and reset lie %s", Difference(f.Switch.Set-f.Switch.Reset))
		if s := f.Cycle.ShortestBlowdown; s.Known {
			text += fmt.Sprintf(", and the vessel loses %s merely while the valve shuts", Difference(s.Value))
		}
		return text
	},

	explain.RunsNearSet: fixed("it does as its switch asks, and the pressure is brought back to set each time"),

	explain.NotFitted:    fixed("no relay feeds the coil"),
	explain.SelectorOff:  fixed("the selector holds the relay off"),
	explain.SelectorOpen: fixed("the selector holds the relay on"),
	explain.PickUpDelay:  fixed("the relay has been told to go on"),
	explain.DropOutDelay: fixed("the relay has been told to go off"),

	explain.CurrentRising: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the coil's current is %s and rising; the pilot lifts at %s", Current(f.Coil.Current), Current(f.Coil.PullIn))
	},
	explain.CurrentTooLow: func(f *explain.Facts, _ explain.Verdict) string { return tooWeak(f) },
	explain.CurrentDecaying: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the coil's current is %s and dying away; the pilot drops below %s", Current(f.Coil.Current), Current(f.Coil.DropOut))
	},
	explain.CurrentLost: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the coil no longer holds: its current goes to %s, the pilot drops below %s", Current(f.Coil.Steady), Current(f.Coil.DropOut))
	},

	explain.PilotMoving: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the pilot is on its way, %s of %s open", millimetres(f.Pilot.Lift), millimetres(f.Pilot.Stroke))
	},
	explain.PilotBonded: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the plunger sticks: %s hold it, %s are lacking to free it", Force(f.Pilot.Bond), Force(f.Pilot.Lacking))
	},
	explain.PilotLeaks: func(f *explain.Facts, _ explain.Verdict) string {
		text := fmt.Sprintf("the shut pilot leaks %s", Flow(f.Pilot.Flow))
		if s := f.Chamber.SteadyShut; s.Known {
			text += fmt.Sprintf(", so the chamber settles at %s bar abs", Bar(s.Value))
		}
		return text
	},

	explain.ChamberEmptying: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the chamber is emptying: %s bar abs now, %s needed%s", Bar(f.Chamber.Pressure), Bar(f.Thresholds.OpensBelow), settles(f))
	},
	explain.BleedOutruns: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the bleed feeds the chamber as fast as the open pilot empties it, %s in%s", Flow(f.Chamber.In), settles(f))
	},
	explain.DumpBacksUp: func(f *explain.Facts, _ explain.Verdict) string {
		return "the dump line backs up and keeps the chamber under pressure" + settles(f)
	},
	explain.ChamberFilling: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the chamber is filling: %s bar abs now, %s needed%s", Bar(f.Chamber.Pressure), Bar(f.Thresholds.ShutsAbove), settles(f))
	},
	explain.NoInflow: fixed("nothing feeds the chamber, so it cannot fill"),
	explain.FillsTooSlowly: func(f *explain.Facts, _ explain.Verdict) string {
		text := fmt.Sprintf("the chamber fills too slowly, with %s", Flow(f.Chamber.In))
		if r := f.Chamber.Refill; r.Known {
			text += ": " + Gap(r.Value) + " from empty to where it shuts the disc"
		}
		return text
	},

	explain.DiscMoving: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the disc is on its way, %s of %s open", millimetres(f.Disc.Lift), millimetres(f.Disc.Travel))
	},
	explain.DiscStuck: func(f *explain.Facts, _ explain.Verdict) string {
		return "the disc sticks in its guide; " + holding(&f.Disc) + " holds it with " + rubbing(&f.Disc)
	},
	explain.DiscFloats: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the disc floats in balance, %s of %s open", millimetres(f.Disc.Lift), millimetres(f.Disc.Travel))
	},
	explain.TooLittleDifference: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the chamber is as low as the outlet lets it go, %s bar abs, and the pressure left across the valve does not overcome the spring", Bar(f.Chamber.Pressure))
	},
	explain.OutletHolds: fixed("the pressure at the outlet pushes the disc off its seat, whatever the chamber's"),
	explain.SeatLeaks: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the shut seat leaks %s", Flow(f.Disc.LeakFlow))
	},
	explain.Chatters: fixed("the disc chatters: it lifts and falls again and again without being told to each time"),
}

// settles says where the chamber's pressure is heading.
func settles(f *explain.Facts) string {
	if s := f.Chamber.Steady; s.Known {
		return fmt.Sprintf("; it settles at %s", Bar(s.Value))
	}
	return ""
}

// millimetres writes a lift [m]; one that rounding has put below zero as zero.
func millimetres(x float64) string {
	const half = 0.05e-3
	if math.Abs(x) < half {
		x = 0
	}
	return fmt.Sprintf("%.1f mm", 1e3*x)
}
