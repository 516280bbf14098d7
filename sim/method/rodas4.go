package method

import "math"

// Rodas4: Rosenbrock method of order 4(3), six stages, L-stable and stiffly
// accurate. Source: Hairer and Wanner, Solving Ordinary Differential
// Equations II, 2nd ed., section IV.7, in the transformed form of section
// IV.7.6 (coefficients of the authors' published code of the same name):
//
//	(I/(h g) - J) k_i = f(t + c_i h, y0 + sum_j a_ij k_j) + sum_j c_ij k_j/h + h d_i df/dt
//
// The argument of stage 6 is that of stage 5 plus k5; y1 is that plus k6, and
// k6 is the error estimate. The tests measure order 4 in the step and 3 or
// better in between.
const (
	roGamma = 0.25

	roC2, roC3, roC4 = 0.386, 0.21, 0.63

	roD1, roD2, roD3, roD4 = 0.25, -0.1043, 0.1035, -0.0362

	roA21                      = 1.544
	roA31, roA32               = 0.9466785280815826, 0.2557011698983284
	roA41, roA42, roA43        = 3.314825187068521, 2.896124015972201, 0.9986419139977817
	roA51, roA52, roA53, roA54 = 1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895

	roC21                             = -5.6688
	roC31, roC32                      = -2.430093356833875, -0.2063599157091915
	roC41, roC42, roC43               = -0.1073529058151375, -9.594562251023355, -20.47028614809616
	roC51, roC52, roC53, roC54        = 7.496443313967647, -10.24680431464352, -33.99990352819905, 11.7089089320616
	roC61, roC62, roC63, roC64, roC65 = 8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054

	roH11, roH12, roH13, roH14, roH15 = 10.12623508344586, -7.487995877610167, -34.80091861555747, -7.992771707568823, 1.025137723295662
	roH21, roH22, roH23, roH24, roH25 = -0.6762803392801253, 6.087714651680015, 16.43084320892478, 24.76722511418386, -6.594389125716872
)

// Rodas4 is the Rosenbrock method 4(3).
type Rodas4 struct {
	tol     *Tolerance
	entries []Entry
	plans   map[string]*lu
	plan    *lu
	key     []byte
	riders  []rider

	fld          Field
	timed        TimeDependent // nil where f does not depend on t
	t, h         float64
	y0, f0, g0   []float64
	elements     []float64
	jacobianDone bool
	ft, gt       []float64

	k1, k2, k3, k4, k5, k6 []float64
	g2, g3, g4, g5, g6     []float64
	y, z, w                []float64

	// Jacobians counts evaluations of the Jacobian, Factorings those of the
	// linear algebra.
	Jacobians, Factorings int
}

// rider is an element of dg/dy.
type rider struct{ element, row, col int }

// NewRodas4 makes a stepper for n variables and nq quadratures whose Jacobian
// has the given entries.
func NewRodas4(n, nq int, entries []Entry, tol *Tolerance) *Rodas4 {
	v := func() []float64 { return make([]float64, n) }
	q := func() []float64 { return make([]float64, nq) }
	r := &Rodas4{tol: tol, entries: entries, plans: map[string]*lu{}, key: make([]byte, n),
		elements: make([]float64, len(entries)), ft: v(), gt: q(),
		k1: v(), k2: v(), k3: v(), k4: v(), k5: v(), k6: v(), y: v(), z: v(), w: v(),
		g2: q(), g3: q(), g4: q(), g5: q(), g6: q()}
	for e, en := range entries {
		if en.Row >= n && nq > 0 {
			r.riders = append(r.riders, rider{e, en.Row - n, en.Col})
		}
	}
	return r
}

// Order is 4.
func (r *Rodas4) Order() int { return 4 }

// Reshape must be called when Tolerance.Active has changed: it takes up the
// elimination plan of that set of variables, making it at the first use.
func (r *Rodas4) Reshape() {
	for i, a := range r.tol.Active {
		r.key[i] = 0
		if a {
			r.key[i] = 1
		}
	}
	plan := r.plans[string(r.key)]
	if plan == nil {
		plan = newLU(len(r.key), r.tol.Active, r.entries)
		r.plans[string(r.key)] = plan
	}
	r.plan = plan
}

