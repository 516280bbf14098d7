package explain_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/model/explain"
)

// psi is the flow function of air, written again.
func psi(r float64) float64 {
	const k = 1.4
	r = math.Max(r, math.Pow(2/(k+1), k/(k-1)))
	return math.Sqrt(2 * k / (k - 1) * (math.Pow(r, 2/k) - math.Pow(r, (k+1)/k)))
}

// A chamber between its bore and a pilot that leaks, choked, settles where
// B psi* = (A_bleed/A_leak) psi(B), whatever the body's pressure.
func TestSteadyWithLeakingPilot(t *testing.T) {
	for _, leak := range []float64{1, 2, 4, 6, 7, 8, 9, 12, 20} { // mm2, beside a bore of 4 mm2
		for _, body := range []float64{6, 12, 60} { // bar
			t.Run(fmt.Sprintf("%g mm2 at %g bar", leak, body), func(t *testing.T) {
				sc := described(t, "gas-bench", fmt.Sprintf("valve.pilot.leak-area=%g mm2", leak), fmt.Sprintf("vessel.pressure=%g bar abs", body))
				m, s := model(t, sc.Plant)
				lo, hi := 0.0, 1.0
				for range 60 {
					if b := (lo + hi) / 2; b*psi(0) < 4/leak*psi(b) {
						lo = b
					} else {
						hi = b
					}
				}
				if 1.01325/body > 0.528*lo {
					t.Skip("the leak is not choked")
				}
				f := explain.Valve(m, s, 0, explain.Past{})
				require.True(t, f.Chamber.SteadyShut.Known)
				// Where B is within a thousandth of one, the network's nozzle
				// is a cubic that passes up to a third less.
				tolerance := 1e-8
				if lo > 1-1e-3 {
					tolerance = 1e-3
				}
				assert.InEpsilon(t, lo, f.Chamber.SteadyShut.Value/s.Valves[0].Above, tolerance)
				assert.Equal(t, f.Chamber.SteadyShut, f.Chamber.Steady)
			})
		}
	}
}

// In and out are the plant's own flows at a given chamber pressure, and equal
// at the steady one.
func TestSteadyAgainstPlantFlows(t *testing.T) {
	r := ran(t, described(t, "gas-bench", "valve.pilot.leak-area=3 mm2"), 6)
	for _, at := range []float64{1, 3, 3.7, 5} { // on its seat, open, refilling, shut again
		s, m, err := r.At(at)
		require.NoError(t, err)
		f := explain.Valve(m, s, 0, explain.Past{})
		require.True(t, f.Chamber.Steady.Known)
		in, out := m.ChamberFlows(0, s, f.Chamber.Steady.Value)
		assert.InEpsilon(t, in, out, 1e-6, "at %g s", at)
		p := explain.PathsOf(m, s, 0)
		for _, pB := range []float64{0.8 * bar, 2 * bar, 5 * bar, 14 * bar} {
			in, out = m.ChamberFlows(0, s, pB)
			area := s.Valves[0].PilotArea
			assert.InDelta(t, in, p.In(pB), 1e-12)
			if pB > s.Valves[0].Outlet { // what comes back from the outlet has its temperature
				assert.InDelta(t, out, p.Out(pB, area), 1e-12)
			}
		}
	}
}

// Ways in or out that are missing.
func TestSteadyAtItsLimits(t *testing.T) {
	cases := []struct {
		name         string
		sets         []string
		shut, tight  explain.Opt
		openIsOutlet bool
	}{
		{"no bleed, tight pilot: any pressure lasts", []string{"valve.bleed.area=0 mm2"}, explain.Opt{}, explain.Opt{}, true},
		{"no bleed, leaking pilot: down to the outlet", []string{"valve.bleed.area=0 mm2", "valve.pilot.leak-area=1 mm2"},
			explain.Opt{Value: 1.01325 * bar, Known: true}, explain.Opt{}, true},
		{"bleed, tight pilot: up to the body", nil,
			explain.Opt{Value: 11.5 * bar, Known: true}, explain.Opt{Value: 11.5 * bar, Known: true}, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			m, s := model(t, described(t, "gas-bench", c.sets...).Plant)
			f := explain.Valve(m, s, 0, explain.Past{}).Chamber
			for _, x := range []struct{ want, got explain.Opt }{{c.shut, f.SteadyShut}, {c.tight, f.SteadyTight}} {
				assert.Equal(t, x.want.Known, x.got.Known)
				assert.InDelta(t, x.want.Value, x.got.Value, 1e-3)
			}
			require.True(t, f.SteadyOpen.Known)
			assert.Equal(t, c.openIsOutlet, math.Abs(f.SteadyOpen.Value-s.Valves[0].Outlet) < 1)
		})
	}
}

