package live_test

import "math"

// root finds where f changes sign between a and b, by bisection to 1e-12 of
// it. NaN, which fails every comparison, if it does not change sign.
func root(a, b float64, f func(float64) float64) float64 {
	fa, fb := f(a), f(b)
	if !(fa*fb <= 0) {
		return math.NaN()
	}
	for {
		m := a + (b-a)/2
		if m == a || m == b || math.Abs(b-a) <= 1e-12*math.Abs(m) {
			return m
		}
		if fm := f(m); (fm > 0) == (fa > 0) {
			a = m
		} else {
			b = m
		}
	}
}

// march integrates y' = f(t, y) from t with the classical Runge-Kutta method
// in steps of h until done(t, y), and returns the time linearly interpolated
// in what done measures: it is negative before, positive after. limit ends it
// at the latest, with +Inf.
func march(t, h, limit float64, y []float64, f func(t float64, y, dy []float64), done func(t float64, y []float64) float64) float64 {
	n := len(y)
	k := make([][]float64, 4)
	for i := range k {
		k[i] = make([]float64, n)
	}
	u, old := make([]float64, n), make([]float64, n)
	before := done(t, y)
	for t < limit {
		if before >= 0 {
			return t
		}
		copy(old, y)
		f(t, y, k[0])
		for i, c := range []float64{0.5, 0.5, 1} {
			for j := range u {
				u[j] = y[j] + c*h*k[i][j]
			}
			f(t+c*h, u, k[i+1])
		}
		for j := range y {
			y[j] += h / 6 * (k[0][j] + 2*k[1][j] + 2*k[2][j] + k[3][j])
		}
		t += h
		after := done(t, y)
		if after >= 0 {
			share := before / (before - after)
			for j := range y {
				y[j] = old[j] + share*(y[j]-old[j])
			}
			return t - h + share*h
		}
		before = after
	}
	return math.Inf(1)
}

// stream is the mass flow through the area c from a to b; negative the other
// way.
func (g rig) stream(c, pa, Ta, pb, Tb float64) float64 {
	if pa >= pb {
		return c * pa / math.Sqrt(g.R*Ta) * g.psi(pb/pa)
	}
	return -c * pb / math.Sqrt(g.R*Tb) * g.psi(pa/pb)
}

// blowing is the vessel with the valve held at full lift, and its chamber:
// body and tailpipe follow at once (flowing). Where the chamber does not
// matter, bleed and leak are zero.
type blowing struct {
	pV, TV      float64 // vessel; the body has its temperature
	pB, TB      float64 // chamber
	reading     float64 // of the sensor
	bleed, leak float64 // areas C into and out of the chamber
}

// until follows it until done, which sees the state with pA and pT, is no
// longer negative; it returns the time that takes, +Inf if it is more than
// limit. Balances of mass and energy of two adiabatic volumes, p V = m R T:
//
//	dp/dt = gamma R/V (sum W T), dm/dt = sum W.
//
// The seat must be choked, which makes pA/pV a constant.
func (b *blowing) until(g rig, h, limit float64, done func(b *blowing, pA, pT float64) float64) float64 {
	cavity := g.cavity - g.Ag*g.xMax
	seat := g.Cseat(g.xMax) * g.choked()
	_, share, _ := g.open(b.pV)
	share /= b.pV
	open := func() (w, pA, pT float64) {
		w = seat * share * b.pV
		return w, share * b.pV, g.upstream(w, g.Ctail, g.pAir)
	}
	y := []float64{b.pV, b.pV * g.vessel / (g.R * b.TV), b.pB, b.pB * cavity / (g.R * b.TB), b.reading}
	see := func(y []float64) {
		b.pV, b.TV, b.pB, b.TB, b.reading = y[0], y[0]*g.vessel/(g.R*y[1]), y[2], y[2]*cavity/(g.R*y[3]), y[4]
	}
	took := march(0, h, limit, y, func(_ float64, y, dy []float64) {
		see(y)
		w, pA, pT := open()
		out := w / math.Sqrt(g.R*b.TV)
		in, leak := g.stream(b.bleed, pA, b.TV, b.pB, b.TB), g.stream(b.leak, b.pB, b.TB, pT, b.TV)
		hot := b.TV // of what flows through the bleed
		if in < 0 {
			hot = b.TB
		}
		dy[0] = g.gamma * g.R / g.vessel * (g.inflow*g.tInflow - out*b.TV)
		dy[1] = g.inflow - out
		dy[2] = g.gamma * g.R / cavity * (in*hot - leak*b.TB)
		dy[3] = in - leak
		dy[4] = (b.pV - b.reading) / g.lag
	}, func(_ float64, y []float64) float64 {
		see(y)
		_, pA, pT := open()
		return done(b, pA, pT)
	})
	see(y) // march has gone back to where done is zero
	return took
}

// fall is how fast the vessel's pressure falls at full lift [Pa/s].
func (g rig) fall(pV, TV float64) float64 {
	w, _, _ := g.open(pV)
	return g.gamma * g.R / g.vessel * (w*math.Sqrt(TV/g.R) - g.inflow*g.tInflow)
}

// travel is the time the pilot takes from its open stop to its seat, pushed by
// the spring against inertia, damping and what is left of the pull; what
// little pressure there is in the dumped chamber is left out.
func (g rig) travel() float64 {
	y := []float64{g.sMax, 0}
	return march(0, 1e-5, 1, y, func(t float64, y, dy []float64) {
		i := g.holdCurrent() * math.Exp(-t*g.ohms/g.henrys) / (1 + (g.sMax-y[0])/g.g0)
		dy[0] = y[1]
		dy[1] = (g.Kf*i*i - g.Fp0 - g.kp*y[0] - g.damp*y[1]) / g.mass
	}, func(_ float64, y []float64) float64 { return -y[0] })
}

// onDemand is the state at the moment the pilot has shut after the first lift:
// the valve opens about when the switch makes, and blows down until the
// reading resets; then relay, coil and pilot take their time. The chamber
// stands at the tailpipe's pressure.
func (g rig) onDemand() *blowing {
	pV, TV := g.gasAt(g.madeAt())
	b := &blowing{pV: pV, TV: TV, pB: pV, TB: TV, reading: g.set}
	b.until(g, 5e-3, 60, func(b *blowing, _, _ float64) float64 { return g.reset - b.reading })
	t := g.dropOut + g.release() + g.travel()
	b.pV -= g.fall(b.pV, b.TV) * t
	_, _, b.pB = g.open(b.pV)
	b.TB, b.bleed = b.TV, g.Cbleed
	return b
}

// leaves follows the refilling until the disc leaves its stop, and returns how
// long that takes, +Inf if longer than limit.
func (b *blowing) leaves(g rig, limit float64) float64 {
	// The chamber's own time constant is V/(C sqrt(R T)), 0.24 s on the bench.
	h := min(0.02, 0.05*(g.cavity-g.Ag*g.xMax)/((b.bleed+b.leak)*math.Sqrt(g.R*b.TV)))
	return b.until(g, h, limit, func(b *blowing, pA, pT float64) float64 { return b.pB - g.toLeave(pA, pT) })
}
