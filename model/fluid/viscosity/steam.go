package viscosity

import (
	"math"

	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
)

// Steam is the viscosity and the void fraction of states of water and steam,
// from tables over temperature:
//
//	steam   mu = mu0(T) exp(rho (b(T) + rho e(T)))
//	water   mu = mu'(T) exp((rho - rho'(T)) c(T))
//	wet     1/mu = x/mu'' + (1-x)/mu'
//
// b and c make the slope by density right, b at no density and c on the
// saturation line; e makes mu right on the line, and past its end at the density
// of steam there. The wet rule is that of McAdams, Woods and Heroman,
// Trans. ASME 64 (1942) 193 (memory). So mu has no jump where the phase changes.
//
// Range: water to 623 K and steam to 1073 K, up to 165 bar (superheated to
// 220). Within it the tables are within 0.4 % of IAPWS R12-08 in water (up to
// 300 bar), 0.4 % in steam up to 100 bar and 1 % above, 1e-4 on the saturation
// line (tested). Colder and hotter they give what they give at their ends.
type Steam struct {
	line [lines]row // on the saturation line, from coldest by step
	hot  [hots]dry  // steam
}

const (
	coldest = 273.15 // K
	step    = 4.0    // K
	lines   = 90     // to 629.15 K
	hots    = 203    // to 1081.15 K
	// Trial states may be denser: steam than this, kg/m3, or water than on the
	// saturation line by more than this part. They get the value at the bound.
	densest = 150.0
	pressed = 0.15
)

// Columns of the saturation line.
const (
	lnLiquid = iota // ln mu'
	byRho           // c
	lnVapour        // ln mu''
	lnV1            // ln v'
	lnV2            // ln v''
	columns
)

// row is the line's columns at a temperature and, for the way to the next, the
// coefficients of the cubic in the part of the step.
type row [columns][4]float64

// dry is the same for ln mu0, b and e of steam.
type dry [3][4]float64

var (
	_ fluid.Viscous = (*Steam)(nil)
	_ fluid.Voider  = (*Steam)(nil)
)

// NewSteam makes the tables, which takes 0.2 ms.
func NewSteam() *Steam {
	s := &Steam{}
	var cols [columns][lines]float64
	var mu0, b, e [hots]float64
	for i := range hots {
		t := coldest + step*float64(i)
		mu0[i] = math.Log(unit * thin(t))
		ts := min(t, coldest+step*(lines-1))
		p := if97.SaturationP(ts)
		v2 := if97.Region2(p, ts).V
		b[i] = density(0, t) / criticalD
		e[i] = (density(1/v2, t)/criticalD - b[i]) * v2
		if i >= lines {
			continue
		}
		v1 := if97.Region1(p, t).V
		const h = 1e-3 // of the density, for the slope
		cols[lnLiquid][i] = math.Log(Water(1/v1, t))
		cols[byRho][i] = math.Log(Water((1+h)/v1, t)/Water((1-h)/v1, t)) / (2 * h) * v1
		cols[lnVapour][i] = mu0[i] + (b[i]+e[i]/v2)/v2
		cols[lnV1][i] = math.Log(v1)
		cols[lnV2][i] = math.Log(v2)
	}
	for i := range hots {
		s.hot[i] = dry{cubic(mu0[:], i), cubic(b[:], i), cubic(e[:], i)}
		if i < lines {
			for k := range columns {
				s.line[i][k] = cubic(cols[k][:], i)
			}
		}
	}
	return s
}

// cubic is the polynomial from node i to i+1 of even nodes, with the slopes of
// central differences; beyond the last node, a constant.
func cubic(f []float64, i int) [4]float64 {
	n := len(f) - 1
	if i == n {
		return [4]float64{f[n]}
	}
	slope := func(i int) float64 {
		switch i {
		case 0:
			return (-3*f[0] + 4*f[1] - f[2]) / 2
		case n:
			return (3*f[n] - 4*f[n-1] + f[n-2]) / 2
		}
		return (f[i+1] - f[i-1]) / 2
	}
	d, m0, m1 := f[i+1]-f[i], slope(i), slope(i+1)
	return [4]float64{f[i], m0, 3*d - 2*m0 - m1, m0 + m1 - 2*d}
}