// Start implements Stepper.
func (r *Rodas4) Start(fld Field, t float64, y0, f0, g0 []float64) {
	r.fld, r.t, r.y0, r.f0, r.g0 = fld, t, y0, f0, g0
	r.timed, _ = fld.(TimeDependent)
	r.jacobianDone = false
	if r.plan == nil {
		r.Reshape()
	}
}

func (r *Rodas4) jacobian() {
	if r.jacobianDone {
		return
	}
	r.fld.Jacobian(r.t, r.y0, r.elements)
	if r.timed != nil {
		r.timed.TimeDerivative(r.t, r.y0, r.ft, r.gt)
	}
	r.jacobianDone = true
	r.Jacobians++
}

// Try implements Stepper.
func (r *Rodas4) Try(h float64, y1 []float64) float64 {
	r.h = h
	r.jacobian()
	r.Factorings++
	if !r.plan.factor(1/(h*roGamma), r.elements) {
		return math.Inf(1)
	}
	n := len(r.y0)
	y0, f0, y := r.y0, r.f0[:n], r.y[:n]
	k1, k2, k3, k4, k5, k6 := r.k1[:n], r.k2[:n], r.k3[:n], r.k4[:n], r.k5[:n], r.k6[:n]
	i1 := 1 / h

	copy(k1, f0)
	r.addTime(k1, roD1)
	r.plan.solve(k1)

	for i := range y0 {
		y[i] = y0[i] + roA21*k1[i]
	}
	r.fld.Derivative(r.t+roC2*h, y, k2, r.g2)
	for i := range y0 {
		k2[i] += i1 * roC21 * k1[i]
	}
	r.addTime(k2, roD2)
	r.plan.solve(k2)

	for i := range y0 {
		y[i] = y0[i] + roA31*k1[i] + roA32*k2[i]
	}
	r.fld.Derivative(r.t+roC3*h, y, k3, r.g3)
	for i := range y0 {
		k3[i] += i1 * (roC31*k1[i] + roC32*k2[i])
	}
	r.addTime(k3, roD3)
	r.plan.solve(k3)

	for i := range y0 {
		y[i] = y0[i] + roA41*k1[i] + roA42*k2[i] + roA43*k3[i]
	}
	r.fld.Derivative(r.t+roC4*h, y, k4, r.g4)
	for i := range y0 {
		k4[i] += i1 * (roC41*k1[i] + roC42*k2[i] + roC43*k3[i])
	}
	r.addTime(k4, roD4)
	r.plan.solve(k4)

	for i := range y0 {
		y[i] = y0[i] + roA51*k1[i] + roA52*k2[i] + roA53*k3[i] + roA54*k4[i]
	}
	r.fld.Derivative(r.t+h, y, k5, r.g5)
	for i := range y0 {
		k5[i] += i1 * (roC51*k1[i] + roC52*k2[i] + roC53*k3[i] + roC54*k4[i])
	}
	r.plan.solve(k5)

	for i := range y0 {
		y[i] += k5[i]
	}
	r.fld.Derivative(r.t+h, y, k6, r.g6)
	for i := range y0 {
		k6[i] += i1 * (roC61*k1[i] + roC62*k2[i] + roC63*k3[i] + roC64*k4[i] + roC65*k5[i])
	}
	r.plan.solve(k6)

	y1 = y1[:n]
	for i := range y0 {
		y1[i] = y[i] + k6[i]
	}
	return r.tol.norm(k6, y0, y1)
}

func (r *Rodas4) addTime(k []float64, d float64) {
	if r.timed == nil {
		return
	}
	for i, v := range r.ft {
		k[i] += r.h * d * v
	}
}