// An outlet above the body turns every flow round; the chamber settles between.
func TestSteadyReversed(t *testing.T) {
	r := ran(t, described(t, "gas-bench", "valve.pilot.leak-area=4 mm2"), 2, command{1, "surroundings.pressure", "12.5 bar abs"})
	s, m, err := r.At(1.1)
	require.NoError(t, err)
	v := &s.Valves[0]
	require.Greater(t, v.Outlet, v.Above)
	f := explain.Valve(m, s, 0, explain.Past{})
	require.True(t, f.Chamber.SteadyShut.Known)
	assert.Greater(t, f.Chamber.SteadyShut.Value, v.Above)
	assert.Less(t, f.Chamber.SteadyShut.Value, v.Outlet)
	p := explain.PathsOf(m, s, 0)
	in, out := p.In(f.Chamber.SteadyShut.Value), p.Out(f.Chamber.SteadyShut.Value, v.PilotLeak)
	assert.Negative(t, in)
	assert.InEpsilon(t, in, out, 1e-6)
}

// A dump line in series: narrow, it alone meters the flow, as a leak of its area
// would; wide, it is not there; in between, pilot and line pass the same.
func TestSteadyThroughDumpLine(t *testing.T) {
	const pilot = 0.8 * 80e-6
	steady := func(area string) (*explain.Paths, float64, float64) {
		m, s := model(t, described(t, "gas-bench-plus", "valve.dump-line.area="+area).Plant)
		p := explain.PathsOf(m, s, 0)
		got := p.Steady(pilot)
		require.True(t, got.Known)
		return p, got.Value, s.Valves[0].Outlet
	}
	_, narrow, _ := steady("1 mm2")
	require.Less(t, narrow, 12*bar)
	m, s := model(t, described(t, "gas-bench-plus", "valve.dump-line.area=0.5 m2").Plant)
	wide := explain.PathsOf(m, s, 0)
	alone := wide.Steady(0.8 * 1e-6)
	assert.InEpsilon(t, alone.Value, narrow, 1e-5, "narrow")

	m, s = model(t, described(t, "gas-bench", "valve.bleed.area=3.3 mm2").Plant) // the guide is missing here
	none := explain.PathsOf(m, s, 0)
	assert.InEpsilon(t, none.Out(5*bar, pilot), wide.Out(5*bar, pilot), 1e-6, "wide")

	p, between, outlet := steady("60 mm2")
	w := p.Out(between, pilot)
	// The pressure in the line follows from the flow through its orifice,
	// and from it the flow through the pilot again.
	flow := func(area, up, down float64) float64 { return area * up / math.Sqrt(287.05*300) * psi(down/up) }
	line := outlet
	for lo, hi := outlet, between; hi-lo > 1e-6; {
		line = (lo + hi) / 2
		if flow(0.8*60e-6, line, outlet) < w {
			lo = line
		} else {
			hi = line
		}
	}
	assert.InEpsilon(t, w, flow(pilot, between, line), 1e-6)
	assert.Greater(t, line, outlet+0.01*bar)
}

// The time along the flows is the integral that it says, up to right before the
// steady pressure.
func TestTimeAgainstSmallSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sc := rapid.SampledFrom([]string{"gas-bench", "gas-bench-plus"}).Draw(t, "scenario")
		base := loaded(t, sc)
		m, s := model(t, base)
		p := explain.PathsOf(m, s, 0)
		pilot := p.Full() * rapid.SampledFrom([]float64{0, 0.02, 0.1, 1}).Draw(t, "share of the pilot")
		steady := p.Steady(pilot)
		require.True(t, steady.Known)
		from := rapid.Float64Range(1.1, 11.4).Draw(t, "from, bar") * bar
		to := from + rapid.Float64Range(0.05, 0.99).Draw(t, "share of the way")*(steady.Value-from)
		if math.Abs(steady.Value-from) < 0.05*bar {
			t.Skip("there already")
		}
		got := p.Time(from, to, pilot, steady)
		require.True(t, got.Known)
		want := 0.0
		const steps = 2000
		h := (to - from) / steps
		for i := range steps { // midpoint rule
			want += h / p.Rate(from+(float64(i)+0.5)*h, pilot)
		}
		assert.InEpsilon(t, want, got.Value, 2e-3)

		back := p.Time(from, from-(to-from)*1e-3, pilot, steady)
		assert.False(t, back.Known, "away from the steady pressure")
		past := p.Time(from, steady.Value+(steady.Value-from)*1e-3, pilot, steady)
		assert.False(t, past.Known, "beyond the steady pressure")
	})
}

// A refill that the flows foretell comes true as far as the body's pressure
// keeps: it falls by 0.7 % meanwhile. By the present rate it comes out early,
// because the flow ceases to be choked on the way.
func TestRefillForetold(t *testing.T) {
	r := ran(t, described(t, "gas-bench"), 4)
	const leaves = 3.762752
	for _, at := range []float64{3.63, 3.66, 3.70, 3.74} {
		_, f := explained(t, r, at)
		require.True(t, f.Chamber.ByFlow.Known)
		assert.InEpsilon(t, leaves-at, f.Chamber.ByFlow.Value, 0.015, "from %g s", at)
		assert.LessOrEqual(t, f.Chamber.ByRate.Value, leaves-at, "from %g s", at)
	}
}

