package sound

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Twice the speed of a slow jet, at the same area and density, is 2^8 times the
// sound.
func TestLighthill(t *testing.T) {
	at := func(m float64) float64 { // acoustic power over area, near enough
		ratio := math.Pow(1+0.2*m*m, -3.5)
		flow := m // of the speed alone: density is nearly the same
		return jetOf(flow, 1e5/ratio, 1e5, 300).power
	}
	assert.InEpsilon(t, 256, at(0.1)/at(0.05), 0.03)
}

func TestChokedJet(t *testing.T) {
	j := jetOf(5.5, 12e5, 1e5, 300)
	// By hand: Mj = sqrt(5 (12^(2/7)-1)) = 2.27; eta = 1e-4 Mj^5.346 = 8.0e-3;
	// speed of sound at 250 K = 317 m/s; half of 5.5 kg/s times its square = 276 kW.
	assert.InEpsilon(t, 2.2e3, j.power, 0.02)
	// The area that passes it choked: 5.5/(2.333e-3 x 12e5) = 19.6 cm2, 50 mm wide.
	assert.InEpsilon(t, 0.2*2.27*317/0.05, j.peak, 0.01)
	below, above := jetOf(1, 1e5/0.5284, 1e5, 300), jetOf(1, 1e5/0.5281, 1e5, 300)
	assert.InEpsilon(t, below.power, above.power, 0.01, "no step where it chokes")
	assert.InEpsilon(t, below.peak, above.peak, 0.01)
}

func TestJetOfWhatIsNone(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, x := range [][4]float64{{0, 2e5, 1e5, 300}, {1, 1e5, 1e5, 300}, {1, 1e5, 2e5, 300}, {1, 1e5, 0, 300},
		{nan, 2e5, 1e5, 300}, {1, nan, 1e5, 300}, {1, 2e5, nan, 300}, {inf, 2e5, 1e5, 300}, {1, inf, 1e5, 300}} {
		assert.Zero(t, jetOf(x[0], x[1], x[2], x[3]), "%v", x)
	}
	assert.Equal(t, jetOf(1, 2e5, 1e5, 300), jetOf(-1, 1e5, 2e5, 300), "backwards sounds the same")
	assert.Equal(t, jetOf(1, 2e5, 1e5, 300), jetOf(1, 2e5, 1e5, nan))
}

func TestEar(t *testing.T) {
	assert.Zero(t, loudness(0))
	assert.Zero(t, loudness(faintest))
	assert.Zero(t, loudness(math.NaN()))
	assert.InEpsilon(t, top, loudness(loudest), 1e-9)
	assert.Equal(t, loudness(loudest), loudness(1e9))
	middle := math.Sqrt(faintest * loudest)
	assert.InDelta(t, span/2, 20*math.Log10(loudness(loudest)/loudness(middle)), 1, "half way is half the range")
	assert.Less(t, loudness(1.01*faintest), top/1e4, "no step at the faint end")
	assert.Equal(t, lowest, pitch(0))
	assert.Equal(t, highest, pitch(1e6))
}
