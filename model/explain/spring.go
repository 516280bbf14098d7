package explain

import (
	"math"

	"underdisc/model/plant"
)

// SpringFacts are what can be said of one spring-loaded valve at one moment. SI
// units, pressures absolute, forces positive towards opening unless said. Every
// number is computed from the snapshot, the run so far and the folds given.
type SpringFacts struct {
	Valve string
	T     float64 // s

	State SpringStand
	Why   SpringReason
	In    Opt // s until what it waits for happens, as the inlet's pressure goes now

	Inlet, InletRate, Vessel, VesselRate float64
	Lift, Speed, Travel, FullTravel      float64 // Travel is as far as a gag leaves
	Flow                                 float64 // kg/s

	Forces  SpringForces
	Parting Parting
	Folds   SpringFolds
	Back    BackPressure
	Hand    HandFacts

	HeldOff float64 // how far nut or debris hold the disc off its seat, m
	Nut     bool    // it is the nut
	Washes  bool    // a full lift would carry the debris away
	LeakW   float64 // kg/s past the shut faces

	Wear  float64 // relative
	Pops  int     // so far
	Every Opt     // s, from pop to pop, while it chatters

	fell Opt // what the vessel lost in the last lift, Pa
}

// SpringForces add up to Net. What the flow adds is counted from the pressure at
// the outlet: with pT that pressure, As the seat's area, Ah and Au those up to the
// lower and the upper ring, Ab that of bellows and pa the surroundings,
//
//	Seat = (p - pT) As          Huddle = (ph - pT)(Ah - As)
//	Upper = (pu - pT)(Au - Ah)  Bellows = (pT - pa) Ab
//	Net = Seat + Momentum + Huddle + Upper + Jet + Bellows + Faces + Lever - Spring - Weight
type SpringForces struct {
	Seat, Momentum, Huddle, Upper, Jet, Bellows float64
	Faces, Lever                                float64
	Spring, Weight                              float64 // shutting, as positive numbers
	Net                                         float64 // without friction, damping and the stop
	Friction                                    float64 // what it can give at rest, positive
	Stop                                        float64 // of the upper stop or the gag, shutting, as a positive number
}

// Flow is what the flow adds to the pressure on the seat.
func (f *SpringForces) Flow() float64 { return f.Momentum + f.Huddle + f.Upper + f.Jet }

// Parting is where the faces of the shut seat part:
//
//	(P - pT) As + (pT - pa) Ab + Fc + lever = F0 + m g + friction
//
// Fc is the force between faces that just touch. Exact for the model; derived here.
type Parting struct {
	Pressure float64 // at the inlet, Pa absolute
	Shuts    float64 // where parted faces meet again: friction against them, Pa absolute
	Friction float64 // what of Pressure is friction, Pa
	Margin   float64 // Pa, of the inlet below it
	Force    float64 // N, the same as a force on the seat's area
}

// SpringFolds are the pressures at the inlet at which the valve pops and reseats in
// the steady state, Pa absolute: the ends of its equilibria. Absent where it has
// none, as a valve that opens in proportion, or where they were not asked for.
type SpringFolds struct{ Pop, Reseat Opt }

// BackPressure is what stands behind the disc, Pa.
type BackPressure struct {
	Superimposed float64 // where the tailpipe ends, above the surroundings
	BuiltUp      float64 // what the flow through the tailpipe adds
	// Raises is by how much both raise the pressure at which the faces part; one for
	// one without bellows.
	Raises float64

	air float64 // pressure of the surroundings, Pa absolute
}

// HandFacts are the hand at the lever, N. Fitted is false without a lever.
type HandFacts struct {
	Fitted  bool
	Now     float64 // what it pulls with
	ToLift  float64 // what would part the faces as things are
	ToLift0 float64 // without any pressure under the disc
	Most    float64 // what a person pulls with at most
	Asked   bool    // somebody pulls
}

// Can tells whether a person can part the faces now.
func (h *HandFacts) Can() bool { return h.Fitted && h.ToLift <= h.Most }

