package fluid

import "math"

// HeatCapacity is an ideal gas's cp/R over temperature t, K, as the reference
// equations write it, with u = Theta/t:
//
//	sum N t^I + sum N u^2 e^u/(e^u - 1)^2 + sum N u^2 C e^-u/(1 + C e^-u)^2
//
// the powers, the vibrations, and levels that fill up, C their weight.
type HeatCapacity struct {
	Powers     []Power
	Vibrations []Vibration
	Levels     []Level
}

// Power is a term N t^I.
type Power struct{ N, I float64 }

// Vibration is an oscillator's term.
type Vibration struct{ N, Theta float64 }

// Level is the term of a level that fills up.
type Level struct{ N, Theta, C float64 }

// Cp is cp/R at t.
func (c *HeatCapacity) Cp(t float64) float64 {
	sum := 0.0
	for _, p := range c.Powers {
		sum += p.N * math.Pow(t, p.I)
	}
	for _, v := range c.Vibrations {
		u := v.Theta / t
		e := math.Exp(-u)
		sum += v.N * u * u * e / ((1 - e) * (1 - e))
	}
	for _, l := range c.Levels {
		u := l.Theta / t
		e := l.C * math.Exp(-u)
		sum += l.N * u * u * e / ((1 + e) * (1 + e))
	}
	return sum
}

// Enthalpy is the integral of cp/R over t, K, up to a constant.
func (c *HeatCapacity) Enthalpy(t float64) float64 {
	sum := 0.0
	for _, p := range c.Powers {
		if p.I == -1 {
			sum += p.N * math.Log(t)
			continue
		}
		sum += p.N * math.Pow(t, p.I+1) / (p.I + 1)
	}
	for _, v := range c.Vibrations {
		sum += v.N * v.Theta / math.Expm1(v.Theta/t)
	}
	for _, l := range c.Levels {
		e := l.C * math.Exp(-l.Theta/t)
		sum += l.N * l.Theta * e / (1 + e)
	}
	return sum
}

// Entropy is the integral of cp/(R t) over t, up to a constant.
func (c *HeatCapacity) Entropy(t float64) float64 {
	sum := 0.0
	for _, p := range c.Powers {
		if p.I == 0 {
			sum += p.N * math.Log(t)
			continue
		}
		sum += p.N * math.Pow(t, p.I) / p.I
	}
	for _, v := range c.Vibrations {
		u := v.Theta / t
		sum += v.N * (u/math.Expm1(u) - math.Log(-math.Expm1(-u)))
	}
	for _, l := range c.Levels {
		u := l.Theta / t
		e := l.C * math.Exp(-u)
		sum += l.N * (math.Log1p(e) + u*e/(1+e))
	}
	return sum
}
