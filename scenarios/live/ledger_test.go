package live_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/network"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

func TestScratch(t *testing.T) {
	for _, name := range []string{"gas-bench", "gas-bench-plus"} {
		sc, err := scenarios.Load(name)
		require.NoError(t, err)
		r, err := live.Start(sc, live.Options{RelTol: 1e-6})
		require.NoError(t, err)
		start := r.Sim.State().Clone()
		require.NoError(t, r.Finish())
		a, err := network.AuditRun(r.History, r.Sim.Events(), r.Sim.Systems(), start, *r.Sim.State())
		require.NoError(t, err)
		for _, c := range a.Accounts {
			fmt.Printf("%-30s %-8s %10.3g %10.3g\n", c.Part, c.Kind, c.ByState, c.ByFlow)
		}
	}
}
