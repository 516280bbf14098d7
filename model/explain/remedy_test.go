package explain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
)

// No way out asks anyone for more pressure than the set pressure, for more
// current, or for a spring or a bore that is altered to make up for another
// fault; what would do so in arithmetic is no remedy.
func TestWaysOutAreSafe(t *testing.T) {
	for name, c := range map[string]struct {
		scenario string
		sets     []string
		at       float64
		remedy   explain.Quantity
		never    []explain.Quantity
		sums     []explain.Quantity
	}{
		"disc bonded shut": {"boiler-plant", []string{"valve.disc.bond.shut=20 kN"}, 75, explain.DiscBond, []explain.Quantity{explain.BodyPressure, explain.SpringPreload}, nil},
		"pilot leaks": {"boiler-plant", []string{"valve.pilot.leak-area=3 mm2"}, 80, explain.PilotLeakArea, []explain.Quantity{explain.SpringPreload, explain.SetPressure},
			[]explain.Quantity{explain.BleedArea, explain.VesselPressure}},
		"plunger bonded shut": {"boiler-plant", []string{"valve.plunger.bond-shut=500 N"}, 75, explain.PlungerBond, []explain.Quantity{explain.CoilCurrent, explain.SupplyVoltage}, nil},
		"hot coil":            {"boiler-plant", []string{"valve.coil.winding.around=200 degC"}, 75, explain.WindingTemperature, []explain.Quantity{explain.SupplyVoltage, explain.CoilCurrent}, nil},
		"bleed plugged":       {"gas-bench-plus", []string{"valve.bleed.area=0 mm2"}, 4.5, explain.BleedArea, []explain.Quantity{explain.SpringPreload}, nil},
		"disc sticks open":    {"gas-bench-plus", []string{"valve.disc.stick-friction=1300 N", "valve.disc.friction=1300 N"}, 6, explain.DiscFriction, []explain.Quantity{explain.SpringPreload}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			_, pg := paged(t, ran(t, described(t, c.scenario, c.sets...), c.at), c.at)
			kinds := map[explain.Quantity]bool{}
			for _, f := range pg.Frees {
				kinds[f.Quantity] = f.Remedy
				assert.NotContains(t, c.never, f.Quantity)
			}
			remedy, there := kinds[c.remedy]
			require.True(t, there, "%v", pg.Frees)
			assert.True(t, remedy)
			for _, q := range c.sums {
				remedy, there := kinds[q]
				assert.True(t, there, q.String())
				assert.False(t, remedy, q.String())
			}
		})
	}
}

// A valve at rest is not told how far its set pressure would have to come down.
func TestRestingValveKeepsItsSet(t *testing.T) {
	_, pg := paged(t, ran(t, described(t, "boiler-plant"), 2), 2)
	require.Equal(t, explain.Rests, pg.Question)
	for _, f := range pg.Frees {
		assert.NotEqual(t, explain.SetPressure, f.Quantity)
		assert.False(t, f.Remedy, "nothing is wrong: %s", f.Quantity)
	}
	assert.Empty(t, pg.Next)
}

// By itself comes only what the present trend takes there: on a boiler that falls
// no farther the vessel's pressure does not; a coil that warms does not cool.
func TestOnlyTrendsComeByThemselves(t *testing.T) {
	_, pg := paged(t, ran(t, described(t, "plant-pilot-leaks"), 30), 30)
	for _, q := range []explain.Quantity{explain.BodyPressure, explain.VesselPressure} {
		f := free(t, &pg, q)
		assert.Equal(t, explain.NoWait, f.By)
		assert.False(t, f.In.Known)
	}
	_, pg = paged(t, ran(t, described(t, "boiler-plant", "valve.coil.winding.around=200 degC"), 75), 75)
	assert.Equal(t, explain.NoWait, free(t, &pg, explain.WindingTemperature).By)

	for _, c := range []struct {
		now, rate, needed, in float64
		known                 bool
	}{{30, -0.1, 29, 10, true}, {30, 0.1, 29, 0, false}, {30, 0, 29, 0, false}, {30, -0.1, 12, 0, false}, {30, 0.2, 31, 5, true}} {
		in := explain.Arrives(c.now, c.rate, c.needed)
		assert.Equal(t, c.known, in.Known)
		assert.InDelta(t, c.in, in.Value, 1e-9)
	}
}

