package if97

import (
	"fmt"
	"math"
)

// slack is what round-off may add to a temperature at the range's edge, K.
const slack = 1e-6

// PT is water or steam at pressure p in Pa and temperature t in K; on the
// saturation line, water. It errs outside regions 1 to 3.
func PT(p, t float64) (Point, error) {
	if err := checkP(p); err != nil {
		return Point{}, err
	}
	if t > MaxT && t <= 2273.15 {
		return Point{}, fmt.Errorf("temperature %.7g K: region 5, above %g K, is not covered; give %g to %g K", t, MaxT, MinT, MaxT)
	}
	if !(t >= MinT && t <= MaxT) {
		return Point{}, fmt.Errorf("temperature %.7g K: water and steam are covered from %g to %g K", t, MinT, MaxT)
	}
	switch {
	case t <= T13 && p >= SaturationP(t):
		return Region1(p, t), nil
	case t <= T13 || p <= Boundary23P(t):
		return Region2(p, t), nil
	}
	return density3(p, t, t < CriticalT && p >= SaturationP(t)), nil
}

func checkP(p float64) error {
	if p > 0 && p <= MaxP {
		return nil
	}
	return fmt.Errorf("pressure %.7g Pa: water and steam are covered above 0 and up to %g Pa", p, float64(MaxP))
}

// key is a property that, beside p, fixes the state: of yields it, and its slope
// by T at constant p.
type key struct {
	name, unit   string
	of           func(x *Point) (y, slope float64)
	water, steam func(p, y float64) float64 // T to start from
}

// PH is water and steam at pressure p in Pa and specific enthalpy h in J/kg. It
// errs outside regions 1 to 4.
func PH(p, h float64) (Mix, error) {
	m, err := at(p, h, &key{"specific enthalpy", "J/kg",
		func(x *Point) (y, slope float64) { return x.H, x.Cp }, Region1TPH, Region2TPH})
	if err == nil {
		m.H = h
	}
	return m, err
}

// PS is water and steam at pressure p in Pa and specific entropy s in J/(kg K).
// It errs outside regions 1 to 4.
func PS(p, s float64) (Mix, error) {
	m, err := at(p, s, &key{"specific entropy", "J/(kg K)",
		func(x *Point) (y, slope float64) { return x.S, x.Cp / x.T }, Region1TPS, Region2TPS})
	if err == nil {
		m.S = s
	}
	return m, err
}

// at is the state at p where k is y.
func at(p, y float64, k *key) (Mix, error) {
	if err := checkP(p); err != nil {
		return Mix{}, err
	}
	if !(math.Abs(y) <= math.MaxFloat64) {
		return Mix{}, fmt.Errorf("%s %g %s: give a finite number", k.name, y, k.unit)
	}
	const low, high = MinT - 1, MaxT + 1 // beyond the edges, to see what falls out
	p13 := SaturationP(T13)
	switch {
	case p < SaturationP(MinT):
		return k.solve(Region2, p, y, k.steam(p, y), low, high, 1)
	case p <= p13:
		ts := SaturationT(p)
		l, g := Region1(p, ts), Region2(p, ts)
		if x := k.share(&l, &g, y); x > 1 {
			return k.solve(Region2, p, y, k.steam(p, y), ts, high, 1)
		} else if x >= 0 {
			m, _ := wet(&l, &g, math.NaN(), x)
			return m, nil
		}
		return k.solve(Region1, p, y, k.water(p, y), low, ts, 0)
	}
	// Above p13, region 3 lies between the other two.
	edge := Region1(p, T13)
	if at, _ := k.of(&edge); y <= at {
		return k.solve(Region1, p, y, k.water(p, y), low, T13, 0)
	}
	t23 := Boundary23T(p)
	edge = Region2(p, t23)
	if at, _ := k.of(&edge); y >= at {
		return k.solve(Region2, p, y, k.steam(p, y), t23, high, 1)
	}
	if p >= CriticalP {
		region := func(p, t float64) Point { return density3(p, t, t < CriticalT) }
		m, err := k.solve(region, p, y, (T13+t23)/2, T13, t23, 1)
		if m.T < CriticalT {
			m.X = 0
		}
		return m, err
	}
	ts := SaturationT(p)
	l, g := density3(p, ts, true), density3(p, ts, false)
	x := k.share(&l, &g, y)
	if x >= 0 && x <= 1 {
		m, _ := wet(&l, &g, math.NaN(), x)
		return m, nil
	}
	from, to, steam := T13, ts, 0.0
	if x > 1 {
		from, to, steam = ts, t23, 1
	}
	region := func(p, t float64) Point { return density3(p, t, steam == 0) }
	return k.solve(region, p, y, (from+to)/2, from, to, steam)
}

// share is the share of steam that makes the mixture's property y.
func (k *key) share(l, g *Point, y float64) float64 {
	a, _ := k.of(l)
	b, _ := k.of(g)
	return (y - a) / (b - a)
}

// solve finds the temperature between low and high, from t.
func (k *key) solve(region func(p, t float64) Point, p, y, t, low, high, steam float64) (Mix, error) {
	t = root(min(max(t, low), high), low, high, func(t float64) (float64, float64) {
		x := region(p, t)
		now, slope := k.of(&x)
		return now - y, slope
	})
	if !(t >= MinT-slack && t <= MaxT+slack) {
		a, b := region(p, max(low, MinT)), region(p, min(high, MaxT))
		least, _ := k.of(&a)
		most, _ := k.of(&b)
		return Mix{}, fmt.Errorf("%s %.7g %s at %.7g Pa lies outside %g to %g K: give %.7g to %.7g there",
			k.name, y, k.unit, p, MinT, MaxT, least, most)
	}
	x := region(p, t)
	m := x.mix()
	m.X = steam
	return m, nil
}
