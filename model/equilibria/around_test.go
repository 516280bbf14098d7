package equilibria_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/equilibria"
	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
)

// TestPipes: with a length of pipe ahead and a pipe behind, each point keeps their
// balances, worked out here from the laws: what the inlet loses by Darcy and
// Weisbach, and what the pipe behind takes at its own pressure.
func TestPipes(t *testing.T) {
	v := twoRing(2.5e-3, 26e-3)
	v.Outlet = "pipe"
	v.Inlet = &plant.Run{Length: 1.2, Bore: 60e-3, Friction: 0.02, Cells: 6}
	pipe := plant.Part{Name: "pipe", Kind: "tailpipe", Spec: &plant.Tailpipe{To: "air", Volume: 0.05, Area: 12e-3, Coefficient: 0.9}}
	m := mapOf(t, v, pipe)
	gas := fluid.Gas{Gamma: 1.3, R: 383}
	law := flow.NewNozzle(&gas)
	n := 0
	for _, b := range m.Branches {
		for _, p := range b.Points {
			if p.Flow < 0.1 {
				continue
			}
			v1, v2 := gas.Volume(p.Vessel, 523), gas.Volume(p.Inlet, 523)
			a := area(60e-3)
			loss := (0.02*1.1/60e-3 + 0.5) * (v1 + v2) / 2 * p.Flow * p.Flow / (2 * a * a)
			assert.InEpsilon(t, loss, p.Vessel-p.Inlet, 1e-6)
			var s fluid.State
			gas.At(gas.Volume(p.Outlet, 523), gas.Energy(523), &s)
			assert.InEpsilon(t, p.Flow, 0.9*12e-3*law.Flux(&s, sea), 1e-6)
			n++
		}
	}
	assert.Greater(t, n, 50)
	// The inlet's loss at full flow costs blowdown: it shuts at a higher pressure
	// of the vessel, and for a tail that throttles it pops no earlier.
	bare := mapOf(t, twoRing(2.5e-3, 26e-3))
	t.Logf("reseat %.3f for %.3f bar; pop %.3f for %.3f", barg(m.Reseat.Vessel), barg(bare.Reseat.Vessel), barg(m.Pop.Vessel), barg(bare.Pop.Vessel))
	assert.Greater(t, m.Reseat.Vessel, bare.Reseat.Vessel+0.2e5)
	assert.InDelta(t, bare.Pop.Vessel, m.Pop.Vessel, 0.02e5)
}

// TestSuperimposed: a pressure that stands behind an unbalanced disc raises what
// parts the faces one for one. The pop follows, and rises a little more: beside a
// higher pressure the huddling chamber gains less from the same flow.
func TestSuperimposed(t *testing.T) {
	behind := func(more float64) *equilibria.Map {
		p := bench(twoRing(2.5e-3, 26e-3))
		for i := range p.Parts {
			if p.Parts[i].Name == "air" {
				p.Parts[i].Spec = &plant.Surroundings{Pressure: sea + more, Temperature: 300}
			}
		}
		m, err := equilibria.Of(built(t, p), "valve", equilibria.Options{})
		require.NoError(t, err)
		return m
	}
	low, high := behind(0), behind(2e5)
	assert.InDelta(t, 2e5, high.Simmer-low.Simmer, 1)
	more := high.Pop.Vessel - low.Pop.Vessel
	t.Logf("pop higher by %.3f bar", more/1e5)
	assert.Greater(t, more, 2e5)
	assert.Less(t, more, 2.1e5)
}

// TestGag: a gag below the reseat's lift makes a corner of the fold: the disc
// leaves the gag where its net force there is zero.
func TestGag(t *testing.T) {
	v := twoRing(2.5e-3, 26e-3)
	v.Gag = &plant.Gag{Leaves: 1e-3}
	m := mapOf(t, v)
	require.NotNil(t, m.Reseat)
	assert.True(t, m.Reseat.Corner)
	assert.Equal(t, 1e-3, m.Reseat.Lift)
	whole := mapOf(t, twoRing(2.5e-3, 26e-3))
	assert.InEpsilon(t, at2(whole, 1e-3, equilibria.Unstable), m.Reseat.Vessel, 1e-4)
	j, _ := m.Landing()
	assert.Equal(t, 1e-3, j.To)
}

// at2 is at along the branch of a kind, whatever its sense.
func at2(m *equilibria.Map, lift float64, kind equilibria.Kind) float64 {
	for _, b := range m.Branches {
		for i := 1; i < len(b.Points) && b.Kind == kind; i++ {
			if p, q := b.Points[i-1], b.Points[i]; p.Lift <= lift && q.Lift > lift {
				return p.Vessel + (lift-p.Lift)/(q.Lift-p.Lift)*(q.Vessel-p.Vessel)
			}
		}
	}
	return math.NaN()
}

