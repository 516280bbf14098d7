package explain

import (
	"math"

	"underdisc/model/plant"
)

func (k *freer) byChamber() {
	switch k.f.Why.Reason {
	case ChamberEmptying, WaterFlashes:
		k.wait(Chamber, k.f.Why.In)
		if k.f.Why.Reason == WaterFlashes {
			k.add(Free{Link: Chamber, Quantity: ChamberWater, Now: k.f.Chamber.WaterShare, Needed: wetChamber, Below: true, By: Itself})
		}
	case BleedOutruns, GuideOutruns, DumpBacksUp:
		k.chamberEmpties()
	default:
		k.chamberLets()
	}
}

// over is an area as measured of an effective one.
func over(a Opt, coefficient float64) Opt {
	if !a.Known || coefficient <= 0 {
		return Opt{}
	}
	return some(a.Value / coefficient)
}

// chamberLets: what would let a chamber with its pilot shut rise past the
// threshold of a disc off its seat, or, with the disc on its seat, what would
// let it lift.
func (k *freer) chamberLets() {
	f, sp := k.f, k.v.Spec
	ch := &f.Chamber
	k.wait(Chamber, ch.ByFlow)
	goal := k.pg.Leaves
	leak := k.st.PilotLeak / sp.Pilot.Coefficient
	cover := 0.0
	if c := sp.Chamber.Cover; c != nil {
		cover = c.LeakArea
	}
	if f.Disc.Hold == plant.HeldShut {
		k.above(Pilot, PilotLeakArea, k.of("pilot.leak-area"), leak, over(k.p.leakFor(goal, 1), sp.Pilot.Coefficient), NoWait)
		k.below(Pilot, PilotLeakArea, k.of("pilot.leak-area"), leak, some(0), IsolatedWork)
		k.below(Chamber, CoverLeakArea, k.of("chamber.cover.leak-area"), cover, some(0), IsolatedWork)
		return
	}
	if leak > 0 {
		k.below(Pilot, PilotLeakArea, k.of("pilot.leak-area"), leak, over(k.p.leakFor(goal, 1), sp.Pilot.Coefficient), IsolatedWork)
	}
	if cover > 0 {
		k.below(Chamber, CoverLeakArea, k.of("chamber.cover.leak-area"), cover, over(k.p.coverFor(goal, k.p.leak), sp.Chamber.Cover.Coefficient), IsolatedWork)
	}
	bleed := k.p.bleedFor(goal, k.p.leak)
	if f.Why.Reason == FillsTooSlowly || f.Why.Reason == NoInflow {
		bleed = k.inTime(goal)
	}
	k.above(Chamber, BleedArea, k.of("bleed.area"), sp.Bleed.Area, over(bleed, sp.Bleed.Coefficient), IsolatedWork)
	k.discLets()
}

// inTime is the effective bore with which the refill takes no longer than its
// limit: where the two are equal, by trial, for the guide passes its share.
func (k *freer) inTime(goal float64) Opt {
	ch := &k.f.Chamber
	if !ch.RefillLimit.Known {
		return Opt{}
	}
	q := *k.p
	takes := func(a float64) float64 {
		q.aBore = a
		t := q.time(math.Min(math.Min(q.above, q.outlet), goal), goal, q.leak, q.steady(q.leak))
		if !t.Known {
			return farthest
		}
		return t.Value - ch.RefillLimit.Value
	}
	most := k.p.full
	if takes(most) > 0 {
		return Opt{}
	}
	return some(root(k.p.aBore, most, 1e-6*most, takes))
}

// discLets: what of the disc's own forces, and of the pressures on it, would
// let it go to its seat. With the chamber where it settles, pS,
//
//	friction + bond <= Ag (pS - Balance)
//	pT <= (pS Ag - Fc - pA (Ag - As + phi As) + F0 + k x - m g)/((1 - phi) As)
//	F0 >= F0 + Ag (ShutsAbove - pS)
//
// each the balance at ShutsAbove = pS solved for one of its terms. The body's
// pressure is that of reseat.go.
func (k *freer) discLets() {
	f, d := k.f, &k.st.Disc
	if s := f.Chamber.Steady; s.Known && d.Hold != plant.Moving || s.Known && f.Disc.Floats {
		free := d.GuideArea * (s.Value - f.Thresholds.Balance)
		k.holding(free)
		if d.Phi < 1 {
			ring := k.st.Above * (d.GuideArea - d.SeatArea + d.Phi*d.SeatArea)
			pT := (s.Value*d.GuideArea - d.Stick - bondOf(d) - ring + d.Preload + d.Rate*d.Lift - d.Weight) / ((1 - d.Phi) * d.SeatArea)
			if pT >= k.air() {
				k.below(Disc, OutletPressure, "", k.st.Outlet, some(pT), Operators)
			}
		}
		if lacking := f.Thresholds.ShutsAbove - s.Value; lacking > 0 && f.Why.Reason == SpringTooWeak {
			k.above(Disc, SpringPreload, k.of("spring.preload"), d.Preload, some(d.Preload+d.GuideArea*lacking), IsolatedWork)
		}
	}
	if r := f.Reseat; r.Above.Known {
		k.falls(BodyPressure, k.st.Above, k.st.AboveRate, r.Above)
		k.falls(VesselPressure, k.st.Vessel, k.st.VesselRate, r.Vessel)
	}
}