// Spring explains the spring-loaded valve of that index at the moment of the
// snapshot. past is the run up to then. The folds are left absent: see WithFolds.
func Spring(m *plant.Model, s *plant.Snapshot, valve int, past SpringPast) SpringFacts {
	st := &s.Springs[valve]
	sp := st.Spec
	f := SpringFacts{Valve: st.Name, T: s.T, Inlet: st.Inlet, InletRate: st.InletRate, Vessel: st.Vessel, VesselRate: st.VesselRate,
		Lift: st.Lift, Speed: st.Speed, Travel: st.Travel, FullTravel: sp.Disc.Travel, Flow: st.W,
		HeldOff: st.HeldOff, Washes: st.Washes, Wear: st.Wear, Pops: past.Pops, Every: past.every(s.T)}
	f.fell = past.fell
	f.Nut = sp.Lever != nil && sp.Lever.Nut > 0 && sp.Lever.Nut >= st.HeldOff
	if st.Pop == plant.Tight {
		f.LeakW = st.W
	}
	pT, air := st.Outlet, surroundings(m, sp)
	bellows := 0.0
	if b := sp.Bellows; b != nil {
		bellows = math.Pi / 4 * b.Diameter * b.Diameter
	}
	f.Forces = SpringForces{
		Seat: st.SeatForce - pT*st.SeatArea, Momentum: st.Momentum, Jet: st.Jet,
		Huddle: st.HuddleForce - pT*(st.HuddleArea-st.SeatArea), Upper: st.UpperForce - pT*(st.UpperArea-st.HuddleArea),
		Bellows: st.Back + pT*st.UpperArea, Faces: st.Faces, Lever: st.LeverForce,
		Spring: st.Spring, Weight: st.Weight, Net: st.Net, Friction: sp.Disc.StickFriction, Stop: math.Max(0, -st.Stop)}
	holds := sp.Spring.Preload + st.Weight + sp.Disc.Friction - sp.Seat.Force - st.LeverForce
	f.Parting.Pressure = pT + (holds-bellows*(pT-air))/st.SeatArea
	f.Parting.Friction = sp.Disc.Friction / st.SeatArea
	f.Parting.Shuts = f.Parting.Pressure - 2*f.Parting.Friction
	f.Parting.Margin = f.Parting.Pressure - st.Inlet
	f.Parting.Force = f.Parting.Margin * st.SeatArea
	f.Back = BackPressure{Superimposed: st.Behind - air, BuiltUp: pT - st.Behind, Raises: (pT - air) * (1 - bellows/st.SeatArea), air: air}
	if lv := sp.Lever; lv != nil {
		f.Hand = HandFacts{Fitted: true, Now: st.Hand, ToLift: st.HandToLift, Most: lv.Force, Asked: lv.Pull > 0,
			ToLift0: (sp.Spring.Preload + st.Weight - sp.Seat.Force) / lv.Ratio}
	}
	f.State = standOf(&f, st)
	f.Why = springWhy(&f, st)
	f.In = f.when()
	return f
}

// surroundings is the pressure that the valve discharges into in the end, Pa.
func surroundings(m *plant.Model, v *plant.SpringValve) float64 {
	if _, air, ok := m.Plant.Around(v.Outlet); ok {
		return air.Pressure
	}
	return 0
}

// WithFolds adds the pressures at which it pops and reseats.
func (f SpringFacts) WithFolds(folds SpringFolds) SpringFacts {
	f.Folds = folds
	f.In = f.when()
	return f
}

// when is how long until the inlet's pressure gets to what the valve waits for.
func (f *SpringFacts) when() Opt {
	switch f.State {
	case SpringTight:
		if f.InletRate > 0 {
			return arrives(f.Inlet, f.InletRate, f.Parting.Pressure)
		}
	case SpringSimmering:
		if p := f.Folds.Pop; p.Known && f.InletRate > 0 {
			return arrives(f.Inlet, f.InletRate, p.Value)
		}
	case SpringAtFullLift, SpringPartly:
		if p := f.Folds.Reseat; p.Known && f.InletRate < 0 && f.Inlet > p.Value {
			return arrives(f.Inlet, f.InletRate, p.Value)
		}
	}
	return Opt{}
}