// The refill that the bench needs is a fifth of the limit, and its bleed can be
// narrowed to a fifth before it counts as hung open.
func TestRefillLimit(t *testing.T) {
	const bore = 4 // mm2
	for _, c := range []struct {
		share float64 // of the bench's bore
		hung  bool
	}{{1, false}, {0.25, false}, {0.21, false}, {0.19, true}, {0.1, true}} {
		r := ran(t, described(t, "gas-bench", fmt.Sprintf("valve.bleed.area=%g mm2", bore*c.share)), 4)
		_, f := explained(t, r, 3.65)
		assert.InEpsilon(t, 1/c.share/explain.SlowRefill, f.Chamber.Refill.Value/f.Chamber.RefillLimit.Value, 0.05)
		assert.Equal(t, c.hung, f.State == explain.HungOpen, "share %g", c.share)
		assert.True(t, f.Chamber.CanFill)
	}
}

// A valve that hangs on a leaking pilot goes near the pressure that is
// foretold.
func TestReseatForetold(t *testing.T) {
	for _, c := range []struct {
		leak  string
		until float64
	}{{"5.5 mm2", 30}, {"6 mm2", 30}, {"6.5 mm2", 60}} {
		t.Run(c.leak, func(t *testing.T) {
			r := ran(t, described(t, "gas-bench", "valve.pilot.leak-area="+c.leak), c.until)
			_, f := explained(t, r, 4)
			require.True(t, f.Reseat.Above.Known)
			went := false
			for _, e := range r.Sim.Events() {
				if e.Name == "disc-leaves-stop" && !went {
					went = true
					at, _ := r.AtEvent(&e)
					v := &at.Valves[0]
					assert.InEpsilon(t, f.Reseat.Above.Value, v.Above, 0.05)
					assert.InEpsilon(t, f.Reseat.Vessel.Value, v.Vessel, 0.05)
					t.Logf("foretold %.3f bar, went at %.3f bar, %.2f s", f.Reseat.Above.Value/bar, v.Above/bar, e.T)
				}
			}
			assert.True(t, went)
		})
	}
}

// By the present rates is the margin over the rate at which it shrinks, the
// threshold's own movement included.
func TestByRate(t *testing.T) {
	r := ran(t, described(t, "gas-bench", "valve.pilot.leak-area=2 mm2"), 4)
	for _, at := range []float64{2.19, 3.2, 3.63, 3.68} {
		const aside = 1e-5 // s
		_, f := explained(t, r, at)
		_, g := explained(t, r, at+aside)
		_, e := explained(t, r, at-aside)
		shrinks := (e.Margin.Pressure - g.Margin.Pressure) / (2 * aside)
		require.True(t, f.Chamber.ByRate.Known, "at %g s", at)
		assert.InEpsilon(t, f.Margin.Pressure/shrinks, f.Chamber.ByRate.Value, 1e-3, "at %g s", at)
	}
}

// A pilot no longer empties the chamber when the bleed passes more than
// pB/pA of what the pilot does, both choked, at the pressure where the disc
// lifts.
func TestCanEmpty(t *testing.T) {
	m, s := model(t, described(t, "gas-bench").Plant)
	f := explain.Valve(m, s, 0, explain.Past{})
	limit := 80 * f.Thresholds.LiftBelow / s.Valves[0].Above // mm2, beside a pilot of 80 mm2
	for share, can := range map[float64]bool{0.1: true, 0.99: true, 1.01: false, 1.5: false} {
		m, s := model(t, described(t, "gas-bench", fmt.Sprintf("valve.bleed.area=%g mm2", share*limit)).Plant)
		f := explain.Valve(m, s, 0, explain.Past{})
		assert.Equal(t, can, f.Chamber.CanEmpty, "share %g", share)
	}
}

// Leak and bleed together: the pilot is named if it alone makes a refill too
// slow that without its leak would be in time, the chamber if not.
func TestSlowRefillByLeakOrBleed(t *testing.T) {
	for _, c := range []struct {
		bleed, leak string
		link        explain.Link
	}{
		{"0.85 mm2", "0.9 mm2", explain.Pilot},
		{"0.5 mm2", "0.1 mm2", explain.Chamber},
	} {
		r := ran(t, described(t, "gas-bench", "valve.bleed.area="+c.bleed, "valve.pilot.leak-area="+c.leak), 4)
		_, f := explained(t, r, 3.65)
		assert.True(t, f.Chamber.CanFill, c.leak)
		assert.Equal(t, explain.HungOpen, f.State)
		assert.Equal(t, c.link, f.Link(), "bleed %s, leak %s", c.bleed, c.leak)
	}
}
