package sound

import "math"

// strike is which part has struck what.
type strike int

const (
	plungerStop strike = iota
	plungerSeat
	discStop
	discSeat
	strikes
)

// mode is one way in which a part rings: a mapping for the ear, for a state
// does not say how a body rings.
type mode struct{ tone, lasts, share float64 } // Hz, s, of the amplitude

// A light plunger clicks; a heavy disc thumps, lower on its seat, where the
// whole valve rings along, than on its stop.
var rings = [strikes][3]mode{
	plungerStop: {{2900, 0.005, 0.6}, {4300, 0.003, 0.3}, {1250, 0.008, 0.3}},
	plungerSeat: {{2100, 0.006, 0.6}, {3300, 0.004, 0.3}, {950, 0.009, 0.3}},
	discStop:    {{125, 0.060, 0.7}, {290, 0.040, 0.3}, {720, 0.012, 0.2}},
	discSeat:    {{78, 0.090, 0.7}, {190, 0.055, 0.3}, {520, 0.015, 0.2}},
}

// Amplitude of a strike: even a gentle one is heard; from hard on [m/s] none is
// louder. Of a stroke that fell between two pictures no speed is known.
const (
	gentle = 0.25
	most   = 0.8
	hard   = 2.0
	unseen = hard / 2
)

func force(speed float64) float64 {
	speed = math.Abs(speed)
	if !(speed < hard) { // NaN as well
		speed = hard
	}
	return gentle + (most-gentle)*speed/hard
}

// ring is a decaying swing.
type ring struct {
	re, im   float64
	cos, sin float64 // of a step, decay included
}

func newRing(m mode) ring {
	sin, cos := math.Sincos(2 * math.Pi * m.tone / Rate)
	k := math.Exp(-1 / (m.lasts * Rate))
	return ring{cos: k * cos, sin: k * sin}
}

func (r *ring) next() float64 {
	if r.re == 0 && r.im == 0 {
		return 0
	}
	r.re, r.im = r.re*r.cos-r.im*r.sin, r.re*r.sin+r.im*r.cos
	const nothing = 1e-12
	if r.re*r.re+r.im*r.im < nothing {
		r.re, r.im = 0, 0
	}
	return r.im
}
