package equilibrium_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/flow/equilibrium"
	"underdisc/model/fluid"
)

// TestIndependent: critical flux, throat and two subcritical fluxes of inlets of
// every kind. Source: python3-iapws 1.5.3 (its regions 1 and 2, the isentrope by
// Brent's method) and python3-scipy: critical by bounded search on the difference
// of enthalpies, subcritical by adaptive quadrature of v dp; trust: computed.
func TestIndependent(t *testing.T) {
	const mpa = 1e6
	law := equilibrium.Shared()
	for _, c := range []struct {
		name     string
		state    fluid.State
		g, ratio float64
		sub      [][2]float64 // downstream MPa, flux
	}{
		{"saturated steam", wetAt(4*mpa, 1), 5656.405, 0.58078, [][2]float64{{3.6, 3731.8546}, {2.8, 5442.8467}}},
		{"wet, x 0.3", wetAt(4*mpa, 0.3), 9134.6595, 0.630134, [][2]float64{{3.8, 4803.2316}, {3.4, 7536.9544}}},
		{"wet, x 0.05", wetAt(1*mpa, 0.05), 4369.9893, 0.727356, [][2]float64{{0.97, 2235.0016}, {0.93, 3179.7631}}},
		{"wet, x 0.7", wetAt(10*mpa, 0.7), 16608.5425, 0.606469, [][2]float64{{8, 14676.9821}}},
		{"water that boils in the throat", waterAt(4*mpa, 500), 47817.0235, 0.656173, [][2]float64{{3.5, 28846.2787}}},
		{"water that boils before it", waterAt(4*mpa, 520), 20071.325, 0.888369, [][2]float64{{3.9, 12678.1873}, {3.72, 19717.1316}}},
		{"hot water", waterAt(10*mpa, 580), 35562.645, 0.792453, [][2]float64{{9.7, 20471.3552}, {8.9, 33308.0779}}},
		{"superheated", steamAt(4*mpa, 600), 5299.5499, 0.54721, [][2]float64{{3.6, 3349.0105}, {2.4, 5265.2874}}},
		{"superheated, wet throat", steamAt(1*mpa, 460), 1438.8935, 0.576881, [][2]float64{{0.8, 1234.1221}, {0.6, 1436.971}}},
		{"hot and dense", steamAt(16*mpa, 700), 21064.874, 0.550935, [][2]float64{{14, 14685.2357}, {10, 20790.4691}}},
	} {
		g, ratio := law.Critical(&c.state)
		t.Logf("%s: critical %+.1e, throat %+.1e", c.name, g/c.g-1, ratio/c.ratio-1)
		assert.InEpsilon(t, c.g, g, 2e-4, c.name) // the two forms of the drop differ by as much
		assert.InEpsilon(t, c.ratio, ratio, 5e-4, c.name)
		for _, s := range c.sub {
			got := law.Flux(&c.state, s[0]*mpa)
			t.Logf("  to %g MPa: %+.1e", s[0], got/s[1]-1)
			assert.InEpsilon(t, s[1], got, 5e-5, c.name)
		}
	}
}