// TestLever: a hand that pulls with less than the faces need leaves the pop lower
// by its force over the seat's area; one that pulls with more than the whole
// spring leaves no seated branch at all.
func TestLever(t *testing.T) {
	pulled := func(force float64) *equilibria.Map {
		v := twoRing(2.5e-3, 26e-3)
		v.Lever = &plant.Lever{Ratio: 10, Force: force, Pull: 1, Time: 0.3}
		return mapOf(t, v)
	}
	whole := mapOf(t, twoRing(2.5e-3, 26e-3))
	assert.InDelta(t, 1000/seatArea, whole.Pop.Vessel-pulled(100).Pop.Vessel, 0.05e5)
	m := pulled(1000) // 10 kN
	assert.Nil(t, m.Pop)
	for _, b := range m.Branches {
		assert.Contains(t, []equilibria.Kind{equilibria.Lifted, equilibria.Stopped}, b.Kind)
	}
	assert.Equal(t, equilibria.Stopped, m.Branches[len(m.Branches)-1].Kind)
}

// TestHeldOff: debris holds the faces apart; the disc then rests on it, passes
// flow, and pops where the sound valve is on its way up from that lift or lower.
func TestHeldOff(t *testing.T) {
	v := twoRing(2.5e-3, 26e-3)
	v.Seat.Debris = &plant.Debris{Size: 0.3e-3, Washes: "no"}
	m := mapOf(t, v)
	require.NotNil(t, m.Pop)
	assert.True(t, math.IsNaN(m.Simmer))
	first := m.Branches[0]
	assert.Equal(t, equilibria.Seated, first.Kind)
	assert.InDelta(t, 0.3e-3, first.Points[0].Lift, 20e-6)
	assert.Greater(t, first.Points[len(first.Points)-1].Flow, 0.1)
	assert.Less(t, m.Pop.Vessel, mapOf(t, twoRing(2.5e-3, 26e-3)).Pop.Vessel)
}

// TestFriction: dry friction makes the pop later and the reseat later by about
// itself over the seat's area.
func TestFriction(t *testing.T) {
	v := twoRing(2.5e-3, 26e-3)
	v.Disc.Friction, v.Disc.StickFriction = 80, 100
	m := mapOf(t, v)
	require.NotNil(t, m.Friction)
	require.NotNil(t, m.Friction.Pop)
	require.NotNil(t, m.Friction.Reseat)
	assert.InDelta(t, 100/seatArea, m.Friction.Pop.Vessel-m.Pop.Vessel, 0.05*100/seatArea)
	later := m.Reseat.Vessel - m.Friction.Reseat.Vessel
	assert.Greater(t, later, 0.0)
	assert.Less(t, later, 100/seatArea)
	limits, err := equilibria.Thresholds(built(t, bench(v)), "valve")
	require.NoError(t, err)
	assert.Equal(t, m.Friction.Pop.Vessel, limits.Pop.Vessel)
}

func TestErrors(t *testing.T) {
	_, err := equilibria.Of(built(t, bench(twoRing(2.5e-3, 26e-3))), "valv", equilibria.Options{})
	assert.EqualError(t, err, `found "valv", want one of its valves: valve`)
	p := bench(nil)
	p.Parts = p.Parts[:4]
	_, err = equilibria.Of(built(t, p), "valve", equilibria.Options{})
	assert.EqualError(t, err, `found "valve", but the plant has no valve`)
}

func BenchmarkReference(b *testing.B) {
	m := built(b, bench(twoRing(2.5e-3, 26e-3)))
	for b.Loop() {
		if _, err := equilibria.Of(m, "valve", equilibria.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// TestWaves: about a lift in balance a short inlet pipe is quiet, in a long one a
// wave grows; at the stop there is none.
func TestWaves(t *testing.T) {
	for _, c := range []struct {
		length float64
		grows  bool
	}{{0.5, false}, {1, false}, {4, true}} {
		v := twoRing(2.5e-3, 26e-3)
		v.Inlet = &plant.Run{Length: c.length, Bore: 70e-3, Friction: 0.02, Cells: 8}
		m := mapOf(t, v)
		assert.True(t, m.Wave)
		lifted, grows := 0, 0
		for _, b := range m.Branches {
			for i, p := range b.Points {
				switch {
				case b.Kind == equilibria.Lifted:
					lifted++
					if p.Wave < 0 {
						grows++
					}
				case b.Kind == equilibria.Stopped && i > 1, b.Kind == equilibria.Seated && p.Lift < 0:
					assert.True(t, math.IsNaN(p.Wave))
				}
			}
		}
		t.Logf("%.1f m: grows at %d of %d lifted points", c.length, grows, lifted)
		assert.Greater(t, lifted, 20)
		if c.grows {
			assert.Greater(t, grows, lifted/2)
		} else {
			assert.Zero(t, grows)
		}
	}
	assert.False(t, mapOf(t, twoRing(2.5e-3, 26e-3)).Wave)
}
