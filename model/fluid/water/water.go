// Package water is water and steam for the balances: pressure, temperature and
// their slopes from specific volume and internal energy, in tables made from
// IAPWS-IF97 when the program starts.
//
// Range: water up to 623.15 K and 300 bar, water and steam in equilibrium from
// 273.15 K to 165 bar, steam up to 1073.15 K, 220 bar, v from 0.0088 to
// 256 m3/kg. Largest deviations from IF97's equations there, at a million points
// (accuracy_test.go holds the limits):
//
//	steam    T 0.07 mK   p 2.1e-7     s 2.8e-7 kJ/(kg K)   w 5.6e-6
//	         dT/du 4.6e-5, dp/du 3.7e-5, dp/dv 0.9e-5
//	water    T 0.005 mK  v 2.7e-8 at given p and u   s 7e-9   w 5.5e-6
//	wet      T 0.0003 mK p 2.2e-8     s 5e-8               w 5e-7
//	line     jump of p 2.2e-8, of T 1.4e-6 K
//
// Outside, all functions go on with positive p, T, T_u and speed of sound, so
// that trial states of an integration do no harm; Valid tells whether a state may
// be accepted. They go on continuously, but for v = 2^-7 m3/kg above the
// saturation line and, slightly, v' where u is below -15 or above 1645 kJ/kg.
//
// The slopes are those of the returned functions themselves. These have two
// continuous derivatives within a phase, and on the saturation line the kink
// that nature has.
package water

import (
	"math"
	"sync"

	"underdisc/model/fluid"
)

// Water holds the tables. It never changes once made, and may be shared.
type Water struct {
	vapour vapour
	liquid liquid
	wet    wet
	line   saturation
}

var _ fluid.Fluid = (*Water)(nil)

// New makes the tables.
func New() *Water {
	w := &Water{}
	w.vapour.build()
	w.wet.build(&w.vapour)
	w.liquid.build()
	w.line.build(w.wet.high)
	return w
}

var shared = sync.OnceValue(New)

// Shared is one instance for the whole program, made on first use.
func Shared() *Water { return shared() }

// Beyond these bounds u and v are bent or held, so that whatever is asked for
// stays finite. Both are far outside any range.
const (
	coldest = liquidLow // J/kg
	hottest = 1e9       // J/kg
	widest  = 1e9       // m3/kg
)

// bend maps u below coldest into the interval of that size below it, and u above
// hottest into that above it, monotone and with a continuous slope.
func bend(u float64) (bent, slope float64) {
	b := hottest
	if u < 0 {
		b = coldest
	}
	r := b / u
	return b * (2 - r), r * r
}

// phase tells how a state is computed. Nothing else may rest on it: on the line
// it flips under rounding.
type phase int

const (
	none phase = iota
	inVapour
	inWet
	inLiquid
)

// at computes p, T, their slopes and X.
func (w *Water) at(v, u float64, s *fluid.State) phase {
	if v >= vapourMin {
		if v < vapourMax {
			i, x, xv := w.vapour.line(v)
			if us, _ := w.vapour.edge[i].u.at(x); u >= us {
				w.vapour.at(v, u-us, i, x, xv, s)
				return inVapour
			}
			w.wet.at(v, u, s)
			return inWet
		}
		return w.thin(v, u, s)
	}
	if v < liquidMaxV {
		in, _, _ := w.liquid.clamp(u)
		c, t := w.liquid.line(in)
		if vs, _ := c.v.at(t); v <= vs {
			w.liquid.at(v, u, s)
			return inLiquid
		}
	}
	w.wet.at(v, u, s)
	return inWet
}

// thin is at for v beyond the table of steam, which is then taken at its edge:
// T and p v depend on u alone, as in an ideal gas.
func (w *Water) thin(v, u float64, s *fluid.State) phase {
	edge := vapourEdge
	i, x, _ := w.vapour.line(edge)
	us, _ := w.vapour.edge[i].u.at(x)
	if u < us {
		w.wet.at(v, u, s)
		return inWet
	}
	w.vapour.at(edge, u-us, i, x, 0, s)
	r := edge / v
	s.P *= r
	s.Pu *= r
	s.Pv = -s.P / v
	s.Tv = 0
	return inVapour
}

// At implements fluid.Fluid. It yields NaN where v is not positive or v or u not
// finite.
func (w *Water) At(v, u float64, s *fluid.State) {
	w.fill(v, u, s)
}

func (w *Water) fill(v, u float64, s *fluid.State) phase {
	s.V, s.U = v, u
	if !(v > 0 && v <= widest && u >= coldest && u <= hottest) {
		return w.far(v, u, s)
	}
	ph := w.at(v, u, s)
	s.H = u + s.P*v
	s.Hv = s.P + v*s.Pv
	s.Hu = 1 + v*s.Pu
	return ph
}

// far is fill outside the bounds.
func (w *Water) far(v, u float64, s *fluid.State) phase {
	if !(v > 0 && v <= math.MaxFloat64 && math.Abs(u) <= math.MaxFloat64) {
		nan := math.NaN()
		*s = fluid.State{V: v, U: u, P: nan, T: nan, H: nan, X: nan,
			Pv: nan, Pu: nan, Tv: nan, Tu: nan, Hv: nan, Hu: nan}
		return none
	}
	in, slope := u, 1.0
	if u < coldest || u > hottest {
		in, slope = bend(u)
	}
	ph := w.at(math.Min(v, widest), in, s)
	s.Tu *= slope
	s.Pu *= slope
	if v > widest {
		s.Pv, s.Tv = 0, 0
	}
	s.H = u + s.P*v
	s.Hv = s.P + v*s.Pv
	s.Hu = 1 + v*s.Pu
	return ph
}

// Valid reports whether (v, u) lies in the range given with the package.
func (w *Water) Valid(v, u float64) bool {
	var s fluid.State
	switch w.fill(v, u, &s) {
	case inVapour:
		return s.T <= 1073.15 && s.P <= 22e6 && v >= 0.0088 && v <= vapourMax
	case inWet:
		return s.T >= 273.15 && s.P <= 16.5e6
	case inLiquid:
		return s.T >= 273.15 && s.T <= 623.15 && s.P <= liquidTop && u <= liquidHigh
	}
	return false
}

// Rest yields what the balances do not need: specific entropy in J/(kg K) and
// the speed of sound in m/s, in equilibrium where wet.
func (w *Water) Rest(v, u float64) (s, c float64) {
	var x fluid.State
	switch w.fill(v, u, &x) {
	case inVapour:
		in := math.Min(v, vapourEdge)
		i, y, _ := w.vapour.line(in)
		us, _ := w.vapour.edge[i].u.at(y)
		j, z, _ := row(u - us)
		n, y := w.vapour.patch(i, j, y)
		s, _, _ = w.vapour.rest[n].at(y, z)
		s += gasConstant * math.Log(v)
	case inLiquid:
		var l place
		in, over, _ := w.liquid.clamp(u)
		w.liquid.find(v, in, &l)
		s, _, _ = w.liquid.rest[l.i].at(l.x, l.z)
		s += over / x.T
	case inWet:
		i, t := w.wet.line(x.T)
		k := &w.wet.lines[i]
		sigma, _ := k.sigma.at(t)
		chi, _ := k.chi.at(t)
		s = sigma + v*chi
	default:
		return math.NaN(), math.NaN()
	}
	return s, sound(&x)
}
