package explain

import "underdisc/model/plant"

// Balance is the chamber pressure, Pa absolute, at which the disc at lift x
// (m, 0 to travel) with face share phi (0 to 1) is in balance, friction left
// out:
//
//	pB = (pA (Ag - As + phi As) + pT (1 - phi) As - F0 - k x + m g)/Ag
//
// The disc is pushed open below it and shut above it. It is the sum of the
// disc's forces solved for pB; derived here. Exact for the model; zero or less
// means that no chamber pressure shuts the disc less than it is shut already.
func Balance(v *plant.ValveState, x, phi float64) float64 {
	d := &v.Disc
	down := v.Above*(d.GuideArea-d.SeatArea+phi*d.SeatArea) + v.Outlet*(1-phi)*d.SeatArea + d.Weight
	return (down - d.Preload - d.Rate*x) / d.GuideArea
}

// ThresholdsOf gives the chamber pressures at which the disc goes. With the
// friction Fc that holds it at rest and the bonds Bs and Bo that hold it beside
// friction on its seat and at its stop,
//
//	LiftBelow  = Balance(0, 0) - (Fc + Bs)/Ag
//	DropAbove  = Balance(travel, phi there) + (Fc + Bo)/Ag
//	OpensBelow = Balance(x, phi now) - Fc/Ag, on the seat with Bs
//	ShutsAbove = Balance(x, phi now) + Fc/Ag, at the stop with Bo
//
// so OpensBelow is LiftBelow on the seat and ShutsAbove is DropAbove at the
// stop.
func ThresholdsOf(v *plant.ValveState) Thresholds {
	d := &v.Disc
	f := d.Stick / d.GuideArea
	now, bond := Balance(v, d.Lift, d.Phi), bondOf(d)/d.GuideArea
	th := Thresholds{
		LiftBelow:  Balance(v, 0, 0) - f - d.BondShut/d.GuideArea,
		DropAbove:  Balance(v, d.Travel, d.FullPhi) + f + d.BondOpen/d.GuideArea,
		Balance:    now,
		OpensBelow: now - f,
		ShutsAbove: now + f,
	}
	switch d.Hold {
	case plant.HeldShut:
		th.OpensBelow -= bond
	case plant.HeldOpen:
		th.ShutsAbove += bond
	}
	return th
}

// bondOf is the bond at the end that the disc rests at, N; none in between.
func bondOf(d *plant.DiscState) float64 {
	switch d.Hold {
	case plant.HeldShut:
		return d.BondShut
	case plant.HeldOpen:
		return d.BondOpen
	}
	return 0
}

// thresholdRate is how fast Balance moves with the pressures while the disc
// rests at its present lift, Pa/s.
func thresholdRate(v *plant.ValveState) float64 {
	d := &v.Disc
	return (v.AboveRate*(d.GuideArea-d.SeatArea+d.Phi*d.SeatArea) + v.OutletRate*(1-d.Phi)*d.SeatArea) / d.GuideArea
}

// marginOf picks the threshold that matters for the disc as it stands. The
// thresholds are those of a disc at rest also while it moves, so that the
// margin passes through zero without a jump when the disc goes.
func marginOf(v *plant.ValveState, th *Thresholds, moves State, asked bool) Margin {
	m := Margin{Toward: ToShut}
	switch {
	case v.Disc.Hold == plant.HeldShut:
		m.Toward = ToLift
	case moves == Opening:
		m.Toward = InOpening
	case moves == Closing:
		m.Toward = InClosing
	case v.Disc.Hold == plant.Sticking && asked:
		m.Toward = ToOpen
	}
	switch m.Toward {
	case ToLift:
		m.Threshold = th.LiftBelow
	case ToOpen, InOpening:
		m.Threshold = th.OpensBelow
	case ToShut, InClosing:
		m.Threshold = th.ShutsAbove
	}
	m.Pressure = v.Below - m.Threshold
	if m.Toward == ToShut || m.Toward == InClosing {
		m.Pressure = -m.Pressure
	}
	m.Force = m.Pressure * v.Disc.GuideArea
	return m
}
