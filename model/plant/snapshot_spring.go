package plant

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
