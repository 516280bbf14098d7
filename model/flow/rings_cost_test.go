package flow_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/flow"
	"underdisc/model/flow/equilibrium"
	"underdisc/model/fluid"
	"underdisc/model/fluid/water"
)

// costs are ways past a disc with a state: the demo valve on its gas and on steam
// near 40 bar, at a lift with the curtain choked and, against back pressure, not.
type costCase struct {
	name    string
	way     flow.PastDisc
	up      fluid.State
	down, x float64
}

func costCases(t testing.TB) (all []costCase) {
	gas := flow.NewRings(twoRings(flow.NewNozzle(&trialGas), 2.5e-3, 26e-3))
	steam := flow.NewRings(twoRings(equilibrium.Shared(), 2.5e-3, 26e-3))
	hood := flow.NewRings(hooded(equilibrium.Shared()))
	w := water.Shared()
	v, u, err := w.PX(41e5, 0.999)
	assert.NoError(t, err)
	var dry fluid.State
	w.At(v, u, &dry)
	up := stateOf(&trialGas, 41e5, trialT)
	for _, c := range []struct {
		name    string
		down, x float64
	}{{"shut", 1.2e5, -1e-6}, {"simmer", 1.2e5, 2e-6}, {"lifting", 1.2e5, 2e-3}, {"full", 2e5, 14e-3}, {"back", 28e5, 14e-3}} {
		all = append(all, costCase{"gas/" + c.name, gas.Remembering(), up, c.down, c.x}, costCase{"steam/" + c.name, steam.Remembering(), dry, c.down, c.x},
			costCase{"hood/" + c.name, hood.Remembering(), dry, c.down, c.x})
	}
	return all
}

func TestPastDiscDoesNotAllocate(t *testing.T) {
	for _, c := range costCases(t) {
		var p flow.Past
		assert.Zero(t, testing.AllocsPerRun(100, func() {
			c.way.At(&c.up, c.down, c.x, &p)
			c.way.Slopes(&c.up, c.down, c.x, &p)
		}), c.name)
	}
}

// BenchmarkRings moves the disc and the pressure a little each time, as a run does.
func BenchmarkRings(b *testing.B) {
	for _, c := range costCases(b) {
		var p flow.Past
		states := make([]fluid.State, 64)
		w := water.Shared()
		for i := range states {
			u := c.up.U * (1 + 1e-6*float64(i))
			if c.name[0] == 'g' {
				trialGas.At(c.up.V, u, &states[i])
			} else {
				w.At(c.up.V, u, &states[i])
			}
		}
		b.Run(c.name+"/at", func(b *testing.B) {
			i := 0
			for b.Loop() {
				c.way.At(&states[i&63], c.down, c.x*(1+1e-5*float64(i&63)), &p)
				i++
			}
		})
		b.Run(c.name+"/slopes", func(b *testing.B) {
			i := 0
			for b.Loop() {
				c.way.Slopes(&states[i&63], c.down, c.x*(1+1e-5*float64(i&63)), &p)
				i++
			}
		})
	}
}

// TestRingsIsCheap: how often the law is asked for a flux by a way that remembers,
// as the disc moves and the pressure changes by a thousandth at a time.
func TestRingsIsCheap(t *testing.T) {
	l := &counted{Law: flow.NewNozzle(&trialGas)}
	for _, c := range []struct {
		name       string
		down, x    float64
		within     float64
		withinOnce int
	}{
		{"simmer", 1.2e5, 2e-6, 12, 20},
		{"lifting", 1.2e5, 2e-3, 12, 20},
		{"full", 2e5, 14e-3, 12, 20},
		{"back pressure", 28e5, 14e-3, 70, 100},
	} {
		way := flow.NewRings(twoRings(l, 2.5e-3, 26e-3)).Remembering()
		var p flow.Past
		before, most := l.n, 0
		const steps = 400
		for i := range steps {
			up := stateOf(&trialGas, 41e5*(1+1e-3*float64(i%50)), trialT)
			last := l.n
			way.At(&up, c.down, c.x*(1+1e-3*float64(i%37)), &p)
			most = max(most, l.n-last)
		}
		each := float64(l.n-before) / steps
		t.Logf("%s: %.1f fluxes on average, %d at most", c.name, each, most)
		assert.Less(t, each, c.within)
		assert.Less(t, most, c.withinOnce)
	}
}
