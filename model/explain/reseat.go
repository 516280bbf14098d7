package explain

import "underdisc/model/plant"

// reseatOf is the pressure at which a disc held off its seat would go towards
// it. With B = pB/pA at the chamber's steady pressure and tau = pT/pA, both
// kept as they are now, pB = ShutsAbove gives
//
//	pA = b/(a - B), a = (Ag - As + phi As + tau (1 - phi) As)/Ag
//	                b = (F0 + k x - m g - Fc)/Ag, Fc with the bond
//
// and, for a chamber that nothing fills or empties, pB kept,
//
//	pA = (pB + b)/a.
//
// Derived here. B keeps while the flow out of the chamber is choked, tau while
// the tailpipe's exit is; as tau rises after that, the disc goes later. A
// chamber stands a little above a steady pressure that falls, which makes it go
// sooner, the more so the nearer B is to a. On the reference bench with a pilot
// that leaks 5.5 to 6.5 mm2 it goes from 2 % above to 4 % below this pressure.
// The vessel's pressure is taken in its present ratio to the body's.
func reseatOf(st *plant.ValveState, c *ChamberFacts) Reseat {
	d := &st.Disc
	a := (d.GuideArea - d.SeatArea + d.Phi*d.SeatArea + st.Outlet/st.Above*(1-d.Phi)*d.SeatArea) / d.GuideArea
	b := (d.Preload + d.Rate*d.Lift - d.Weight - d.Stick - bondOf(d)) / d.GuideArea
	above := (st.Below + b) / a
	if c.Steady.Known {
		above = b / (a - c.Steady.Value/st.Above)
	}
	if !(above > 0 && above < st.Above) {
		return Reseat{}
	}
	return Reseat{Above: some(above), Vessel: some(above * st.Vessel / st.Above)}
}
