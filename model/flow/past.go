package flow

import "underdisc/model/fluid"

// PastDisc is the way past the disc of a valve that its own flow helps to open:
// what passes and the force on the disc are found together, since both hang on
// the pressures between one opening and the next.
type PastDisc interface {
	// At fills flow, pressures and forces with the disc at the lift x, from an
	// upstream state to a down that is not above its pressure. A lift of zero or
	// less is shut: nothing passes but a leak.
	At(up *fluid.State, down, x float64, p *Past)
	// Slopes fills them with their derivatives.
	Slopes(up *fluid.State, down, x float64, p *Past)
	// Remembering is the same way for one user, which may keep what it last found
	// as a start for the next search. Its results do not depend on that beyond
	// rounding.
	Remembering() PastDisc
}

// Past is what passes a disc and what that does to it. Forces are those of the
// fluid on the disc and what moves with it, positive towards larger lifts.
type Past struct {
	W     float64 // kg/s
	Force float64 // N, the sum of the Part forces

	Huddle float64 // pressure in the chamber behind the curtain, Pa; down where there is none
	Under  float64 // pressure below the upper ring, Pa; down where there is none
	Choked bool    // what passes does not feel down

	// Effective areas, m2: of the curtain with the nozzle in series, over the
	// lower ring, out of the upper ring (0 where there is none).
	Curtain, LowerRing, UpperRing float64
	// Speed is that in the curtain over its highest, 0..1: 1 where it is choked.
	Speed float64

	Parts PastForces

	// Slopes by the upstream specific volume and internal energy, by down and by
	// the lift. Filled by Slopes alone.
	Wv, Wu, Wp, Wx                     float64
	Fv, Fu, Fp, Fx                     float64
	Huddlev, Huddleu, Huddlep, Huddlex float64
}

// PastForces are the parts of the force, N.
type PastForces struct {
	Seat     float64 // of the upstream pressure on the seat's area
	Momentum float64 // of the stream's change of direction under the disc
	Huddle   float64 // in the huddling chamber
	Upper    float64 // below the upper ring
	Jet      float64 // of what a hood or a skirt turns downwards
	Back     float64 // of the pressure around the disc, usually below zero
}
