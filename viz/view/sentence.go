package view

import (
	"fmt"
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// Sentence says why the valve does what it does: the cause, in the past, the
// threshold, the push now. It is at most 130 characters long in any unit.
func Sentence(f *explain.Facts, st *plant.ValveState, u scene.Units) string {
	s := sayer{f, st, u}
	switch f.State {
	case explain.Shut:
		return s.shut()
	case explain.Emptying:
		return s.emptying()
	case explain.Opening:
		return s.opening()
	case explain.Open:
		return s.open()
	case explain.Refilling:
		return s.refilling()
	case explain.Closing:
		return s.closing()
	case explain.HungOpen:
		return s.hung()
	case explain.Leaking:
		return s.leaking()
	}
	return s.cycling()
}

type sayer struct {
	f  *explain.Facts
	st *plant.ValveState
	u  scene.Units
}

func (s *sayer) p(p float64) string { return s.u.PressureOf(p) + " " + s.u.PressureName() }
func (s *sayer) n(p float64) string { return s.u.PressureOf(p) }
func (s *sayer) net() string        { return scene.Force(math.Abs(s.push())) }
func (s *sayer) dp(p float64) string {
	return s.u.Difference(p) + " " + s.u.DifferenceName()
}

// push on the disc, N, down positive, friction counted while it slides.
func (s *sayer) push() float64 {
	d := &s.st.Disc
	if d.Hold == plant.Moving {
		return d.Net + d.Friction + d.Damping
	}
	return d.Net
}

func area(a float64) string { return fmt.Sprintf("%.1f cm²", 1e4*a) }

func (s *sayer) shut() string {
	d := &s.st.Disc
	if s.f.Asked { // told to open, and it does not
		return "Told to open, but " + s.holds() + "."
	}
	if r := s.f.Acts.Reason; r == explain.SensedElsewhere || r == explain.StuckOpen || r == explain.ReadingStays || r == explain.ReadsOff {
		return "It should lift, but " + s.holds() + "."
	}
	lead := ""
	if math.Abs(s.st.Above-s.st.Below) < 0.01*s.st.Above {
		lead = "Equal pressures, but the"
	} else {
		lead = "The"
	}
	return fmt.Sprintf("%s chamber pushes up on %s and the body down only on the %s rim: the seat takes %s.",
		lead, area(d.GuideArea), area(d.GuideArea-d.SeatArea), scene.Force(math.Abs(d.Contact)))
}

func (s *sayer) emptying() string {
	if s.f.Chamber.Crosses {
		return fmt.Sprintf("The pilot has opened and the chamber empties: %s now; below %s it can no longer hold the disc up.",
			s.n(s.st.Below), s.p(s.f.Thresholds.LiftBelow))
	}
	if s.f.Asked {
		return "The pilot has opened, but " + s.holds() + "."
	}
	return fmt.Sprintf("The pilot is off its seat: the chamber is at %s and must fall below %s to let the disc go.",
		s.n(s.st.Below), s.p(s.f.Thresholds.LiftBelow))
}

func (s *sayer) opening() string {
	if s.push() > 0 {
		return fmt.Sprintf("The pilot has emptied the chamber to %s; %s would balance the disc here. With friction, %s drive it down.",
			s.p(s.st.Below), s.n(s.f.Margin.Threshold), s.net())
	}
	return fmt.Sprintf("The disc still moves down, though the chamber's %s now push it back up with %s.", s.p(s.st.Below), s.net())
}

func (s *sayer) open() string {
	stays := ""
	switch a := s.f.Acts; {
	case a.Reason == explain.AboveReset || a.Reason == explain.SensorLags && s.f.Asked:
		stays = fmt.Sprintf(", until the sensor falls from %s to %s", s.n(s.st.Control.Reading), s.p(s.st.Control.Reset))
		if s.n(s.st.Control.Reading) == s.n(s.st.Control.Reset) {
			stays = fmt.Sprintf("; the switch is about to reset, at %s", s.p(s.st.Control.Reset))
		}
	case a.Reason == explain.SelectorOpen:
		stays = ": the selector holds the relay on"
	case a.Reason == explain.DropOutDelay:
		stays = "; the switch has reset, the relay has yet to drop out"
	case a.Reason == explain.CurrentDecaying:
		stays = fmt.Sprintf("; the coil is off and its %s A must die to %s A", scene.Current(s.st.Coil.Current), scene.Current(s.st.Coil.DropOut))
	case a.Reason == explain.PilotMoving && s.f.Asked:
		stays = " while the pilot still moves"
	case a.Reason == explain.PilotMoving:
		stays = "; the pilot is on its way to its seat"
	case a.Reason == explain.StuckMade, a.Reason == explain.ReadingStays, a.Reason == explain.ReadsOff:
		return "It should shut, but " + s.holds() + "."
	default:
		return fmt.Sprintf("The disc is %s off its seat: %s.", scene.Millimetres(s.st.Disc.Lift), s.holds())
	}
	if s.st.Disc.Hold == plant.HeldOpen && s.st.Disc.Contact < 0 {
		return fmt.Sprintf("With the chamber at %s, the body holds the disc on its stop with %s%s.", s.n(s.st.Below), scene.Force(-s.st.Disc.Contact), stays)
	}
	return fmt.Sprintf("The disc stays %s off its seat%s.", scene.Millimetres(s.st.Disc.Lift), stays)
}

func (s *sayer) refilling() string {
	return fmt.Sprintf("The pilot has shut, so the bleed refills the chamber: %s now; above %s it drives the disc back up.",
		s.n(s.st.Below), s.p(s.f.Thresholds.ShutsAbove))
}

func (s *sayer) closing() string {
	if s.push() < 0 {
		return fmt.Sprintf("The refilled chamber holds %s; %s would balance the disc here. With friction, %s drive it up.",
			s.p(s.st.Below), s.n(s.f.Margin.Threshold), s.net())
	}
	return fmt.Sprintf("The disc still moves up to its seat, though the body now pushes it down with %s.", s.net())
}

func (s *sayer) hung() string {
	return "Told to shut, but " + s.holds() + "."
}

func (s *sayer) leaking() string {
	switch s.f.Acts.Reason {
	case explain.PilotLeaks:
		return fmt.Sprintf("The shut pilot leaks %s: the chamber holds at %s; below %s the disc would lift unasked.",
			s.u.Flow(s.st.PilotFlow), s.p(s.st.Below), s.n(s.f.Thresholds.LiftBelow))
	case explain.CoverLeaks:
		return fmt.Sprintf("The chamber's cover leaks %s: the chamber holds at %s; below %s the disc would lift unasked.",
			s.u.Flow(s.st.Cover), s.p(s.st.Below), s.n(s.f.Thresholds.LiftBelow))
	case explain.SeatLeaks:
		if w := &s.st.OutletWall; w.Fitted {
			return fmt.Sprintf("The shut seat leaks %s, though it is pressed with %s; the tailpipe's wall is at %s.",
				s.u.Flow(s.st.Seat), scene.Force(math.Abs(s.st.Disc.Contact)), s.u.Temperature(w.T))
		}
		return fmt.Sprintf("The shut seat leaks %s, though it is pressed with %s.", s.u.Flow(s.st.Seat), scene.Force(math.Abs(s.st.Disc.Contact)))
	}
	return words.Capital(s.holds()) + "."
}

func (s *sayer) cycling() string {
	c := &s.f.Cycle
	every := ""
	if c.Period.Known {
		every = " every " + scene.Span(c.Period.Value)
	}
	if c.Chatter && c.FromOutlet() { // as it last lifted: between lifts the outlet may be lower
		return fmt.Sprintf("The disc lifts%s unasked: at its last lift the outlet, at %s, pushed it off against the body's %s.", every, s.n(c.OutletAt.Value), s.p(c.BodyAt.Value))
	}
	if c.Chatter && s.st.Outlet > s.st.Above {
		return fmt.Sprintf("The disc lifts%s unasked: the outlet has %s, the body %s, and that pushes it off its seat.", every, s.n(s.st.Outlet), s.p(s.st.Above))
	}
	if c.Chatter {
		return "The disc lifts" + every + " without being told to each time: it chatters."
	}
	if s.f.Why.Reason == explain.InletDrops {
		return fmt.Sprintf("It lifts%s: the line loses %s while it blows, and set and reset lie %s apart.",
			every, s.dp(c.InletDrop.Value), s.dp(s.f.Switch.Set-s.f.Switch.Reset))
	}
	if c.ShortestBlowdown.Known {
		return fmt.Sprintf("It lifts%s: set and reset lie %s apart, and the vessel loses about %s merely while it shuts.",
			every, s.dp(s.f.Switch.Set-s.f.Switch.Reset), s.dp(c.ShortestBlowdown.Value))
	}
	return fmt.Sprintf("It lifts%s: set and reset lie only %s apart.", every, s.dp(s.f.Switch.Set-s.f.Switch.Reset))
}
