package live_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fluid"
	"underdisc/model/network"
	"underdisc/scenarios/live"
	"underdisc/sim"
)

// moment is when a named event happens for the n-th time [s].
type moment struct {
	event string
	n     int
	at    float64
}

// firstCycle and secondCycle are the bench's event times as three independent
// programs found them (a multistep method, a Rosenbrock method, and an explicit
// method of order 8 beside an implicit one); they agree to 1e-6 s. Pilot open,
// pilot shut, full open and seated are the moments at which the part is held,
// after its last bounce; the bounces of cycle one are the first contacts.
var firstCycle = []moment{
	{"switch-made", 1, 2.127910},
	{"coil-on", 1, 2.137910},
	{"pilot-lift", 1, 2.180772},
	{"pilot-open", 1, 2.187087},
	{"disc-lift", 1, 2.199331},
	{"disc-full-open", 1, 2.214185},
	{"switch-reset", 1, 3.525579},
	{"coil-off", 1, 3.535579},
	{"pilot-drop", 1, 3.608572},
	{"pilot-shut", 1, 3.621531},
	{"disc-leaves-stop", 1, 3.762752},
	{"disc-seated", 1, 3.793258},
}

var secondCycle = []moment{
	{"switch-made", 2, 7.436335},
	{"coil-on", 2, 7.446335},
	{"pilot-lift", 2, 7.489197},
	{"pilot-open", 2, 7.495510},
	{"disc-lift", 2, 7.506261},
	{"disc-full-open", 2, 7.520628},
	{"switch-reset", 2, 8.831429},
	{"coil-off", 2, 8.841429},
	{"pilot-drop", 2, 8.914423},
	{"pilot-shut", 2, 8.927381},
	{"disc-leaves-stop", 2, 9.068611},
	{"disc-seated", 2, 9.099118},
}

// contacts are when a part first touches its stop, and then its seat, in cycle
// one: the first bounce after the named event.
var contacts = []struct {
	after, bounce string
	at            float64
}{
	{"pilot-lift", "pilot-bounce", 2.186947},
	{"pilot-drop", "pilot-bounce", 3.620845},
	{"disc-lift", "disc-bounce", 2.210720},
	{"disc-leaves-stop", "disc-bounce", 3.786799},
}

// find is the n-th event of that name.
func find(events []sim.Event, name string, n int) (sim.Event, bool) {
	for _, e := range events {
		if e.Name == name {
			if n--; n == 0 {
				return e, true
			}
		}
	}
	return sim.Event{}, false
}

// offTimes is the largest distance of the events from the table [s]; +Inf if
// one has not happened.
func offTimes(events []sim.Event, table []moment) (worst float64, which string) {
	for _, m := range table {
		off := math.Inf(1)
		if e, ok := find(events, m.event, m.n); ok {
			off = math.Abs(e.T - m.at)
		}
		if off > worst {
			worst, which = off, m.event
		}
	}
	return
}

// bench runs the gas bench.
func bench(t *testing.T, tolerance, until float64) *live.Run {
	t.Helper()
	r, err := live.Start(load(t, "gas-bench", until), live.Options{RelTol: tolerance, Bare: true})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

func TestBenchEventTimes(t *testing.T) {
	for _, c := range []struct {
		name             string
		tolerance, limit float64
	}{
		{"rtol 1e-6", 1e-6, 1e-3},
		{"rtol 1e-9", 1e-9, 20e-6},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			events := bench(t, c.tolerance, 10).Sim.Events()
			for _, m := range slices.Concat(firstCycle, secondCycle) {
				e, ok := find(events, m.event, m.n)
				if assert.True(t, ok, "%s %d", m.event, m.n) {
					assert.InDelta(t, m.at, e.T, c.limit, "%s %d", m.event, m.n)
				}
			}
			for _, k := range contacts {
				from, ok := find(events, k.after, 1)
				require.True(t, ok, k.after)
				later := slices.DeleteFunc(slices.Clone(events), func(e sim.Event) bool { return e.T < from.T })
				e, ok := find(later, k.bounce, 1)
				if assert.True(t, ok, "first contact after %s", k.after) {
					assert.InDelta(t, k.at, e.T, c.limit, "first contact after %s", k.after)
				}
			}
			worst, which := offTimes(events, slices.Concat(firstCycle, secondCycle))
			t.Logf("worst %.1e s (%s)", worst, which)
		})
	}
}