// air is the pressure that the valve discharges into in the end, Pa absolute:
// no outlet has less for long.
func (k *freer) air() float64 {
	_, air, ok := k.m.Plant.Around(k.v.Spec.Outlet)
	if !ok {
		return 0
	}
	return air.Pressure
}

// holding adds friction and bond, where one of them alone, made smaller, would
// leave less than a force, N.
func (k *freer) holding(force float64) {
	d := &k.st.Disc
	bond := bondOf(d)
	path := k.of("disc.bond.open")
	if d.Hold == plant.HeldShut {
		path = k.of("disc.bond.shut")
	}
	k.below(Disc, DiscBond, path, bond, some(force-d.Stick), IsolatedWork)
	k.below(Disc, DiscFriction, k.of("disc.stick-friction"), d.Stick, some(force-bond), IsolatedWork)
}

// chamberEmpties: what would let an open pilot bring the chamber below the
// threshold of a disc that is to open.
func (k *freer) chamberEmpties() {
	f, sp := k.f, k.v.Spec
	goal := k.pg.Leaves
	if goal <= k.st.Outlet {
		k.discOpens()
		return
	}
	k.below(Chamber, BleedArea, k.of("bleed.area"), sp.Bleed.Area, over(k.bleedAtMost(goal), sp.Bleed.Coefficient), IsolatedWork)
	if g := k.st.Guide; g > 0 {
		k.below(Chamber, GuideFlow, "", k.p.inGuide(goal), some(k.p.out(goal, k.p.full)-k.p.aBore*k.p.boreFlux(goal)), IsolatedWork)
	}
	if d := sp.Dump; d != nil {
		k.above(Chamber, DumpArea, k.of("dump-line.area"), d.Area, over(k.p.dumpFor(goal, k.p.full), d.Coefficient), IsolatedWork)
	}
	if a := k.p.leakFor(goal, 1); a.Known && f.Pilot.Stroke < f.Pilot.Whole {
		// The pilot's area goes with its stroke; the leak comes on top.
		stroke := (a.Value - k.p.leak) / (sp.Pilot.Coefficient * sp.Pilot.Area) * f.Pilot.Whole
		if stroke <= f.Pilot.Whole {
			k.below(Pilot, LostStroke, k.of("plunger.adjustment.lost-stroke"), f.Pilot.Whole-f.Pilot.Stroke, some(f.Pilot.Whole-stroke), IsolatedWork)
		}
	}
}

// bleedAtMost is the bore that an open pilot just keeps up with; none if the
// guide alone passes too much.
func (k *freer) bleedAtMost(goal float64) Opt {
	if b := k.p.bleedFor(goal, k.p.full); b.Known && b.Value > 0 {
		return b
	}
	return Opt{}
}

func (k *freer) byDisc() {
	switch k.f.Why.Reason {
	case DiscMoving:
		if t := k.pg.Seat.Total; t.Known && k.f.State == Closing {
			k.wait(Disc, t)
		}
	case SeatLeaks:
		seat := &k.v.Spec.Seat
		k.below(Disc, SeatLeakArea, k.of("seat.leak-area"), seat.LeakArea, some(0), IsolatedWork)
	case BodyIsolated:
		k.position(Disc, BlockOpening, k.blockPath(), "shut", "open", Operators)
		k.discOpens()
	case TooLittleDifference:
		k.discOpens()
	case DiscStuck, DiscFloats, OutletHolds, SpringTooWeak:
		if k.f.Asked {
			k.discOpens()
		} else {
			k.discLets()
		}
	}
}

func (k *freer) blockPath() string {
	for _, q := range k.m.Plant.OfKind("line") {
		if q.Spec == any(k.v.LineSpec) {
			return q.Name + ".block-valve.opening"
		}
	}
	return ""
}

// discOpens: what would let the disc leave its seat with the chamber where it
// settles, pS: the balance at OpensBelow = pS, x = 0 and phi = 0 solved for one
// term at a time,
//
//	friction + bond <= Ag (Balance - pS)
//	pA >= (pS Ag + F0 + Fc - m g - pT As)/(Ag - As)
//	F0 <= F0 - Ag (pS - OpensBelow)
//
// For a disc that is not on its seat the same with its x and phi.
func (k *freer) discOpens() {
	f, d := k.f, &k.st.Disc
	s := f.Chamber.Steady
	if !s.Known {
		return
	}
	holds := d.Stick + bondOf(d)
	k.holding(d.GuideArea * (f.Thresholds.Balance - s.Value))
	lacking := s.Value - f.Thresholds.OpensBelow
	if lacking <= 0 {
		return
	}
	on := d.GuideArea - d.SeatArea + d.Phi*d.SeatArea
	pA := (s.Value*d.GuideArea + d.Preload + d.Rate*d.Lift + holds - d.Weight - k.st.Outlet*(1-d.Phi)*d.SeatArea) / on
	k.above(Disc, BodyPressure, "", k.st.Above, some(pA), Operators)
	if f.Why.Reason == TooLittleDifference {
		k.below(Disc, SpringPreload, k.of("spring.preload"), d.Preload, some(d.Preload-d.GuideArea*lacking), IsolatedWork)
	}
}
