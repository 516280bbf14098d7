package flow_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/interp"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// Exact units of the US customary system, and constants of nature.
const (
	pound    = 0.45359237   // kg
	inch     = 0.0254       // m
	psi      = 6894.7572932 // Pa
	rankine  = 5. / 9       // K
	hour     = 3600.0       // s
	universe = 8314.462618  // universal gas constant, J/(kmol K)
)

// exponentOf is the k that gives a value of C in the US form, 520 C(k).
func exponentOf(t *testing.T, us float64) float64 {
	// C rises with k: interpolate the inverse over a table finer than needed.
	var cs, ks []float64
	for k := 1.0; k < 2; k += 0.002 {
		cs, ks = append(cs, 520*flow.ChokedFactor(k)), append(ks, k)
	}
	var inverse interp.AkimaSpline
	assert.NoError(t, inverse.Fit(cs, ks))
	return inverse.Predict(us)
}

// TestGasSizingExample: the gas example of API 520 part I: 53 500 lb/h of a
// gas of 65 lb/lbmol, 627 R, Z 0.84, relieving at 97.2 psia, C 326, Kd 0.975,
// answer 4.93 in2. Inputs and answer are from memory, so the answer is only
// logged. Asserted is that the nozzle in SI and the formula in US units,
// A = W/(C Kd P) sqrt(T Z/M), are one: they differ by the constant's rounding
// alone, 520 for 3600 sqrt(gc/Ru) = 519.45.
func TestGasSizingExample(t *testing.T) {
	const w, m, temperature, z, p, c, kd, answer = 53500, 65, 627, 0.84, 97.2, 326, 0.975, 4.93

	formula := w / (c * kd * p) * math.Sqrt(temperature*z/m)

	// The real gas enters as a perfect one of the constant Z R.
	gas := &fluid.Gas{Gamma: exponentOf(t, c), R: z * universe / m, Viscosity: 1e-5}
	up := stateOf(gas, p*psi, temperature*rankine)
	law := flow.NewNozzle(gas)
	si := w * pound / hour / (kd * law.Flux(&up, 0)) / (inch * inch)

	t.Logf("US formula %.4f in2 (%+.2f %% of %.2f), nozzle %.4f in2 (%+.2f %%), k %.4f",
		formula, 100*(formula/answer-1), answer, si, 100*(si/answer-1), gas.Gamma)

	// One square inch at 1 psi, 1 lb/lbmol and 1 R passes this many pounds in
	// an hour per unit of C(k).
	exact := inch * inch * psi * math.Sqrt(1/(universe*rankine)) * hour / pound
	assert.InDelta(t, 519.45, exact, 0.05, "3600 s/h sqrt(32.174/1545.35)")
	// The inverse by spline is good to 1e-8.
	assert.InEpsilon(t, formula*520/exact, si, 1e-6)
}

// TestSizingConstant: the other form in use, W = 3.948 C(k) A p sqrt(M/(Z T))
// in kg/h, mm2, bar, K (form from memory), has the constant that follows from
// the universal gas constant: 3600 s/h, 1e-6 m2/mm2, 1e5 Pa/bar.
func TestSizingConstant(t *testing.T) {
	assert.InDelta(t, 3.948, hour*1e-6*1e5/math.Sqrt(universe), 0.0005)

	gas := &fluid.Gas{Gamma: 1.4, R: universe / 28.97, Viscosity: 1e-5}
	up := stateOf(gas, 10e5, 300)
	perMM2 := flow.NewNozzle(gas).Flux(&up, 1e5) * 1e-6 * hour
	formula := 3.948 * flow.ChokedFactor(1.4) * 10 * math.Sqrt(28.97/300)
	assert.InEpsilon(t, formula, perMM2, 1e-4, "3.948 is rounded by 4e-5")
}