// The reference program beside the plant package solves the same equations
// with another method. Its times hold for the whole run, where what is off in
// one cycle is carried into the next.
func TestBenchAgainstReference(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(filepath.Join("..", "..", "model", "plant", "testdata", "cvode", "events_rtol1e-11.json"))
	require.NoError(t, err)
	var ref struct {
		Until  float64
		Events []struct {
			T    float64
			Name string
		}
	}
	require.NoError(t, json.Unmarshal(data, &ref))
	events := bench(t, 1e-9, ref.Until).Sim.Events()
	count := map[string]int{}
	for _, e := range ref.Events {
		if e.Name == "disc-bounce" || e.Name == "pilot-bounce" {
			continue // how many there are hangs on the tolerance
		}
		count[e.Name]++
		got, ok := find(events, e.Name, count[e.Name])
		if assert.True(t, ok, "%s %d", e.Name, count[e.Name]) {
			assert.InDelta(t, e.T, got.T, 50e-6, "%s %d", e.Name, count[e.Name])
		}
	}
	require.Equal(t, 11, count["disc-lift"])
	for name, n := range count {
		_, more := find(events, name, n+1)
		assert.False(t, more, "more %s than the %d of the reference", name, n)
	}
}

// Pressures at the turning points, bar abs.
func TestBenchPressures(t *testing.T) {
	t.Parallel()
	r := bench(t, 1e-6, 60)
	lifts := 0
	for _, e := range r.Sim.Events() {
		if e.Name == "disc-lift" {
			lifts++
		}
	}
	assert.Equal(t, 11, lifts)
	for _, c := range []struct {
		event                string
		above, below, vessel float64 // bar abs; 0: not in the table
		within               float64
	}{
		{"disc-lift", 12.029, 5.876, 0, 5e-4},
		{"disc-leaves-stop", 10.807, 7.748, 0, 5e-4},
		{"disc-seated", 0, 0, 11.136, 5e-4},
	} {
		e, ok := find(r.Sim.Events(), c.event, 1)
		require.True(t, ok, c.event)
		before, _ := r.AtEvent(&e)
		v := &before.Valves[0]
		for _, p := range []struct {
			name      string
			want, got float64
		}{{"above", c.above, v.Above}, {"below", c.below, v.Below}, {"vessel", c.vessel, v.Vessel}} {
			if p.want > 0 {
				assert.InEpsilon(t, p.want, p.got/1e5, c.within, "%s at %s", p.name, c.event)
			}
		}
	}
}

// nozzleTable is the mass flow parameter G sqrt(R T0)/p0 of a gas with
// gamma = 1.4 by p/p0, from the published tables of isentropic flow: it is
// sqrt(1.4) M (p/p0)/sqrt(T/T0) at the Mach number of the row, and at sonic
// flow and below 0.6847 (e.g. Saad, Compressible Fluid Flow, appendix).
var nozzleTable = []struct{ ratio, psi float64 }{
	{0.1, 0.68473},
	{0.5, 0.68473},
	{0.52828, 0.68473}, // M 1
	{0.65602, math.Sqrt(1.4) * 0.8 * 0.65602 / math.Sqrt(0.88652)}, // M 0.8
	{0.84302, math.Sqrt(1.4) * 0.5 * 0.84302 / math.Sqrt(0.95238)}, // M 0.5
	{0.97250, math.Sqrt(1.4) * 0.2 * 0.97250 / math.Sqrt(0.99206)}, // M 0.2
}

// offNozzle is the largest relative distance of the network's flows through
// nozzles from the table. The table's five digits limit it to 3e-5 or so.
func offNozzle(n *network.Network) float64 {
	worst := 0.0
	gas := n.Volumes[0].Fluid.(*fluid.Gas)
	for i := range n.Flows {
		if strings.HasSuffix(n.Flows[i].Name, ".guide") {
			continue
		}
		var up fluid.State
		gas.At(gas.Volume(1e6, 320), gas.Energy(320), &up)
		for _, row := range nozzleTable {
			got := n.Flows[i].Law.Flux(&up, row.ratio*1e6) * math.Sqrt(gas.R*320) / 1e6
			worst = math.Max(worst, math.Abs(got/row.psi-1))
		}
	}
	return worst
}
