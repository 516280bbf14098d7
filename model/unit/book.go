package unit

import "math/big"

// StandardAtmosphere [Pa] is the zero of gauge pressure, exact by definition
// (ISO 2533; 10th CGPM, 1954, resolution 4).
const StandardAtmosphere = 101325.0

// A scale leads from a unit to SI: si = x factor + add. Both are exact.
//
// Sources of the factors: SI prefixes and the SI brochure; for the others the
// definitions in NIST SP 811 (2008), appendix B: inch 25.4 mm exactly, pound
// 0.45359237 kg exactly, standard gravity 9.80665 m/s2 exactly, so pound-force
// 4.4482216152605 N exactly.
type scale struct {
	name   string
	also   []string // other spellings, as they are after tidy
	factor *big.Rat
	add    *big.Rat // nil when the unit has no zero of its own
}

// A shown unit is used by Format from |si| >= from upwards.
type shown struct {
	name string
	from float64
}

type entry struct {
	dim     Dimension
	noun    string
	si      string
	example string
	units   []scale
	show    []shown // ascending; the first serves below its own from, too
	zero    string  // unit of Format for 0
}

// rat reads an exact decimal or fraction. It is meant for the literals below
// and panics on anything else, as the package starts.
func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("unit: bad factor " + s)
	}
	return r
}

// u is a unit worth factor SI units.
func u(name, factor string, also ...string) scale {
	return scale{name: name, factor: rat(factor), also: also}
}

// per is a unit worth num/den SI units.
func per(name, num, den string, also ...string) scale {
	return scale{name: name, factor: new(big.Rat).Quo(rat(num), rat(den)), also: also}
}

// shifted is a unit whose zero lies at add SI units.
func shifted(name, factor, add string, also ...string) scale {
	return scale{name: name, factor: rat(factor), add: rat(add), also: also}
}

const (
	pound   = "0.45359237"
	inch    = "0.0254"
	inch2   = "0.00064516"
	foot    = "0.3048"
	lbForce = "4.4482216152605"
	kgForce = "9.80665"
)

// differences are the units of a pressure without a zero.
func differences() []scale {
	return []scale{
		u("bar", "1e5"),
		per("psi", lbForce, inch2),
		u("kPa", "1e3"),
		u("MPa", "1e6"),
		u("Pa", "1"),
		u("mbar", "100"),
		u("hPa", "100"),
		per("kgf/cm2", kgForce, "1e-4"),
	}
}

// pressures are the same units, each once absolute and once gauge.
func pressures() []scale {
	var out []scale
	atmosphere := rat("101325")
	for _, d := range differences() {
		b := d.name
		abs, gauge := b+" abs", b+" g"
		absAlso := []string{b + "a", b + " a", b + "(a)", b + " absolute", b + "(abs)"}
		gaugeAlso := []string{b + "g", b + "(g)", b + " gauge", b + "(gauge)"}
		if b == "psi" { // the trade writes these in one word
			abs, absAlso[0] = absAlso[0], abs
			gauge, gaugeAlso[0] = gaugeAlso[0], gauge
		}
		out = append(out,
			scale{name: abs, also: absAlso, factor: d.factor},
			scale{name: gauge, also: gaugeAlso, factor: d.factor, add: atmosphere})
	}
	return out
}
