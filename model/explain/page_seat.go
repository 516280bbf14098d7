package explain

import (
	"math"

	"underdisc/model/flow"
	"underdisc/model/plant"
)

// How the way back is followed: in steps of seatStep, fine enough for a disc
// that needs a millisecond for its travel, and no longer than longestStroke.
const (
	seatStep      = 5e-5 // s
	longestStroke = 0.5  // s
)

// toSeat is the time to the seat.
//
// The chamber takes Chamber.ByFlow to the threshold. From there the disc is
// followed with body and outlet standing still:
//
//	m dv/dt = Ag (Balance(x, phi(x)) - pB) - c v + Fc,  dx/dt = v (v < 0)
//	dpB/dt  = (c^2 (in - out) + rho c^2 Ag v)/V(x),     V = V0 - Ag (x - x0)
//
// the momentum of the disc and the energy of an adiabatic chamber that grows as
// the disc leaves it; c the speed of sound, rho its density. phi(x) is
// that of the plant's own seat at the present pressures. Derived here. Left out:
// that the body's pressure rises as the seat closes, and falls with the
// vessel's before. The whole is 2 % off on the gas bench and 5 % on steam, the
// way back alone 3 % and 18 % (free_test.go).
func toSeat(p *paths, f *Facts, v *plant.ValveMap, st *plant.ValveState) ToSeat {
	var t ToSeat
	d := &st.Disc
	switch {
	case d.Hold == plant.HeldShut:
		return t
	case d.Hold == plant.Moving && !f.Disc.Floats:
		t.Chamber = some(0)
		t.Stroke = strokeBack(p, f, v, st, st.Below, d.Speed)
	case f.Chamber.Threshold.Known && f.Chamber.Pressure >= f.Thresholds.ShutsAbove:
		t.Chamber = some(0)
		t.Stroke = strokeBack(p, f, v, st, st.Below, 0)
	case f.Chamber.Crosses && f.Chamber.ByFlow.Known && f.Pilot.Hold == plant.HeldShut:
		t.Chamber = f.Chamber.ByFlow
		t.Stroke = strokeBack(p, f, v, st, f.Thresholds.ShutsAbove*(1+1e-6), 0)
	}
	if t.Chamber.Known && t.Stroke.Known {
		t.Total = some(t.Chamber.Value + t.Stroke.Value)
	}
	return t
}

// facePoints is the number of places at which the share on the face is found;
// between them it runs straight.
const facePoints = 33

// faceShares gives the share of the body pressure on the disc's face by its lift,
// m: r^2/(1+r^2), r = 4x/D, or what passes curtain and bore alike.
func faceShares(p *paths, v *plant.ValveMap, st *plant.ValveState) func(x float64) float64 {
	d := &st.Disc
	bore := v.Spec.Seat.Diameter
	if v.Spec.Seat.Face != "continuity" || st.Above <= st.Outlet {
		return func(x float64) float64 {
			r := 4 * x / bore
			return r * r / (1 + r*r)
		}
	}
	seat := flow.Seat{Law: p.m.Nozzle, Voider: p.m.Void}
	var at [facePoints]float64
	for i := range at {
		if i > 0 {
			_, face := seat.Flux(&p.body, st.Outlet, 4*d.Travel*float64(i)/(facePoints-1)/bore)
			at[i] = (face - st.Outlet) / (st.Above - st.Outlet)
		}
	}
	return func(x float64) float64 {
		k := math.Min(math.Max(x/d.Travel, 0), 1) * (facePoints - 1)
		i := min(int(k), facePoints-2)
		return at[i] + (k-float64(i))*(at[i+1]-at[i])
	}
}

// strokeBack is the time from the disc's present place at the chamber pressure
// pB (Pa) and speed v (m/s, opening positive) to its seat, s.
func strokeBack(p *paths, f *Facts, on *plant.ValveMap, st *plant.ValveState, pB, v float64) Opt {
	d := &st.Disc
	share := faceShares(p, on, st)
	pilot := p.leak
	if f.Pilot.Hold != plant.HeldShut {
		pilot = p.full
	}
	x, h := d.Lift, seatStep
	x0 := d.Lift
	for t := 0.0; t < longestStroke; t += h {
		volume := p.volume + d.GuideArea*(x0-x)
		net := d.GuideArea * (Balance(st, x, share(x)) - pB) // opening
		force := net - on.Spec.Disc.Damping*v
		switch {
		case v < 0:
			force += d.Slide
		case v > 0:
			force -= d.Slide
		case math.Abs(net) <= d.Slide:
			force = 0
		default:
			force -= math.Copysign(d.Slide, net)
		}
		v += h * force / d.Mass
		x += h * v
		if x <= 0 {
			return some(t + h)
		}
		if x >= d.Travel {
			x, v = d.Travel, math.Min(v, 0)
		}
		w := p.in(pB) - p.out(pB, pilot)
		p.at(&p.chamber, pB)
		c2 := stiffness(&p.chamber)
		pB += h * (c2*w + c2/p.chamber.V*d.GuideArea*v) / volume
	}
	return Opt{}
}
