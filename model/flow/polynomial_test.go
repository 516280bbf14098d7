package flow

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/fluid"
)

// TestPolynomial sets the polynomial that stands in for the powers of psi
// against the powers, from the critical ratio to where the cubic takes over.
// The powers themselves lose digits to a - r near r = 1, hence the bound.
func TestPolynomial(t *testing.T) {
	for _, gamma := range []float64{1.01, 1.1, 1.3, 1.4, 1.667, 2} {
		n := NewNozzle(&fluid.Gas{Gamma: gamma, R: 287})
		worst := 0.0
		for i := range 2001 {
			r := n.rc + (1-linearBelow-n.rc)*float64(i)/2000
			// a - r as r expm1((1/gamma - 1) ln r) keeps its digits.
			l := math.Log(r)
			psi := math.Sqrt(n.k * math.Exp(l*n.ig) * r * math.Expm1((n.ig-1)*l))
			worst = max(worst, math.Abs(n.root(r)/psi-1))
		}
		t.Logf("gamma %g: %.1e", gamma, worst)
		require.Less(t, worst, 2e-14, "gamma %g", gamma)
	}
}
