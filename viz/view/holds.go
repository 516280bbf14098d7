package view

import (
	"fmt"
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/viz/scene"
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
		return fmt.Sprintf("the coil is too weak: its current ends at %s A, and the pilot lifts at %s A", scene.Current(f.Coil.Steady), scene.Current(st.Coil.PullIn))
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
	case explain.ChamberEmptying:
		return fmt.Sprintf("the chamber is still emptying: %s, and must go %s", s.n(st.Below), needs)
	case explain.BleedOutruns:
		return "the bleed outruns the pilot: the chamber is at " + settles()
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
		return fmt.Sprintf("friction holds the disc with %s, against %s that would move it", scene.Force(math.Abs(st.Disc.Friction)), s.net())
	case explain.DiscFloats:
		return fmt.Sprintf("the disc floats in balance, %s off its seat", scene.Millimetres(st.Disc.Lift))
	case explain.TooLittleDifference:
		return fmt.Sprintf("inlet over outlet, %s, does not overcome the spring's %s", s.dp(st.Above-st.Outlet), scene.Force(st.Disc.Spring))
	case explain.OutletHolds:
		return fmt.Sprintf("the outlet's %s hold the disc off its seat, whatever the chamber does", s.p(st.Outlet))
	case explain.SeatLeaks:
		return fmt.Sprintf("the seat leaks %s", s.u.Flow(st.Seat))
	case explain.Chatters:
		return "it chatters"
	case explain.DiscMoving:
		return fmt.Sprintf("the disc is on its way, %s of %s open", scene.Millimetres(st.Disc.Lift), scene.Millimetres(st.Disc.Travel))
	}
	return "every link stands as asked"
}

func in(t explain.Opt) string {
	if !t.Known {
		return ""
	}
	return ", in " + scene.Span(t.Value)
}
