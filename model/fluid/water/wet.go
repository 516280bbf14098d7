package water

import (
	"math"

	"underdisc/model/fluid"
)

// Water and steam in equilibrium at T have u = psi(T) + v phi(T), with
// phi = (u" - u')/(v" - v') and psi = u' - v' phi. So T follows from (v, u) by a
// guess from a small table and one step of third order:
//
//	T_u = 1/(psi_T + v phi_T), T_v = -phi T_u, p = ps(T)
//
// Entropy has the same form, s = sigma(T) + v chi(T).
const (
	wetLow   = 262.0 // K
	wetCells = 400

	guessLow     = -10 // the guesses start at 2^-10 m3/kg
	guessOctaves = 18
	guessBits    = 3
	guessRows    = 192
	guessCells   = guessOctaves << guessBits
)

// wetLine is the saturation line in one cell of T.
type wetLine struct {
	psi, phi   cubic
	p          cubic // ps
	vl, vg     cubic // v', v"
	sigma, chi cubic
}

type wet struct {
	high  float64   // K, where the table ends: v" = vapourMin
	perK  float64   // cells a K
	lines []wetLine // one a cell, and one at each end that goes on linearly
	// The first guess is the cell and place of T, bilinear over v and a
	// coordinate that is 0 at wetLow and guessRows at the table's upper edge.
	guess []float32
	rate  []float64 // slope of that coordinate by u, at the nodes of v
	// psi and phi at both ends of the table, and their slopes by place.
	low, top           [2]float64
	lowSlope, topSlope [2]float64
}

func (a *wet) build(edge *vapour) {
	a.high = root(func(t float64) float64 { return saturatedSteam(t).V - vapourMin }, 628, 629)
	a.perK = wetCells / (a.high - wetLow)
	t := even(wetCells, wetLow, a.high)
	var f [7][]float64
	for k := range f {
		f[k] = make([]float64, len(t))
	}
	for i, t := range t {
		l, g := saturatedWater(t), saturatedSteam(t)
		phi, chi := (g.U-l.U)/(g.V-l.V), (g.S-l.S)/(g.V-l.V)
		f[0][i], f[1][i], f[2][i] = l.U-l.V*phi, phi, l.P
		f[3][i], f[4][i] = l.V, g.V
		f[5][i], f[6][i] = l.S-l.V*chi, chi
	}
	a.lines = make([]wetLine, wetCells+2)
	var c [7][]cubic
	for k := range f {
		c[k] = cubics(t, f[k])
		first, last := c[k][0], c[k][wetCells-1]
		end, slope := last.at(1)
		// The first runs from t = 0 at its left to 1 at the table's start.
		c[k] = append(append([]cubic{{first[0] - first[1], first[1]}}, c[k]...), cubic{end, slope})
	}
	for i := range a.lines {
		a.lines[i] = wetLine{c[0][i], c[1][i], c[2][i], c[3][i], c[4][i], c[5][i], c[6][i]}
	}
	// Below the table pressure falls with T to zero, not below.
	p := f[2][0]
	a.lines[0].p = cubic{p - p/(wetLow*a.perK), p / (wetLow * a.perK)}

	for k := range 2 {
		a.low[k], a.lowSlope[k] = f[k][0], c[k][0][1]
		a.top[k], a.topSlope[k] = f[k][wetCells], c[k][wetCells+1][1]
	}
	a.makeGuesses(edge)
}

// makeGuesses solves for T at the nodes of the guesses.
func (a *wet) makeGuesses(edge *vapour) {
	a.guess = make([]float32, (guessCells+1)*(guessRows+1))
	a.rate = make([]float64, guessCells+1)
	for i := range a.rate {
		v := node(i, guessBits, guessLow)
		low, high := a.low[0]+v*a.low[1], a.top[0]+v*a.top[1]
		if v > vapourMin {
			high = edge.saturated(math.Min(v, vapourEdge))
		}
		a.rate[i] = guessRows / (high - low)
		x := 0.0
		for j := range guessRows + 1 {
			u := low + (high-low)*float64(j)/guessRows
			for range 8 {
				k := max(0, min(int(x), wetCells-1))
				c, t := &a.lines[k+1], x-float64(k)
				psi, psix := c.psi.at(t)
				phi, phix := c.phi.at(t)
				x += (u - psi - v*phi) / (psix + v*phix)
			}
			a.guess[i*(guessRows+1)+j] = float32(x)
		}
	}
}

// solve finds T as the number of a line and the place in it.
func (a *wet) solve(v, u float64) (k int, x float64) {
	dv := u - a.low[0] - v*a.low[1]
	if dv <= 0 {
		return 0, 1 + dv/(a.lowSlope[0]+v*a.lowSlope[1])
	}
	in := v
	if v >= vapourMax {
		in = vapourEdge
	} else if v < vapourMin {
		if over := u - a.top[0] - v*a.top[1]; over >= 0 {
			return wetCells + 1, over / (a.topSlope[0] + v*a.topSlope[1])
		}
	}
	i, x, _ := octave(in, guessBits, guessLow)
	y := dv * (a.rate[i] + x*(a.rate[i+1]-a.rate[i]))
	j := guessRows - 1
	if y < guessRows {
		j = int(y)
	}
	y -= float64(j)
	g := a.guess[i*(guessRows+1)+j:]
	h := g[guessRows+1:]
	g0, h0 := float64(g[0]), float64(h[0])
	g0 += y * (float64(g[1]) - g0)
	h0 += y * (float64(h[1]) - h0)
	x = g0 + x*(h0-g0)
	k = max(0, min(int(x), wetCells-1))
	x -= float64(k)

	// One step of third order (Chebyshev's). The guess is 0.05 K off at most, the
	// step leaves 1e-7 K.
	c := &a.lines[k+1]
	psi, psix := c.psi.at(x)
	phi, phix := c.phi.at(x)
	slope := 1 / (psix + v*phix)
	bend := c.psi[2] + v*c.phi[2] + 3*x*(c.psi[3]+v*c.phi[3])
	d := (u - psi - v*phi) * slope
	x += d * (1 - d*bend*slope)
	if x < 0 && k > 0 {
		return k, x + 1
	}
	if x > 1 && k < wetCells-1 {
		return k + 2, x - 1
	}
	return k + 1, x
}

// line finds the number of the line of t and the place in it.
func (a *wet) line(t float64) (k int, x float64) {
	x = (t - wetLow) * a.perK
	k = max(-1, min(int(math.Floor(x)), wetCells))
	return k + 1, x - float64(k)
}

// at fills p, T and their slopes.
func (a *wet) at(v, u float64, s *fluid.State) {
	k, x := a.solve(v, u)
	c := &a.lines[k]
	_, psix := c.psi.at(x)
	phi, phix := c.phi.at(x)
	p, px := c.p.at(x)
	vl, _ := c.vl.at(x)
	vg, _ := c.vg.at(x)
	f := 1 / (psix + v*phix)
	s.T, s.P = wetLow+(x+float64(k-1))/a.perK, p
	s.Tu = f / a.perK
	s.Tv = -phi * s.Tu
	s.Pu = px * f
	s.Pv = -phi * s.Pu
	q := (v - vl) / (vg - vl)
	if q < 0 {
		q = 0
	}
	if q > 1 {
		q = 1
	}
	s.X = q
}

// sound is the speed of sound in equilibrium, m/s: w^2 = v^2 (p p_u - p_v).
func sound(s *fluid.State) float64 {
	return s.V * math.Sqrt(s.P*s.Pu-s.Pv)
}
