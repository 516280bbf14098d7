package live_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/sim"
)

// threshold is one line of the table: what a fault's severity does, worked out
// on paper and found by running the plant.
type threshold struct {
	fault, what, unit  string
	derived, simulated float64    // in the unit
	band               [2]float64 // what the deviation may be, in percent of the derived value
	why                string     // of a deviation that may reach 2 % or more
}

func (l threshold) deviation() float64 { return 100 * (l.simulated/l.derived - 1) }

// within is a band about zero, in percent.
func within(percent float64) [2]float64 { return [2]float64{-percent, percent} }

// studies are the faults of the catalogue, each with the function that works
// out its lines of the table.
var studies = map[string]func(t *testing.T) []threshold{
	"bleed-enlarged":   bleedEnlarged,
	"bleed-plugged":    bleedPlugged,
	"pilot-leaks":      pilotLeaks,
	"dump-restricted":  dumpRestricted,
	"pilot-stuck-shut": pilotStuckShut,
	"pilot-stuck-open": pilotStuckOpen,
	"pilot-slow":       pilotSlow,
	"coil-open":        coilOpen,
	"supply-low":       supplyLow,
	"spring-weak":      springWeak,
	"spring-broken":    springBroken,
	"disc-sticks":      discSticks,
	"back-pressure":    backPressure,
	"switch-drifted":   switchDrifted,
	"deadband-narrow":  deadbandNarrow,
	"sensing-slow":     sensingSlow,
	"inlet-throttled":  inletThrottled,
	"seat-leaks":       seatLeaks,
}

// TestThresholds holds, for every fault of the catalogue, the severity at
// which the simulation changes over against the closed form; where a fault has
// no such severity, the shift or delay that it causes. UNDERDISC_TABLE=path
// writes the table.
func TestThresholds(t *testing.T) {
	faults := fault.All()
	tables := make([][]threshold, len(faults))
	t.Run("faults", func(t *testing.T) {
		for i, f := range faults {
			t.Run(f.Name, func(t *testing.T) {
				t.Parallel()
				study, ok := studies[f.Name]
				require.True(t, ok, "no threshold of this fault has been worked out")
				tables[i] = study(t)
				for k := range tables[i] {
					tables[i][k].fault = f.Name
				}
				require.NotEmpty(t, tables[i])
				for _, l := range tables[i] {
					l.check(t)
				}
			})
		}
	})
	table := markdown(slices.Concat(tables...))
	t.Log("\n" + table)
	if path := os.Getenv("UNDERDISC_TABLE"); path != "" {
		require.NoError(t, os.WriteFile(path, []byte(table), 0o644))
	}
}

func (l threshold) check(t *testing.T) {
	d := l.deviation()
	assert.Truef(t, d >= l.band[0] && d <= l.band[1], "%s: derived %.6g %s, simulated %.6g %s, which is %+.3g %%; want %+g to %+g %%",
		l.what, l.derived, l.unit, l.simulated, l.unit, d, l.band[0], l.band[1])
	if max(-l.band[0], l.band[1]) > 2 {
		assert.NotEmptyf(t, l.why, "%s: a deviation of %.3g %% without a reason", l.what, d)
	}
}

// markdown is the table as text.
func markdown(lines []threshold) string {
	var b strings.Builder
	b.WriteString("| fault | what | derived | simulated | deviation | why |\n|---|---|---|---|---|---|\n")
	for _, l := range lines {
		fmt.Fprintf(&b, "| %s | %s | %.6g %s | %.6g %s | %+.3f %% | %s |\n",
			l.fault, l.what, l.derived, l.unit, l.simulated, l.unit, l.deviation(), l.why)
	}
	return b.String()
}

// stand loads a scenario for trials, with parameters set as on the command
// line.
func stand(t *testing.T, base string, until float64, set ...string) *scenarios.Scenario {
	t.Helper()
	sc, err := scenarios.Load(base)
	require.NoError(t, err)
	sc.Plant, err = scenarios.Set(sc.Plant, set...)
	require.NoError(t, err)
	sc.Until = until
	return sc
}

// with returns the scenario with a fault of that severity from the time at.
func with(sc *scenarios.Scenario, name string, severity, at float64) *scenarios.Scenario {
	out := *sc
	out.Faults = append(slices.Clone(sc.Faults), fault.Entry{Name: name, Severity: &severity, At: at})
	return &out
}

// set returns the scenario with a parameter changed at a time of the run.
func set(sc *scenarios.Scenario, at float64, path string, value float64) *scenarios.Scenario {
	out := *sc
	out.Commands = append(slices.Clone(sc.Commands), number(at, path, value))
	return &out
}

// played runs a scenario to its end, or until one of the events has happened.
func played(t *testing.T, sc *scenarios.Scenario, enough ...string) *live.Run {
	t.Helper()
	bare := sc.Shows == nil || len(sc.Shows.Valves) == 0 // peaks between events take a history
	r, err := live.Start(sc, live.Options{RelTol: rtol, Bare: bare})
	require.NoError(t, err)
	if len(enough) == 0 {
		require.NoError(t, r.Finish())
		return r
	}
	for part := 1.0; part <= 40; part++ {
		until := sc.Until * part / 40
		require.NoError(t, r.Sim.Finish(until))
		for _, e := range r.Sim.Events() {
			if slices.Contains(enough, e.Name) {
				return r
			}
		}
	}
	return r
}

// happens tells whether an event happens in a scenario.
func happens(t *testing.T, sc *scenarios.Scenario, event string) bool {
	t.Helper()
	return first(played(t, sc, event), event) != nil
}

// first is the first event of that name, nil if there is none.
func first(r *live.Run, event string) *sim.Event {
	for i, e := range r.Sim.Events() {
		if e.Name == event {
			return &r.Sim.Events()[i]
		}
	}
	return nil
}

// valveAt is the valve just before the first event of that name, which must
// have happened.
func valveAt(t *testing.T, r *live.Run, event string) (at float64, v plant.ValveState) {
	t.Helper()
	e := first(r, event)
	require.NotNil(t, e, "no "+event)
	before, _ := r.AtEvent(e)
	return e.T, before.Valves[0]
}

// bisected narrows the severity at which holds changes over down to a ten
// thousandth of it. holds must differ at the two ends.
func bisected(t *testing.T, lo, hi float64, holds func(severity float64) bool) float64 {
	t.Helper()
	at := holds(lo)
	require.NotEqual(t, at, holds(hi), "nothing changes between %g and %g", lo, hi)
	for math.Abs(hi-lo) > 1e-4*math.Abs(hi) {
		m := (lo + hi) / 2
		if holds(m) == at {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}
