package view

import (
	"fmt"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// holds says what it is about the link that acts, to follow "Told to shut,
// but".
func (s *sayer) holds() string {
	f, st := s.f, s.st
	ch := &f.Chamber
	needs := fmt.Sprintf("above %s", s.p(f.Thresholds.ShutsAbove))
	if st.Disc.Hold == plant.HeldShut || f.Asked {
		needs = fmt.Sprintf("below %s", s.p(f.Thresholds.OpensBelow))
	}
	settles := func() string {
		if !ch.Steady.Known {
			return fmt.Sprintf("%s, and must go %s", s.n(st.Below), needs)
		}
		return fmt.Sprintf("%s, must go %s and settles at %s", s.n(st.Below), needs, s.n(ch.Steady.Value))
	}
	switch f.Acts.Reason {
	case explain.BelowSet:
		return fmt.Sprintf("the switch has not made: it reads %s and sets at %s", s.n(st.Control.Reading), s.p(st.Control.Set))
	case explain.AboveReset:
		return fmt.Sprintf("the switch has not reset: it reads %s and resets at %s", s.n(st.Control.Reading), s.p(st.Control.Reset))
	case explain.SensorLags:
		return fmt.Sprintf("the sensor lags: it reads %s where there are %s", s.n(st.Control.Reading), s.p(f.Switch.Sensed))
	case explain.DeadbandShort:
		return fmt.Sprintf("set and reset lie only %s apart", s.dp(st.Control.Set-st.Control.Reset))
	case explain.RunsNearSet:
		return fmt.Sprintf("the switch does as it should, %s from set to reset, and the pressure is brought back to set each time", s.dp(st.Control.Set-st.Control.Reset))
	case explain.NotFitted:
		return "no relay feeds its coil"
	case explain.SelectorOff:
		return "the selector holds the relay off"
	case explain.SelectorOpen:
		return "the selector holds the relay on"
	case explain.PickUpDelay:
		return "the relay has yet to pick up" + in(f.Acts.In)
	case explain.DropOutDelay:
		return "the relay has yet to drop out" + in(f.Acts.In)
	case explain.CurrentRising:
		return fmt.Sprintf("the coil's current is still rising: %s A now; at %s A it lifts the pilot", scene.Current(st.Coil.Current), scene.Current(st.Coil.PullIn))
	case explain.CurrentTooLow:
		if words.OpenCircuit(&f.Coil) {
			return fmt.Sprintf("the coil's circuit is open: %s drive %s A, and the pilot lifts at %s A", words.Voltage(f.Coil.Voltage), scene.Current(f.Coil.Steady), scene.Current(st.Coil.PullIn))
		}
		if f.Coil.Supply == 0 {
			return fmt.Sprintf("the coil has no supply, and the pilot lifts at %s A", scene.Current(st.Coil.PullIn))
		}
		return fmt.Sprintf("the coil is too weak: its current ends at %s A, and the pilot lifts at %s A", scene.Current(f.Coil.Steady), scene.Current(st.Coil.PullIn))
	case explain.CoilHot:
		return fmt.Sprintf("the coil is too hot: at %s its current ends at %s A, and the pilot lifts at %s A", s.u.Temperature(f.Coil.Temperature), scene.Current(f.Coil.Steady), scene.Current(st.Coil.PullIn))
	case explain.CurrentDecaying:
		return fmt.Sprintf("the coil still pulls: %s A now, the pilot drops at %s A", scene.Current(st.Coil.Current), scene.Current(st.Coil.DropOut))
	case explain.CurrentLost:
		return fmt.Sprintf("the coil lets go: its current ends at %s A, the pilot drops at %s A", scene.Current(f.Coil.Steady), scene.Current(st.Coil.DropOut))
	case explain.PilotMoving:
		return fmt.Sprintf("the pilot is on its way, %s of %s open", scene.Millimetres(st.Pilot.Lift), scene.Millimetres(st.Pilot.Stroke))
	case explain.PilotBonded:
		return fmt.Sprintf("the plunger sticks, and %s more are needed to free it", scene.Force(f.Pilot.Lacking))
	case explain.PilotLeaks:
		return "the shut pilot leaks: the chamber is at " + settles()
	case explain.StrokeShort:
		return "the pilot opens too little: the chamber is at " + settles()
	case explain.ChamberEmptying:
		return fmt.Sprintf("the chamber is still emptying: %s, and must go %s", s.n(st.Below), needs)
	case explain.BleedOutruns:
		return "the bleed outruns the pilot: the chamber is at " + settles()
	case explain.GuideOutruns:
		return "the guide outruns the pilot: the chamber is at " + settles()
	case explain.WaterFlashes:
		return fmt.Sprintf("water in the chamber boils off and holds it up: %s, and must go %s", s.n(st.Below), needs)
	case explain.CoverLeaks:
		return "the cover leaks: the chamber is at " + settles()
	case explain.DumpBacksUp:
		return "the dump line backs up: the chamber is at " + settles()
	case explain.ChamberFilling:
		return fmt.Sprintf("the chamber is still filling: %s, and must go %s", s.n(st.Below), needs)
	case explain.NoInflow:
		return fmt.Sprintf("nothing refills the chamber: it stays at %s and must go %s", s.n(st.Below), needs)
	case explain.FillsTooSlowly:
		out := fmt.Sprintf("the chamber refills too slowly: %s, and must go %s", s.n(st.Below), needs)
		if r := ch.Refill; r.Known {
			out += ", " + scene.Span(r.Value) + " from empty"
		}
		return out
	case explain.DiscStuck:
		by := "friction holds the disc: it could hold"
		if f.Disc.Bond > 0 {
			by = "friction and a bond hold the disc: they could hold"
		}
		can := f.Disc.Stick + f.Disc.Bond
		return fmt.Sprintf("%s %s, and %s push it", by, scene.Force(can), s.net())
	case explain.DiscFloats:
		return fmt.Sprintf("the disc floats in balance, %s off its seat", scene.Millimetres(st.Disc.Lift))
	case explain.TooLittleDifference:
		return fmt.Sprintf("inlet over outlet, %s, does not overcome the spring's %s", s.dp(st.Above-st.Outlet), scene.Force(st.Disc.Spring))
	case explain.BodyIsolated:
		return fmt.Sprintf("the block valve is shut: the body has %s where the vessel has %s", s.n(st.Above), s.p(st.Vessel))
	case explain.SpringTooWeak:
		return fmt.Sprintf("the spring's %s do not carry the disc's %s, and a full chamber does not help", scene.Force(st.Disc.Spring), scene.Force(st.Disc.Weight))
	case explain.OutletHolds:
		return fmt.Sprintf("the outlet's %s hold the disc off its seat, whatever the chamber does", s.p(st.Outlet))
	case explain.SeatLeaks:
		return fmt.Sprintf("the seat leaks %s", s.u.Flow(st.Seat))
	case explain.Chatters:
		return "it chatters"
	case explain.DiscMoving:
		return fmt.Sprintf("the disc is on its way, %s of %s open", scene.Millimetres(st.Disc.Lift), scene.Millimetres(st.Disc.Travel))
	}
	if said := s.wired(); said != "" {
		return said
	}
	return "every link stands as asked"
}

// wired says what it is about sensing line, contacts and wiring.
func (s *sayer) wired() string {
	f, c := s.f, &s.st.Control
	switch f.Acts.Reason {
	case explain.ReadingStays:
		return fmt.Sprintf("the reading does not follow: it stays at %s where there are %s", s.n(c.Reading), s.p(f.Switch.Sensed))
	case explain.ReadsOff:
		return fmt.Sprintf("the reading is off: it goes to %s where there are %s", s.n(f.Switch.Sensed+f.Switch.Offset), s.p(f.Switch.Sensed))
	case explain.SensedElsewhere:
		return fmt.Sprintf("the vessel has %s, the place that is sensed %s, and the switch sets at %s", s.n(s.st.Vessel), s.n(f.Switch.Sensed), s.p(c.Set))
	case explain.InletDrops:
		return fmt.Sprintf("the line loses %s while it blows, of the %s between set and reset", s.dp(f.Cycle.InletDrop.Value), s.dp(c.Set-c.Reset))
	case explain.StuckMade:
		return fmt.Sprintf("the switch's contact stays closed: it reads %s and resets at %s", s.n(c.Reading), s.p(c.Reset))
	case explain.StuckOpen:
		return fmt.Sprintf("the switch's contact stays open: it reads %s and sets at %s", s.n(c.Reading), s.p(c.Set))
	case explain.ContactOpen:
		return fmt.Sprintf("the relay is on, but its contact stays open: the coil has %s", words.Voltage(s.st.Coil.Voltage))
	case explain.ContactWelded:
		return fmt.Sprintf("the relay is off, but its contact stays closed: the coil draws %s A", scene.Current(s.st.Coil.Current))
	case explain.FuseGone:
		return fmt.Sprintf("the fuse %s: the coil has %s", words.Fuse(f.Coil.Fuse), words.Voltage(s.st.Coil.Voltage))
	case explain.EarthsFeed:
		return fmt.Sprintf("%d faults to earth feed the coil past relay and fuse: it draws %s A", f.Coil.Earths, scene.Current(s.st.Coil.Current))
	}
	return ""
}

func in(t explain.Opt) string {
	if !t.Known {
		return ""
	}
	return ", in " + scene.Span(t.Value)
}
