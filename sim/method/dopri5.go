package method

import "math"

// Dormand and Prince's explicit pair of order 5(4), seven stages, the last of
// which is the first of the next step, with the free interpolant of order 4.
// Source: Hairer, Norsett, Wanner, Solving Ordinary Differential Equations I,
// 2nd ed., section II.5, table 5.2, and section II.6 for the interpolant. The
// order of both is measured in the tests.
const (
	dpC2, dpC3, dpC4, dpC5 = 1. / 5, 3. / 10, 4. / 5, 8. / 9

	dpA21                             = 1. / 5
	dpA31, dpA32                      = 3. / 40, 9. / 40
	dpA41, dpA42, dpA43               = 44. / 45, -56. / 15, 32. / 9
	dpA51, dpA52, dpA53, dpA54        = 19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729
	dpA61, dpA62, dpA63, dpA64, dpA65 = 9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656
	dpA71, dpA73, dpA74, dpA75, dpA76 = 35. / 384, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84

	dpE1, dpE3, dpE4, dpE5, dpE6, dpE7 = 71. / 57600, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40

	dpD1, dpD3, dpD4, dpD5, dpD6, dpD7 = -12715105075. / 11282082432, 87487479700. / 32700410799,
		-10690763975. / 1880347072, 701980252875. / 199316789632, -1453857185. / 822651844, 69997945. / 29380423
)

// Dopri5 is the explicit pair 5(4).
type Dopri5 struct {
	tol                    *Tolerance
	fld                    Field
	t, h                   float64
	y0, k1, g1             []float64
	k2, k3, k4, k5, k6, k7 []float64
	g2, g3, g4, g5, g6, g7 []float64
	y, y6, e               []float64
	stiffness, decay       float64
}

// NewDopri5 makes a stepper for n variables and nq quadratures.
func NewDopri5(n, nq int, tol *Tolerance) *Dopri5 {
	v := func() []float64 { return make([]float64, n) }
	q := func() []float64 { return make([]float64, nq) }
	return &Dopri5{tol: tol,
		k2: v(), k3: v(), k4: v(), k5: v(), k6: v(), k7: v(), y: v(), y6: v(), e: v(),
		g2: q(), g3: q(), g4: q(), g5: q(), g6: q(), g7: q()}
}

// Order is 5.
func (d *Dopri5) Order() int { return 5 }

// Start implements Stepper.
func (d *Dopri5) Start(fld Field, t float64, y0, f0, g0 []float64) {
	d.fld, d.t, d.y0, d.k1, d.g1 = fld, t, y0, f0, g0
}

// Try implements Stepper.
func (d *Dopri5) Try(h float64, y1 []float64) float64 {
	d.h = h
	n := len(d.y0)
	y0, y, y6 := d.y0, d.y[:n], d.y6[:n]
	k1, k2, k3, k4, k5, k6, k7 := d.k1[:n], d.k2[:n], d.k3[:n], d.k4[:n], d.k5[:n], d.k6[:n], d.k7[:n]
	for i := range y0 {
		y[i] = y0[i] + h*dpA21*k1[i]
	}
	d.fld.Derivative(d.t+dpC2*h, y, k2, d.g2)
	for i := range y0 {
		y[i] = y0[i] + h*(dpA31*k1[i]+dpA32*k2[i])
	}
	d.fld.Derivative(d.t+dpC3*h, y, k3, d.g3)
	for i := range y0 {
		y[i] = y0[i] + h*(dpA41*k1[i]+dpA42*k2[i]+dpA43*k3[i])
	}
	d.fld.Derivative(d.t+dpC4*h, y, k4, d.g4)
	for i := range y0 {
		y[i] = y0[i] + h*(dpA51*k1[i]+dpA52*k2[i]+dpA53*k3[i]+dpA54*k4[i])
	}
	d.fld.Derivative(d.t+dpC5*h, y, k5, d.g5)
	for i := range y0 {
		y6[i] = y0[i] + h*(dpA61*k1[i]+dpA62*k2[i]+dpA63*k3[i]+dpA64*k4[i]+dpA65*k5[i])
	}
	d.fld.Derivative(d.t+h, y6, k6, d.g6)
	y1 = y1[:n]
	for i := range y0 {
		y1[i] = y0[i] + h*(dpA71*k1[i]+dpA73*k3[i]+dpA74*k4[i]+dpA75*k5[i]+dpA76*k6[i])
	}
	d.fld.Derivative(d.t+h, y1, k7, d.g7)
	e := d.e[:n]
	var num, den, dot float64
	scale := d.tol.Scale[:n]
	for i := range y0 {
		e[i] = h * (dpE1*k1[i] + dpE3*k3[i] + dpE4*k4[i] + dpE5*k5[i] + dpE6*k6[i] + dpE7*k7[i])
		a, b := (k7[i]-k6[i])/scale[i], (y1[i]-y6[i])/scale[i]
		num += a * a
		den += b * b
		dot += a * b
	}
	d.stiffness, d.decay = 0, 0
	if den > 0 {
		d.stiffness = h * math.Sqrt(num/den)
		d.decay = -h * dot / den
	}
	return d.tol.norm(e, y0, y1)
}

// Stiffness is h times the dominant eigenvalue as the last two stages of the
// last Try saw it (Hairer and Wanner II, section IV.2): above about 3.3 the
// step is held by stability, not by accuracy.
func (d *Dopri5) Stiffness() float64 { return d.stiffness }

// Decay is the part of Stiffness that decays: h times the real part of the same
// eigenvalue, sign turned. Where it is a small share of it, the mode swings; such
// a step loses its stability sooner: on the imaginary axis at 1.1, where it grows
// by 1 % a step at 1.7, while with a share of 0.1 it reaches 2.6 (from the pair's
// stability function 1 + z + ... + z^5/120 + z^6/600).
func (d *Dopri5) Decay() float64 { return d.decay }

// Ledger implements Stepper.
func (d *Dopri5) Ledger(dq []float64) {
	h := d.h
	for i := range dq {
		dq[i] = h * (dpA71*d.g1[i] + dpA73*d.g3[i] + dpA74*d.g4[i] + dpA75*d.g5[i] + dpA76*d.g6[i])
	}
}

// Dense implements Stepper.
func (d *Dopri5) Dense(y1, c []float64) {
	n, h := len(d.y0), d.h
	c1, c2, c3, c4, c5 := c[:n], c[n:2*n], c[2*n:3*n], c[3*n:4*n], c[4*n:5*n]
	k1, k3, k4, k5, k6, k7 := d.k1[:n], d.k3[:n], d.k4[:n], d.k5[:n], d.k6[:n], d.k7[:n]
	for i, a := range d.y0 {
		diff := y1[i] - a
		b := h*k1[i] - diff
		c1[i], c2[i], c3[i] = a, diff, b
		c4[i] = diff - h*k7[i] - b
		c5[i] = h * (dpD1*k1[i] + dpD3*k3[i] + dpD4*k4[i] + dpD5*k5[i] + dpD6*k6[i] + dpD7*k7[i])
	}
}

// Last implements Stepper: the seventh stage is f at the end.
func (d *Dopri5) Last() ([]float64, []float64, bool) { return d.k7, d.g7, true }