// roB are the weights of the stages in a quadrature: its increment is
//
//	h gamma sum_i b_i (g_i + dg/dy k_i + h d_i dg/dt)
//
// which is what the formula for k_i gives for variables on which nothing
// depends, solved for their sum: b_i = m_i + gamma sum_{j>i} c_ji b_j, with m_i
// the weight of k_i in y1.
var roB = func() (b [6]float64) {
	c := [6][6]float64{
		1: {roC21},
		2: {roC31, roC32},
		3: {roC41, roC42, roC43},
		4: {roC51, roC52, roC53, roC54},
		5: {roC61, roC62, roC63, roC64, roC65},
	}
	b = [6]float64{roA51, roA52, roA53, roA54, 1, 1}
	for i := 5; i >= 0; i-- {
		for j := i + 1; j < 6; j++ {
			b[i] += roGamma * c[j][i] * b[j]
		}
	}
	return b
}()

// Ledger implements Stepper.
func (r *Rodas4) Ledger(dq []float64) {
	if len(dq) == 0 {
		return
	}
	b, w := &roB, r.w
	k1, k2, k3, k4, k5, k6 := r.k1, r.k2, r.k3, r.k4, r.k5, r.k6
	for i := range w {
		w[i] = b[0]*k1[i] + b[1]*k2[i] + b[2]*k3[i] + b[3]*k4[i] + b[4]*k5[i] + b[5]*k6[i]
	}
	for i := range dq {
		dq[i] = b[0]*r.g0[i] + b[1]*r.g2[i] + b[2]*r.g3[i] + b[3]*r.g4[i] + b[4]*r.g5[i] + b[5]*r.g6[i]
	}
	for _, d := range r.riders {
		dq[d.row] += r.elements[d.element] * w[d.col]
	}
	if r.timed != nil {
		d := r.h * (b[0]*roD1 + b[1]*roD2 + b[2]*roD3 + b[3]*roD4)
		for i, v := range r.gt {
			dq[i] += d * v
		}
	}
	for i := range dq {
		dq[i] *= r.h * roGamma
	}
}

// Dense implements Stepper. The interpolant is of order 3: the fifth vector
// is zero.
func (r *Rodas4) Dense(y1, c []float64) {
	n := len(r.y0)
	c1, c2, c3, c4, c5 := c[:n], c[n:2*n], c[2*n:3*n], c[3*n:4*n], c[4*n:5*n]
	k1, k2, k3, k4, k5 := r.k1[:n], r.k2[:n], r.k3[:n], r.k4[:n], r.k5[:n]
	for i, a := range r.y0 {
		c1[i], c2[i] = a, y1[i]-a
		c3[i] = roH11*k1[i] + roH12*k2[i] + roH13*k3[i] + roH14*k4[i] + roH15*k5[i]
		c4[i] = roH21*k1[i] + roH22*k2[i] + roH23*k3[i] + roH24*k4[i] + roH25*k5[i]
	}
	clear(c5)
}

// Last implements Stepper: the end of the step is not evaluated.
func (r *Rodas4) Last() ([]float64, []float64, bool) { return nil, nil, false }

// Spectral advances an estimate of the dominant eigenvalue of the Jacobian at
// the start of the step by one power iteration on z, in units of the scales,
// and returns it. z is the caller's, so that a run can be taken up from a
// checkpoint exactly.
func (r *Rodas4) Spectral(z []float64) float64 {
	r.jacobian()
	n := len(z)
	w := r.w
	clear(w)
	active, scale := r.tol.Active, r.tol.Scale
	for e, en := range r.entries {
		if en.Row < n && active[en.Row] && active[en.Col] {
			w[en.Row] += r.elements[e] * z[en.Col] * scale[en.Col]
		}
	}
	var num, den float64
	for i := range z {
		if !active[i] {
			continue
		}
		w[i] /= scale[i]
		num += w[i] * w[i]
		den += z[i] * z[i]
	}
	if !(den > 0) || !(num > 0) || math.IsInf(num, 0) {
		for i := range z {
			z[i] = 1 - 0.5*float64(i%3)
		}
		return math.Inf(1)
	}
	// A little of every direction is kept, or one that starts to grow later
	// would never be seen.
	s := 1 / math.Sqrt(num)
	for i := range z {
		if active[i] {
			z[i] = w[i]*s + 1e-3*(1-0.5*float64(i%3))
		}
	}
	return math.Sqrt(num / den)
}
