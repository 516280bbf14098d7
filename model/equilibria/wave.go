package equilibria

import (
	"math"
	"math/cmplx"
)

// waves are a disc and a length of pipe ahead of it, for small changes about an
// equilibrium. At the pipe's end pressure and flow answer each other by
//
//	p' = -Zc T W', Zc = (c0/A) sqrt((s+R)/s), T = tanh(sqrt(s(s+R)) L/c0)
//
// with R the rate at which a flow slows down in the pipe, which is open to a vessel
// (any text on acoustics); the valve by W' = G p' + H x', the disc by
// m s^2 x + c s x + K x = a p'. So
//
//	(m s^2 + c s + K)(1 + Zc T G) + Zc T H a = 0
//
// Without losses and damping its roots cross the axis where the pipe is a quarter of
// the wave long, at
//
//	L = (pi c0/2) sqrt(m/(K + H a/G))
//
// and longer pipes ring (derived). The flow's own speed is left out: right for small
// Mach numbers.
type waves struct {
	mass, damping float64 // m, c
	stiff         float64 // K: less what the flow's force grows by the lift, N/m
	byP, byX      float64 // G = dW/dp, H = dW/dx
	area          float64 // a = dF/dp, m2
	sound         float64 // c0, m/s
	bore          float64 // A, m2
	length        float64 // L, m
	drag          float64 // R, 1/s
}

// value is the left side at s times the cosh that belongs to T, which has no poles.
func (w *waves) value(s complex128) complex128 {
	lossy := cmplx.Sqrt((s + complex(w.drag, 0)) / s)
	at := s * lossy * complex(w.length/w.sound, 0)
	z := complex(w.sound/w.bore, 0) * lossy * cmplx.Sinh(at)
	disc := complex(w.mass, 0)*s*s + complex(w.damping, 0)*s + complex(w.stiff, 0)
	return disc*(cmplx.Cosh(at)+z*complex(w.byP, 0)) + z*complex(w.byX*w.area, 0)
}

// least is the damping of the least damped wave, as a share of critical: -Re s/|s|
// of the roots that Newton's method finds from the pipe's first modes and the
// disc's own. NaN where it finds none.
func (w *waves) least() float64 {
	quarter := math.Pi * w.sound / (2 * w.length)
	starts := []float64{quarter, 0.8 * quarter, 3 * quarter, 5 * quarter}
	if w.stiff > 0 {
		starts = append(starts, math.Sqrt(w.stiff/w.mass))
	}
	if k := w.stiff + w.byX*w.area/w.byP; k > 0 && !math.IsInf(k, 0) {
		starts = append(starts, math.Sqrt(k/w.mass))
	}
	best := math.NaN()
	for _, at := range starts {
		s, ok := w.root(complex(-0.02*at, at))
		if !ok || imag(s) < 1e-3*quarter {
			continue
		}
		if d := -real(s) / cmplx.Abs(s); math.IsNaN(best) || d < best {
			best = d
		}
	}
	return best
}

func (w *waves) root(s complex128) (complex128, bool) {
	for range 40 {
		h := complex(1e-6*cmplx.Abs(s), 0)
		f := w.value(s)
		slope := (w.value(s+h) - w.value(s-h)) / (2 * h)
		step := f / slope
		if most := 0.3 * cmplx.Abs(s); cmplx.Abs(step) > most {
			step *= complex(most/cmplx.Abs(step), 0)
		}
		s -= step
		if cmplx.IsNaN(s) {
			return 0, false
		}
		if cmplx.Abs(step) < 1e-10*cmplx.Abs(s) {
			return s, true
		}
	}
	return 0, false
}

// wave is the least damping about the equilibrium that was last computed; NaN
// without a length of pipe, and without a flow. The pressure behind the valve stays.
// The seat's faces damp as network.SeatFaces has it, the pipe as network.Channel.
func (k *spring) wave(x float64) float64 {
	r := k.v.Inlet
	if r == nil || !(x > 0) {
		return math.NaN()
	}
	s := k.up
	down := k.out.end
	if len(k.p) > 0 {
		down = k.p[0]
	}
	k.past.Slopes(&s, math.Min(down, s.P), x, &k.now)
	// Along the isentrope du = -p dv.
	dv := 1 / (s.Pv - s.P*s.Pu)
	w := waves{mass: k.v.Disc.Mass, damping: k.v.Disc.Damping, length: r.Length, bore: math.Pi / 4 * r.Bore * r.Bore,
		sound: s.V * math.Sqrt(s.P*s.Pu-s.Pv),
		byP:   (k.now.Wv - s.P*k.now.Wu) * dv, byX: k.now.Wx, area: (k.now.Fv - s.P*k.now.Fu) * dv,
		stiff: k.v.Spring.Rate - k.now.Fx - contactSlope(&k.v.Seat, x-k.off)}
	w.damping += 2 * k.faces * math.Sqrt(-w.mass*contactSlope(&k.v.Seat, x-k.off))
	b := k.inlet.k * s.V * k.now.W * w.bore / w.length
	if root := math.Hypot(b, k.layer); root > 0 {
		w.drag = root + b*b/root
	}
	return w.least()
}