// A page of a valve that stands open says whom to tell first and comes to the
// block valve last; the check between them goes by the link that holds.
func TestNextStep(t *testing.T) {
	for name, c := range map[string]struct {
		scenario string
		sets     []string
		at       float64
		first    explain.Check
		check    explain.Check
	}{
		"pilot leaks":    {"gas-bench-plus", []string{"valve.pilot.leak-area=6 mm2"}, 5, explain.TellStandsOpen, explain.DumpLine},
		"welded":         {"boiler-plant", []string{"relay.circuit.contact=welded"}, 2, explain.TellStandsOpen, explain.PullFuse},
		"reads high":     {"boiler-plant", []string{"sensor.sensing-line.error=2.5 bar"}, 80, explain.TellStandsOpen, explain.GaugeOnGauge},
		"selector":       {"gas-bench-plus", []string{"relay.selector.position=open"}, 3, explain.TellStandsOpen, explain.LookSelector},
		"fuse out":       {"boiler-plant", []string{"relay.circuit.fuse.state=out"}, 75, explain.TellWontLift, explain.CoilVolts},
		"plunger bonded": {"gas-bench-plus", []string{"valve.plunger.bond-shut=500 N"}, 5, explain.TellWontLift, explain.DumpLine},
	} {
		t.Run(name, func(t *testing.T) {
			_, pg := paged(t, ran(t, described(t, c.scenario, c.sets...), c.at), c.at)
			require.NotEmpty(t, pg.Next)
			assert.Equal(t, c.first.String(), pg.Next[0].String())
			assert.Contains(t, pg.Next, explain.OthersRelieve)
			assert.Contains(t, pg.Next, c.check)
			last := pg.Next[len(pg.Next)-1]
			assert.Equal(t, c.first == explain.TellStandsOpen, last == explain.ThenBlock, "a valve that is to lift is not shut off")
		})
	}
}

// Fuses and contacts are for those who may work on live terminals.
func TestLiveTerminals(t *testing.T) {
	_, pg := paged(t, ran(t, described(t, "boiler-plant", "relay.circuit.fuse.state=out"), 75), 75)
	assert.Equal(t, explain.CircuitWork, free(t, &pg, explain.FusePosition).By)
	_, pg = paged(t, ran(t, described(t, "boiler-plant", "relay.circuit.contact=welded"), 2), 2)
	assert.Equal(t, explain.CircuitWork, free(t, &pg, explain.FusePosition).By)
}

// Lifts far apart, each on demand, make a page ask why there are so many, and
// leave the state alone.
func TestPageOfManyLifts(t *testing.T) {
	_, pg := paged(t, ran(t, described(t, "plant-running-near-set"), 150), 150)
	assert.Equal(t, explain.Cycles.String(), pg.Question.String())
	assert.Equal(t, explain.RunsNearSet.String(), pg.Facts.Why.Reason.String())
	assert.NotEqual(t, explain.Cycling, pg.Facts.State)
	assert.Equal(t, 6, pg.Cycle.Seen)
	assert.InDelta(t, 92, pg.Cycle.Span.Value, 3)
	assert.True(t, free(t, &pg, explain.VesselPressure).Remedy)

	// Three lifts with a deadband below 2 % of set are not yet a state.
	_, pg = paged(t, ran(t, described(t, "gas-bench", "switch.reset=11.9 bar abs"), 7.5), 7.5)
	assert.NotEqual(t, explain.Cycling, pg.Facts.State)
	assert.Equal(t, explain.Cycles.String(), pg.Question.String())
	assert.Equal(t, explain.DeadbandShort.String(), pg.Facts.Why.Reason.String())
}

// The outlet that is said to keep the disc on its seat stays below the one that
// pushed it off when the body was lowest.
func TestHeaderAgreesWithItself(t *testing.T) {
	r := ran(t, described(t, "plant-header-pressure"), 65)
	_, pg := paged(t, r, 59)
	c := &pg.Facts.Cycle
	require.True(t, c.FromOutlet())
	assert.LessOrEqual(t, free(t, &pg, explain.OutletPressure).Needed, 1.02*c.OutletAt.Value)
	assert.LessOrEqual(t, c.LowestBody.Value, c.BodyAt.Value)
}

// Links stand as they are asked where no number says otherwise.
func TestRowsOfLinks(t *testing.T) {
	_, pg := paged(t, ran(t, described(t, "plant-pilot-stuck-open"), 60), 60)
	assert.True(t, pg.Links[2].Stands, "a coil without current is dead as asked")
	assert.False(t, pg.Links[2].Threshold.Known, "no current would let the plunger go")
	_, pg = paged(t, ran(t, described(t, "plant-disc-stuck-shut"), 11), 11)
	assert.True(t, pg.Links[1].Asked, "the selector asks")
	assert.True(t, pg.Links[1].Stands)
	assert.True(t, pg.Links[4].Stands, "the chamber is empty")
	assert.False(t, pg.Links[5].Stands)
}

// A chamber that fills behind a tight pilot has no leak to show.
func TestNoRatioWithoutALeak(t *testing.T) {
	_, pg := paged(t, ran(t, described(t, "plant-bleed-plugged"), 15), 15)
	assert.False(t, pg.Ratio.Now.Known)
	_, pg = paged(t, ran(t, described(t, "gas-bench-plus", "valve.pilot.leak-area=6 mm2"), 5), 5)
	require.True(t, pg.Ratio.Now.Known)
	assert.Greater(t, pg.Ratio.Now.Value, pg.Ratio.Seats.Value)
}
