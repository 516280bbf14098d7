package plant

import (
	"math"

	"underdisc/model/network"
)

// Pop says how a spring-loaded valve stands.
type Pop int

const (
	Tight     Pop = iota // shut, nothing passes between the faces
	Simmering            // the faces just part
	Lifted               // it has popped, or opened
)

// SpringState is a spring-loaded valve.
type SpringState struct {
	Name string
	Spec *SpringValve

	// Pressures, Pa absolute: of the vessel; at the nozzle's inlet (the end of
	// its inlet pipe, or the vessel); in the huddling chamber; below the upper
	// ring (the outlet where there is none); at the outlet; where the tailpipe
	// ends. Rates in Pa/s.
	Vessel, Inlet, Huddle, Under, Outlet, Behind float64
	VesselRate, InletRate, OutletRate            float64
	InletFluid, OutletFluid                      Contents
	OutletWall, LowPoint                         WallState

	Pop         Pop
	Hold        Hold // at its stop, moving, or held by friction
	Lift, Speed float64
	Travel      float64 // to the stop, or as far as a gag leaves
	Gagged      bool

	W      float64 // through the valve, kg/s
	Choked bool
	// Areas, m2: of the seat, of the ring up to the lower ring's diameter, of that
	// up to the upper ring's or the hood's; and the effective openings in a row.
	SeatArea, HuddleArea, UpperArea float64
	Curtain, LowerGap, UpperGap     float64

	// Forces on disc and spindle, N, positive towards opening.
	SeatForce, Momentum, HuddleForce, UpperForce, Jet, Back float64
	Spring, Weight                                          float64 // towards shutting, as positive numbers
	Faces                                                   float64 // between the faces of the seat, opening
	Stop                                                    float64 // of the upper stop, opening positive
	LeverForce                                              float64 // of the lever on the spindle
	Damping, Friction                                       float64 // signed
	Net                                                     float64 // all but damping, friction and the stop
	Acceleration                                            float64

	// The hand: what it pulls with now, and what it would have to pull with to
	// part the faces as things are; NaN without a lever.
	Hand, HandToLift float64

	HeldOff float64 // how far nut or debris hold the disc off its seat now
	Debris  bool    // something lies on the seat
	Washes  bool    // a full lift would carry it away
	Wear    float64 // relative, see network.Wear
}

func (m *Model) springState(v *SpringMap, l *network.Look) SpringState {
	w, in, out := &l.Nodes[v.Vessel], &l.Nodes[v.Inlet], &l.Nodes[v.Outlet]
	k := &l.Movers[v.Disc]
	sp, past := v.Spec, &l.Movers[v.Disc].Past
	s := SpringState{Name: v.Name, Spec: sp,
		Vessel: w.P, Inlet: in.P, Outlet: out.P, Behind: l.Nodes[v.Behind].P, Huddle: past.Huddle, Under: past.Under,
		VesselRate: w.PRate, InletRate: in.PRate, OutletRate: out.PRate,
		InletFluid: contents(in), OutletFluid: contents(out), OutletWall: wallState(l, v.OutletWall), LowPoint: wallState(l, v.LowPoint),
		Pop: Pop(k.Faced), Hold: holdOf(k.Mode), Lift: k.X, Speed: k.V, Travel: sp.Travel(), Gagged: sp.Travel() < sp.Disc.Travel,
		W: l.Flows[v.Flow].W, Choked: past.Choked, Curtain: past.Curtain, LowerGap: past.LowerRing, UpperGap: past.UpperRing,
		SeatForce: past.Parts.Seat, Momentum: past.Parts.Momentum, HuddleForce: past.Parts.Huddle, UpperForce: past.Parts.Upper,
		Jet: past.Parts.Jet, Back: past.Parts.Back,
		Spring: k.Spring, Weight: -k.Weight, Faces: k.Push, Stop: k.Contact, LeverForce: k.Lever, Damping: k.Damping, Friction: k.Friction,
		Net: k.Rest, Acceleration: k.A, HandToLift: math.NaN(), HeldOff: k.Off, Wear: l.Wears[v.Wear]}
	s.SeatArea, s.HuddleArea, s.UpperArea = sp.Areas()
	if d := sp.Seat.Debris; d != nil {
		s.Debris, s.Washes = k.Debris > 0, d.Washes == "yes"
	}
	if lv := sp.Lever; lv != nil {
		s.Hand = k.Lever / lv.Ratio
		// At the point where the faces part: what holds the disc down there, less
		// what already pushes it.
		seat := (in.P - out.P) * s.SeatArea
		if b := sp.balanced(); b > 0 {
			seat += b * (out.P - m.atmosphere(v))
		}
		s.HandToLift = math.Max(0, sp.Spring.Preload+s.Weight+sp.Disc.StickFriction-seat-sp.Seat.Force) / lv.Ratio
	}
	return s
}

// atmosphere is the pressure that bellows are open to.
func (m *Model) atmosphere(v *SpringMap) float64 {
	return m.Plant.Open(v.Spec)
}
