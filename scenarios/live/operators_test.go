package live_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/scenarios"
)

// Operators who are not told of a hand lift see the pressure fall and raise the
// fire, with a delay. On a boiler whose fire is in hand the drum integrates what
// they add, dp/dt = fire/C, and they act on p as it was, K (hold - p(t - T)):
//
//	p' = -(K/C) p(t - T)
//
// A pure delay returns without overshoot up to (K/C) T = 1/e. People are not a
// pure delay: with n equal lags of T/n in a row, s (1 + s T/n)^n + K/C = 0 has a
// double real root at s = -(n/(n+1))/T, where
//
//	(K/C) T = (n/(n+1))^(n+1): 0.328 for n = 4, 1/e as n grows.
//
// Derived here.
func overshootLimit(n float64) float64 { return math.Pow(n/(n+1), n+1) }

// dip is a hand lift at 10 s on a boiler in hand, which stands still otherwise:
// nothing fed, no load, no loss. It returns the dip and the highest pressure
// after it, Pa above the start.
func dip(t *testing.T, delay, band float64, told string, seconds float64) (low, high float64, lifts int) {
	t.Helper()
	const most = 6e6
	sc := boilerWith(t, 10+20*math.Max(delay, 10), "firing.control.mode=hand", "firing.power=0 W", "firing.control.least=0 W", "firing.control.lag=0.1 s", "feedwater.mass-flow=0 kg/s", "feedwater.control.most=0.001 kg/s",
		"load.opening=0", "drum.wall.inside-conductance=0 W/K", "drum.wall.wet-film.conductance=0 W/K",
		"line.block-valve.opening=1", "panel-gauge.lag=0.1 s", "operators.told="+told,
		fmt.Sprintf("operators.delay=%g s", delay), fmt.Sprintf("operators.band=%g bar", band/1e5), fmt.Sprintf("operators.most=%g W", most))
	for at, to := range map[float64]string{10: "open", 10 + seconds: "auto"} {
		sc.Record(scenarios.Action{Command: &scenarios.Command{At: at, Path: "relay.selector.position", Value: plant.Value{Word: to}}})
	}
	r := finished(t, sc)
	start := 38e5
	s, _, err := r.At(10 + seconds + 1)
	require.NoError(t, err)
	low = s.Drums[0].Pressure - start
	p, _ := highest(t, r, 10+seconds+1, sc.Until)
	return low, p - start, len(happened(r, "disc-lift"))
}

// TestOperatorsOvershoot: the simulated limit between a dip that is made up for
// and one that becomes an overshoot, against the closed form.
func TestOperatorsOvershoot(t *testing.T) {
	t.Parallel()
	// C: what a watt does to the drum's pressure, from the run itself.
	sc := boilerWith(t, 20, "firing.control.mode=hand", "firing.power=2 MW", "feedwater.mass-flow=0 kg/s", "feedwater.control.most=0.001 kg/s", "load.opening=0",
		"drum.wall.inside-conductance=0 W/K", "drum.wall.wet-film.conductance=0 W/K")
	r := finished(t, sc)
	a, _, err := r.At(5)
	require.NoError(t, err)
	b, _, err := r.At(20)
	require.NoError(t, err)
	perWatt := (b.Drums[0].Pressure - a.Drums[0].Pressure) / 15 / 2e6 // Pa/s per W
	var table string
	for _, delay := range []float64{10, 20, 40} {
		for _, share := range []float64{0.6, 0.9, 1.1, 1.5, 3} {
			// K/C T = share of the limit.
			gain := share * overshootLimit(4) / delay / perWatt // W/Pa
			band := 6e6 / gain
			low, high, lifts := dip(t, delay, band, "no", 2.5)
			require.Less(t, -low, band, "within the proportional range")
			over := high / -low
			table += fmt.Sprintf("\n  delay %2.0f s, full effect at %5.2f bar, %.1f of the limit: dip %.3f bar, overshoot %6.3f of it, lifts %d", delay, band/1e5, share, low/1e5, over, lifts)
			if share <= 0.9 {
				assert.Less(t, over, 0.002)
			}
			if share >= 1.5 {
				assert.Greater(t, over, 0.01)
			}
		}
	}
	low, high, _ := dip(t, 20, 2e5, "yes", 2.5)
	assert.Less(t, high, 0.0, "told, they leave the fire alone and the dip stays")
	t.Logf("%.3f Pa/s per kW; limit (K/C) T = %.3f%s\n  told: dip %.3f bar, stays at %.3f", 1e3*perWatt, overshootLimit(4), table, low/1e5, high/1e5)
}
