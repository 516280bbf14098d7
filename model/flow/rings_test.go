package flow_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// anyWay draws rings of any setting around the demo valves', with a fluid.
func anyWay(t *rapid.T, fluids []anyFluid) (r flow.Rings, up fluid.State, down, x float64) {
	fl := fluids[rapid.IntRange(0, len(fluids)-1).Draw(t, "fluid")]
	v, u := fl.draw(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "state"), 1)))
	fl.at(v, u, &up)
	r = twoRings(fl.law, rapid.Float64Range(0, 12e-3).Draw(t, "gap"), math.Exp(rapid.Float64Range(math.Log(1e-3), math.Log(1)).Draw(t, "height")))
	if rapid.IntRange(0, 3).Draw(t, "hood") == 0 {
		r = hooded(fl.law)
		r.Lower.Gap = rapid.Float64Range(0, 12e-3).Draw(t, "gap")
	}
	r.Lower.Notches = rapid.SampledFrom([]float64{0, 15e-6, 1e-3}).Draw(t, "notches")
	down = up.P * rapid.Float64Range(1e-4, 0.9999).Draw(t, "down")
	if rapid.Bool().Draw(t, "low") {
		down = up.P * rapid.Float64Range(0.005, 0.05).Draw(t, "lower down")
	}
	x = math.Exp(rapid.Float64Range(math.Log(1e-7), math.Log(2*r.Bore)).Draw(t, "ln x"))
	return r, up, down, x
}

// TestRingsProperties: what passes one opening passes all; pressures fall from one
// to the next; more passes at a larger lift, a higher upstream and a lower
// downstream pressure; a memory changes nothing.
func TestRingsProperties(t *testing.T) {
	fluids := anyFluids()
	rapid.Check(t, func(t *rapid.T) {
		r, up, down, x := anyWay(t, fluids)
		way := flow.NewRings(r)
		var p, q flow.Past
		way.At(&up, down, x, &p)

		assert.GreaterOrEqual(t, p.Under, down)
		assert.GreaterOrEqual(t, p.Huddle, p.Under)
		assert.GreaterOrEqual(t, up.P*(1+1e-15), p.Huddle)

		n, _, _ := fluid.Void(r.Law, &up)
		n = (1 + n) / 2
		through := func(area, ahead, behind float64) float64 {
			return area * math.Pow(ahead/up.P, n) * r.Law.Flux(&up, min(behind*up.P/ahead, up.P))
		}
		// A small difference of pressures is known to some tens of their last digits.
		same := func(got, ahead, behind float64) {
			assert.InEpsilon(t, p.W, got, 1e-10+2e-14*ahead/(ahead-behind))
		}
		same(through(p.Curtain, up.P, p.Huddle), up.P, p.Huddle)
		same(through(p.LowerRing, p.Huddle, p.Under), p.Huddle, p.Under)
		if r.Upper != nil {
			same(through(p.UpperRing, p.Under, down), p.Under, down)
		}

		way.At(&up, down, x*1.01, &q)
		assert.Greater(t, q.W, p.W)
		way.At(&up, down*0.99, x, &q)
		assert.GreaterOrEqual(t, q.W, p.W*(1-1e-13))
		if p.Choked {
			assert.InEpsilon(t, p.W, q.W, 1e-11)
		}

		mine := way.Remembering()
		mine.At(&up, down*0.7, x*1.3, &q)
		for range 3 {
			mine.At(&up, down, x, &q)
			assert.InEpsilon(t, p.W, q.W, 1e-12+1e-15*up.P/(up.P-down))
			assert.InEpsilon(t, p.Huddle, q.Huddle, 1e-12)
			assert.InDelta(t, p.Force, q.Force, 1e-12*up.P*r.Bore*r.Bore)
		}
	})
}

// TestRingsRiseWithPressure: a gas at one temperature.
func TestRingsRiseWithPressure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, _, _, x := anyWay(t, []anyFluid{anyFluids()[0]})
		way := flow.NewRings(r)
		last := 0.0
		for p := 1.001 * sea; p < 100e5; p *= 1.2 {
			up := trialAt(p)
			var q flow.Past
			way.At(&up, sea, x, &q)
			assert.Greater(t, q.W, last)
			last = q.W
		}
	})
}