// at is a cubic's value and its slope by temperature at the part x of the step.
func at(c *[4]float64, x float64) (f, slope float64) {
	return c[0] + x*(c[1]+x*(c[2]+x*c[3])), (c[1] + x*(2*c[2]+x*3*c[3])) / step
}

// find is the row for t of a table with n of them, and the part of the step.
func find(t float64, n int) (i int, x float64) {
	x = (t - coldest) / step
	if !(x > 0) {
		return 0, 0
	}
	if x >= float64(n-1) {
		return n - 1, 0
	}
	i = int(x)
	return i, x - float64(i)
}

// Mu implements fluid.Viscous.
func (s *Steam) Mu(st *fluid.State) (mu, byV, byU float64) {
	var byT float64
	switch {
	case st.X >= 1:
		mu, byV, byT = s.steam(st.V, st.T)
	case st.X <= 0:
		mu, byV, byT = s.water(st.V, st.T)
	default:
		mu, byV, byT = s.wet(st.V, st.T)
	}
	if st.T < coldest {
		byT = 0
	}
	return mu, byV + byT*st.Tv, byT * st.Tu
}

func (s *Steam) steam(v, t float64) (mu, byV, byT float64) {
	i, x := find(t, hots)
	r := &s.hot[i]
	m, mt := at(&r[0], x)
	b, bt := at(&r[1], x)
	e, et := at(&r[2], x)
	rho, d := 1/v, 1.0
	if rho > densest {
		rho, d = densest, 0
	}
	mu = math.Exp(m + rho*(b+rho*e))
	return mu, -mu * (b + 2*rho*e) * rho * rho * d, mu * (mt + rho*(bt+rho*et))
}

func (s *Steam) water(v, t float64) (mu, byV, byT float64) {
	i, x := find(t, lines)
	r := &s.line[i]
	m, mt := at(&r[lnLiquid], x)
	c, ct := at(&r[byRho], x)
	l, lt := at(&r[lnV1], x)
	rho, sat := 1/v, math.Exp(-l)
	more := rho - sat
	if most := pressed * sat; math.Abs(more) > most {
		return math.Exp(m + math.Copysign(most, more)*c), 0, 0
	}
	mu = math.Exp(m + more*c)
	return mu, -mu * c * rho * rho, mu * (mt + more*ct + sat*lt*c)
}

// share is the mass share of vapour of a wet state by the tables' own volumes,
// with its slopes, and v”.
func (s *Steam) share(v, t float64) (x, byV, byT, v2, v2t float64) {
	i, f := find(t, lines)
	r := &s.line[i]
	a, at1 := at(&r[lnV1], f)
	b, bt := at(&r[lnV2], f)
	v1, v2 := math.Exp(a), math.Exp(b)
	v1t, v2t := v1*at1, v2*bt
	d := 1 / (v2 - v1)
	x = (v - v1) * d
	return x, d, -(v1t + x*(v2t-v1t)) * d, v2, v2t
}

func (s *Steam) wet(v, t float64) (mu, byV, byT float64) {
	x, xv, xt, _, _ := s.share(v, t)
	if x < 0 || x > 1 {
		x, xv, xt = min(max(x, 0), 1), 0, 0
	}
	i, f := find(t, lines)
	r := &s.line[i]
	a, at1 := at(&r[lnLiquid], f)
	b, bt := at(&r[lnVapour], f)
	thick, easy := math.Exp(-a), math.Exp(-b)
	mu = 1 / (x*easy + (1-x)*thick)
	by := (easy - thick) * mu * mu
	return mu, -by * xv, mu*mu*(x*easy*bt+(1-x)*thick*at1) - by*xt
}

// Void implements fluid.Voider: x v”/v.
func (s *Steam) Void(st *fluid.State) (alpha, byV, byU float64) {
	switch {
	case st.X >= 1:
		return 1, 0, 0
	case st.X <= 0:
		return 0, 0, 0
	}
	x, xv, xt, v2, v2t := s.share(st.V, st.T)
	switch {
	case x <= 0:
		return 0, 0, 0
	case x >= 1:
		return 1, 0, 0
	}
	alpha = x * v2 / st.V
	byV = xv*v2/st.V - alpha/st.V
	byT := (xt*v2 + x*v2t) / st.V
	return alpha, byV + byT*st.Tv, byT * st.Tu
}
