package flow_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

func TestRingsStatics(t *testing.T) {
	law := flow.NewNozzle(&trialGas)
	at := func(p float64) fluid.State { return stateOf(&trialGas, p, trialT) }
	for _, c := range []struct{ gap, height, simmer, pop, blowdown float64 }{
		{0.3, 26, 1.36, 39.89, 8.3},
		{1.0, 26, 1.55, 39.97, 6.1},
		{2.5, 26, 1.63, 40.00, 4.3},
		{4.0, 26, 1.74, 40.04, 3.6},
		{6.0, 26, 1.93, 40.12, 3.2},
		{10, 26, 2.59, 40.39, 3.1},
		{2.5, 16, 0, 0, 11.3},
		{2.5, 20, 0, 0, 7.5},
		{2.5, 24, 0, 0, 5.1},
		{2.5, 30, 0, 0, 3.2},
		{2.5, 45, 0, 0, 2.2},
	} {
		f := twoRingSpring.scan(flow.NewRings(twoRings(law, c.gap*1e-3, c.height*1e-3)).Remembering(), at)
		blow := (f.pop - f.reseat) / 40 * 100
		t.Logf("g %4.1f hu %2.0f: pop %.2f at %.3g mm, reseat %.2f at %.2f mm, blowdown %.2f (%.1f), simmer %.2f %.2f (%.2f)", c.gap, c.height, f.pop, f.popLift*1e3,
			f.reseat, f.reseatLift*1e3, blow, c.blowdown, (f.pop-f.simmer)/f.pop*100, (f.pop-f.simmer)/40*100, c.simmer)
		assert.InDelta(t, c.blowdown, blow, 0.3)
	}
}
