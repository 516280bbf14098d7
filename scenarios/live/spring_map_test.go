package live_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/equilibria"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/sim"
)

// springAt is a scenario with parameters of its own.
func springAt(t *testing.T, name string, until float64, values map[string]float64) *scenarios.Scenario {
	t.Helper()
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	sc.Until, sc.Shows = until, nil
	for path, v := range values {
		sc.Plant, err = sc.Plant.With(path, plant.Value{Number: v})
		require.NoError(t, err)
	}
	return sc
}

func springMap(t *testing.T, sc *scenarios.Scenario, valve string) *equilibria.Map {
	t.Helper()
	m, err := plant.Build(sc.Plant)
	require.NoError(t, err)
	out, err := equilibria.Of(m, valve, equilibria.Options{})
	require.NoError(t, err)
	return out
}

// ring is one setting of the two rings of the reference valve, mm.
type ring struct{ gap, height float64 }

// rings are those over which the notes of the reference valve give its folds.
var rings = []ring{{0.3, 26}, {1, 26}, {2.5, 26}, {4, 26}, {6, 26}, {10, 26}, {2.5, 16}, {2.5, 20}, {2.5, 24}, {2.5, 30}, {2.5, 45}}

// ringRow is what map and run say of one setting; pressures in bar gauge.
type ringRow struct {
	ring
	pop, reseat, ranPop, ranReseat float64
	folds                          int
}

// ringRows runs every setting of the rings on a plant, and maps it. What feeds the
// vessel is more than the leak at the pop and ends when the valve has popped: a
// valve that reseats at a small lift stays open as long as more comes in than it
// passes there.
func ringRows(t *testing.T, name, feed string) []ringRow {
	t.Helper()
	const until = 60
	rows := make([]ringRow, len(rings))
	scs := make([]*scenarios.Scenario, len(rings))
	for i, r := range rings {
		scs[i] = springAt(t, name, until, map[string]float64{"safety.lower-ring.gap": 1e-3 * r.gap, "safety.upper-ring.exit-height": 1e-3 * r.height})
		m := springMap(t, scs[i], "safety")
		require.NotNil(t, m.Pop)
		require.NotNil(t, m.Reseat)
		rows[i] = ringRow{ring: r, pop: gauge(m.Pop.Vessel), reseat: gauge(m.Reseat.Vessel), folds: len(m.Folds)}
	}
	require.NoError(t, sim.Many(context.Background(), len(rings), func(i int) error {
		r, err := live.Start(scs[i], live.Options{RelTol: 1e-6})
		if err != nil {
			return err
		}
		for len(happened(r, "pop")) == 0 {
			if done, err := r.Sim.Advance(until, 1); done || err != nil {
				return fmt.Errorf("%v: no pop; %w", rings[i], err)
			}
		}
		if _, err := r.Do(scenarios.Action{Command: &scenarios.Command{At: r.Sim.State().T, Path: feed}}); err != nil {
			return err
		}
		if err := r.Finish(); err != nil {
			return err
		}
		lifts := live.SpringLifts(r, "safety")
		if len(lifts) == 0 || !lifts[0].Reseated {
			return fmt.Errorf("%v: no lift that ended", rings[i])
		}
		rows[i].ranPop, rows[i].ranReseat = gauge(lifts[0].PopVessel), gauge(lifts[0].ReseatVessel)
		return nil
	}))
	return rows
}

func gauge(p float64) float64 { return (p - 101325) / 1e5 }

// TestRunAgainstMap: pop and reseat of the run against the folds of the map, over
// the settings of both rings, on the gas of the reference and on steam.
func TestRunAgainstMap(t *testing.T) {
	const set = 40.0 // bar gauge
	gas, steam := ringRows(t, "spring-reference", "inflow.mass-flow"), ringRows(t, "spring-steam", "firing.power")
	worst := map[string]float64{}
	for i := range gas {
		for name, r := range map[string]ringRow{"gas": gas[i], "steam": steam[i]} {
			assert.InDelta(t, r.pop, r.ranPop, 0.005*set, "%s %v", name, r.ring)
			assert.InDelta(t, r.reseat, r.ranReseat, 0.005*set, "%s %v", name, r.ring)
			worst[name+" pop"] = math.Max(worst[name+" pop"], math.Abs(r.pop-r.ranPop))
			worst[name+" reseat"] = math.Max(worst[name+" reseat"], math.Abs(r.reseat-r.ranReseat))
		}
		g, s := gas[i], steam[i]
		t.Logf("gap %4.1f height %2.0f mm: gas pop %.2f (run %.2f) reseat %.2f (%.2f) blowdown %.2f %%; steam pop %.2f (%.2f) reseat %.2f (%.2f) blowdown %.2f %%",
			g.gap, g.height, g.pop, g.ranPop, g.reseat, g.ranReseat, 100*(g.pop-g.reseat)/set, s.pop, s.ranPop, s.reseat, s.ranReseat, 100*(s.pop-s.reseat)/set)
	}
	t.Logf("worst, bar: %v", worst)
	if file := os.Getenv("UNDERDISC_TABLE"); file != "" {
		writeRings(t, file, gas, steam)
	}
}

func writeRings(t *testing.T, file string, gas, steam []ringRow) {
	f, err := os.Create(file)
	require.NoError(t, err)
	defer f.Close()
	fmt.Fprintln(f, "| gap mm | height mm | gas: pop, map/run | reseat, map/run | blowdown % | steam: pop | reseat | blowdown % |\n|---|---|---|---|---|---|---|---|")
	for i, g := range gas {
		s := steam[i]
		fmt.Fprintf(f, "| %g | %g | %.2f/%.2f | %.2f/%.2f | %.1f | %.2f/%.2f | %.2f/%.2f | %.1f |\n", g.gap, g.height, g.pop, g.ranPop, g.reseat, g.ranReseat,
			100*(g.pop-g.reseat)/40, s.pop, s.ranPop, s.reseat, s.ranReseat, 100*(s.pop-s.reseat)/40)
	}
}
