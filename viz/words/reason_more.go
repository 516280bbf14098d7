package words

import (
	"fmt"

	"underdisc/model/explain"
	"underdisc/model/network"
	"underdisc/model/unit"
)

// moreReasons are those of sensing line, contacts, wiring and gaskets.
var moreReasons = map[explain.Reason]sayer{
	explain.ReadingStays: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the reading does not follow: it stays at %s bar abs where the pressure is %s", Bar(f.Switch.Reading), Bar(f.Switch.Sensed))
	},
	explain.ReadsOff: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the reading is off: it settles %s the pressure of %s bar abs, and the switch trips at %s", OffBy(f.Switch.Offset), Bar(f.Switch.Sensed), Bar(trip(f)))
	},
	explain.SensedElsewhere: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the place that is sensed does not have the vessel's pressure: %s bar abs there, and the switch makes at %s", Bar(f.Switch.Sensed), Bar(f.Switch.Set))
	},
	explain.InletDrops: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the line loses %s while the valve blows, which is what makes the switch reset: set and reset lie %s apart",
			Difference(f.Cycle.InletDrop.Value), Difference(f.Switch.Set-f.Switch.Reset))
	},
	explain.StuckMade: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the switch's contact stays closed: it reads %s bar abs and should open at %s", Bar(f.Switch.Reading), Bar(f.Switch.Reset))
	},
	explain.StuckOpen: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the switch's contact stays open: it reads %s bar abs and should close at %s", Bar(f.Switch.Reading), Bar(f.Switch.Set))
	},
	explain.ContactOpen: func(f *explain.Facts, _ explain.Verdict) string {
		return "the relay is on, but its contact passes nothing: " + Voltage(f.Coil.Voltage) + " at the coil"
	},
	explain.ContactWelded: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the relay is off, but its contact stays closed: %s at the coil, which draws %s", Voltage(f.Coil.Voltage), Current(f.Coil.Current))
	},
	explain.CoilHot: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the coil is too hot: at %s %s drive %s, and the pilot needs %s; cold they would drive %s",
			Degrees(f.Coil.Temperature), Voltage(f.Coil.Voltage), Current(f.Coil.Steady), Current(f.Coil.PullIn), Current(f.Coil.ColdSteady))
	},
	explain.FuseGone: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the relay is on, but the fuse %s: %s at the coil", Fuse(f.Coil.Fuse), Voltage(f.Coil.Voltage))
	},
	explain.EarthsFeed: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("%d faults to earth feed the coil past relay and fuse: %s, %s", f.Coil.Earths, Voltage(f.Coil.Voltage), Current(f.Coil.Current))
	},
	explain.StrokeShort: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the pilot opens too little: %.2f mm of its %.2f mm%s", 1e3*f.Pilot.Stroke, 1e3*f.Pilot.Whole, settles(f))
	},
	explain.GuideOutruns: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("the guide feeds the chamber as fast as the open pilot empties it, %s in%s", Flow(f.Chamber.In), settles(f))
	},
	explain.WaterFlashes: func(f *explain.Facts, _ explain.Verdict) string {
		return fmt.Sprintf("water in the chamber boils off and holds it up: %s bar abs now, %s needed", Bar(f.Chamber.Pressure), Bar(f.Thresholds.OpensBelow))
	},
	explain.CoverLeaks: func(f *explain.Facts, _ explain.Verdict) string {
		text := fmt.Sprintf("the chamber's cover leaks %s", Flow(f.Chamber.Cover))
		if s := f.Chamber.SteadyShut; s.Known {
			text += fmt.Sprintf(", so the chamber settles at %s bar abs", Bar(s.Value))
		}
		return text
	},
	explain.BodyIsolated:  fixed("the block valve is shut and the body is empty, so nothing pushes the disc open"),
	explain.SpringTooWeak: fixed("the spring gives less than the disc's weight, so no chamber pressure shuts it"),
}

func init() {
	for r, say := range moreReasons {
		reasons[r] = say
	}
}

// trip is where the switch trips next, Pa absolute.
func trip(f *explain.Facts) float64 {
	if f.Switch.Made {
		return f.Switch.Reset
	}
	return f.Switch.Set
}

// OffBy says by how much [Pa] a reading settles off the pressure: "0.30 bar
// below".
func OffBy(offset float64) string {
	if offset < 0 {
		return Difference(-offset) + " below"
	}
	return Difference(offset) + " above"
}

// Fuse says how a fuse is.
func Fuse(s network.FuseState) string {
	switch s {
	case network.FuseBlown:
		return "has blown"
	case network.FuseOut:
		return "is out of its holder"
	}
	return "is in"
}

// OpenCircuit tells whether a coil with a supply draws as good as nothing.
func OpenCircuit(c *explain.CoilFacts) bool {
	return c.Supply > 0 && c.Supply/c.Impedance < 0.01*c.PullIn
}

// tooWeak says why the coil does not reach its pull-in.
func tooWeak(f *explain.Facts) string {
	if f.Coil.Supply == 0 {
		return fmt.Sprintf("the coil has no supply, and the pilot needs %s", Current(f.Coil.PullIn))
	}
	if OpenCircuit(&f.Coil) {
		return fmt.Sprintf("the coil's circuit is open: %s drive no current through %s, and the pilot needs %s",
			Voltage(f.Coil.Voltage), unit.Format(f.Coil.Resistance, unit.Resistance), Current(f.Coil.PullIn))
	}
	return fmt.Sprintf("the coil is too weak: %s drive %s through its %s, and the pilot needs %s",
		Voltage(f.Coil.Voltage), Current(f.Coil.Steady), unit.Format(f.Coil.Impedance, unit.Resistance), Current(f.Coil.PullIn))
}
