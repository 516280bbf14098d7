package equilibria

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// demo is the reference valve about full lift, its slopes rounded.
var demo = waves{mass: 4, stiff: 3e5, byP: 2.2e-6, byX: 700, area: 2.6e-3, sound: 510, bore: 1.6e-3}

// TestOnset: without damping of the disc the wave that grows first does so from
// L = (pi c0/2) sqrt(m/(K + H a/G)) on, and the frequency there is that of the
// quarter wave.
func TestOnset(t *testing.T) {
	w := demo
	omega := math.Sqrt((w.stiff + w.byX*w.area/w.byP) / w.mass)
	onset := math.Pi * w.sound / (2 * omega)
	w.length = onset
	s, ok := w.root(complex(-1, omega))
	assert.True(t, ok)
	assert.InDelta(t, 0, real(s), 1e-6*omega)
	assert.InEpsilon(t, omega, imag(s), 1e-9)
	for _, c := range []struct {
		share float64
		grows bool
	}{{0.5, false}, {0.9, false}, {0.99, false}, {1.01, true}, {1.1, true}, {1.5, true}} {
		w.length = c.share * onset
		assert.Equal(t, c.grows, w.least() < 0, "%g of the onset: %g", c.share, w.least())
	}
	// Damping of the disc makes the onset later.
	w.length, w.damping = 1.01*onset, 400
	assert.Greater(t, w.least(), 0.0)
}

// TestDiscAlone: with a pipe of hardly any length what is left is the disc's own
// oscillation, damped by c/(2 sqrt(K m)).
func TestDiscAlone(t *testing.T) {
	w := demo
	w.length, w.byX, w.damping = 1e-3, 0, 60
	s, ok := w.root(complex(-5, math.Sqrt(w.stiff/w.mass)))
	assert.True(t, ok)
	assert.InEpsilon(t, 60/(2*math.Sqrt(w.stiff*w.mass)), -real(s)/math.Hypot(real(s), imag(s)), 1e-6)
}