// TestRingsLimits: a wide gap leaves the chamber at the pressure below it, a wide
// way out leaves that at down; then the curtain alone is what passes. The cubic of the
// law near equal pressures leaves 2e-4.
func TestRingsLimits(t *testing.T) {
	law := flow.NewNozzle(&trialGas)
	up := trialAt(41e5)
	var p flow.Past
	for _, down := range []float64{sea, 15e5, 30e5} {
		wide := twoRings(law, 10, 26e-3)
		flow.NewRings(wide).At(&up, down, 5e-3, &p)
		assert.InEpsilon(t, p.Under, p.Huddle, 3e-4)
		assert.Greater(t, p.Under, down)
		wide = twoRings(law, 2.5e-3, 1e3)
		flow.NewRings(wide).At(&up, down, 5e-3, &p)
		assert.InEpsilon(t, down, p.Under, 3e-4)
		assert.Greater(t, p.Huddle, 1.05*down)
		wide = twoRings(law, 10, 1e3)
		flow.NewRings(wide).At(&up, down, 5e-3, &p)
		assert.InEpsilon(t, down, p.Huddle, 3e-4)
		assert.InEpsilon(t, p.Curtain*law.Flux(&up, down), p.W, 3e-4)
		// And with no upper ring at all, that is a hood that turns nothing.
		none := hooded(law)
		none.Hood.Turned = 0
		flow.NewRings(none).At(&up, down, 5e-3, &p)
		assert.Equal(t, down, p.Under)
		assert.Zero(t, p.Parts.Jet)
	}
}

// TestRingsShut: only the leak passes a disc on its seat, the chambers are at down,
// and nothing jumps as it lifts; nor where the pressures are equal.
func TestRingsShut(t *testing.T) {
	for _, fl := range anyFluids() {
		v, u := fl.draw(rand.New(rand.NewPCG(3, 4)))
		var up fluid.State
		fl.at(v, u, &up)
		r := twoRings(fl.law, 2.5e-3, 26e-3)
		r.Leak, r.Balanced, r.Atmosphere = 1e-7, 1e-3, sea
		k := proportional(fl.law)
		k.Leak, k.Balanced, k.Atmosphere = 1e-7, 1e-3, sea
		for _, way := range []flow.PastDisc{flow.NewRings(r), flow.NewPlug(k)} {
			for _, share := range []float64{0.05, 0.7, 1} {
				down := up.P * share
				var shut, ajar, far flow.Past
				way.At(&up, down, 0, &shut)
				way.At(&up, down, -1e-3, &far)
				way.At(&up, down, 1e-14, &ajar)
				assert.Equal(t, shut, far)
				assert.Equal(t, r.Leak*fl.law.Flux(&up, down), shut.W)
				assert.Equal(t, down, shut.Huddle)
				assert.Equal(t, down, shut.Under)
				area := math.Pi / 4 * r.Seat * r.Seat
				if share == 1 {
					assert.InDelta(t, (down-sea)*1e-3, ajar.Force, 1e-9*up.P*area)
				}
				assert.InDelta(t, shut.W, ajar.W, 1e-6*shut.W+1e-15)
				assert.InDelta(t, shut.Force, ajar.Force, 1e-9*up.P*area)
				assert.InEpsilon(t, down, ajar.Huddle, 1e-9)
			}
		}
	}
}

// TestPastDiscOfNoState: a trial state that is none yields NaN, which makes a step
// be refused, and leaves no trace in a memory.
func TestPastDiscOfNoState(t *testing.T) {
	law := flow.NewNozzle(&trialGas)
	for _, way := range []flow.PastDisc{flow.NewRings(twoRings(law, 2.5e-3, 26e-3)).Remembering(), flow.NewRings(hooded(law)).Remembering(),
		flow.NewPlug(proportional(law)).Remembering()} {
		var none fluid.State
		trialGas.At(-1, 1e5, &none)
		up := trialAt(41e5)
		var p, q flow.Past
		way.At(&up, sea, 5e-3, &p)
		way.At(&none, sea, 5e-3, &q)
		assert.True(t, math.IsNaN(q.W) && math.IsNaN(q.Force))
		way.Slopes(&none, sea, 5e-3, &q)
		assert.True(t, math.IsNaN(q.W) && math.IsNaN(q.Force) && math.IsNaN(q.Wx))
		way.At(&up, sea, 5e-3, &q)
		assert.InEpsilon(t, p.W, q.W, 1e-13)
		assert.InEpsilon(t, p.Force, q.Force, 1e-13)
	}
}
