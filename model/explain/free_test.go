package explain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/scenarios/live"
)

// paged is the page of a moment.
func paged(t *testing.T, r *live.Run, at float64) (*plant.ValveState, explain.Page) {
	t.Helper()
	s, m, err := r.At(at)
	require.NoError(t, err)
	return &s.Valves[0], explain.PageOf(m, s, 0, explain.PastOf(m, r.Sim.Events(), at, 0))
}

// free finds a change on a page.
func free(t *testing.T, pg *explain.Page, q explain.Quantity) explain.Free {
	t.Helper()
	for _, f := range pg.Frees {
		if f.Quantity == q {
			return f
		}
	}
	require.Fail(t, "no such change", "%s among %v", q, pg.Frees)
	return explain.Free{}
}

// freed is what is made of one change: the plant as it is at the moment, with
// the needed value a little beyond, or short of, what is said to free it.
type freed struct {
	scenario string
	sets     []string
	at       float64
	question explain.Question
	quantity explain.Quantity
	share    float64 // how far beyond and short, as a share
	// lets tells whether the link lets go: by default from a look at once; with
	// after, from what has happened by then, s later.
	after float64
}

// Each change that is said to free a valve does, when it is a hair more, and
// does not when it is a hair less. The chamber's are looked at at once: does its
// steady pressure pass the threshold? The others are waited for.
func TestFrees(t *testing.T) {
	const plus, boiler = "gas-bench-plus", "boiler-plant"
	for name, c := range map[string]freed{
		"pilot leak":          {plus, []string{"valve.pilot.leak-area=6 mm2"}, 5, explain.WontReseat, explain.PilotLeakArea, 1e-3, 0},
		"bleed against it":    {plus, []string{"valve.pilot.leak-area=6 mm2"}, 5, explain.WontReseat, explain.BleedArea, 1e-3, 0},
		"pilot leak, no line": {"gas-bench", []string{"valve.pilot.leak-area=7 mm2"}, 5, explain.WontReseat, explain.PilotLeakArea, 1e-3, 0},
		"pilot leak, steam":   {"steam-bench", []string{"valve.pilot.leak-area=3 mm2"}, 30, explain.WontReseat, explain.PilotLeakArea, 1e-3, 0},
		"cover leak":          {boiler, []string{"valve.chamber.cover.leak-area=4 mm2"}, 80, explain.WontReseat, explain.CoverLeakArea, 1e-3, 0},
		"plunger bond open":   {plus, []string{"valve.plunger.bond-open=200 N"}, 5, explain.WontReseat, explain.PlungerBond, 1e-3, 0.2},
		"disc friction":       {plus, []string{"valve.disc.stick-friction=1300 N", "valve.disc.friction=20 N"}, 6, explain.WontReseat, explain.DiscFriction, 0.02, 0.02},
		"disc bond open":      {boiler, []string{"valve.disc.bond.open=20 kN"}, 80, explain.WontReseat, explain.DiscBond, 0.02, 0.05},
		"lifts by a leak":     {plus, []string{"valve.pilot.leak-area=5 mm2"}, 1, explain.Rests, explain.PilotLeakArea, 1e-3, 0},

		"supply":            {plus, []string{"relay.supply=40 V"}, 5, explain.WontLift, explain.SupplyVoltage, 0.01, 0.5},
		"resistance":        {plus, []string{"valve.coil.resistance=200 ohm"}, 5, explain.WontLift, explain.CoilResistance, 0.01, 0.8},
		"plunger bond shut": {plus, []string{"valve.plunger.bond-shut=500 N"}, 5, explain.WontLift, explain.PlungerBond, 0.01, 0.2},
		"bleed out-runs":    {plus, []string{"valve.bleed.area=60 mm2"}, 5, explain.WontLift, explain.BleedArea, 1e-3, 0},
		"dump line":         {plus, []string{"valve.dump-line.area=4 mm2"}, 5, explain.WontLift, explain.DumpArea, 1e-3, 0},
		"stroke":            {boiler, []string{"valve.plunger.adjustment.lost-stroke=2 mm"}, 75, explain.WontLift, explain.LostStroke, 1e-3, 0},
		"disc stuck shut":   {plus, []string{"valve.disc.stick-friction=4000 N"}, 5, explain.WontLift, explain.DiscFriction, 0.02, 0.05},
		"disc bond shut":    {boiler, []string{"valve.disc.bond.shut=20 kN"}, 75, explain.WontLift, explain.DiscBond, 0.02, 0.1},
		"set":               {plus, []string{"switch.drift=0.5 bar"}, 3, explain.Rests, explain.SwitchDrift, 0.2, 0.01},
		"spring too strong": {plus, []string{"valve.spring.preload=1500 N", "surroundings.pressure=8 bar abs"}, 5, explain.WontLift, explain.SpringPreload, 0.02, 0.3},
	} {
		t.Run(name, func(t *testing.T) {
			_, pg := paged(t, ran(t, described(t, c.scenario, c.sets...), c.at), c.at)
			require.Equal(t, c.question.String(), pg.Question.String(), "%s", pg.Facts.Why.Reason)
			f := free(t, &pg, c.quantity)
			beyond, short := f.Needed*(1+c.share), f.Needed*(1-c.share)
			if f.Below {
				beyond, short = short, beyond
			}
			assert.True(t, c.lets(t, f, pg.OnSeat(), beyond), "beyond %g", f.Needed)
			assert.False(t, c.lets(t, f, pg.OnSeat(), short), "short of %g", f.Needed)
		})
	}
}

// lets tells whether the valve goes with the value.
func (c *freed) lets(t *testing.T, f explain.Free, onSeat bool, value float64) bool {
	const just = 1e-7 // s: all else has hardly moved
	r := ran(t, described(t, c.scenario, c.sets...), c.at+just+c.after,
		command{c.at, f.Path, unit.Exact(value, f.Quantity.Dim())})
	if c.after == 0 {
		_, g := explained(t, r, c.at+just)
		return g.Chamber.Crosses
	}
	for _, e := range r.Sim.Events() {
		if e.T < c.at {
			continue
		}
		switch e.Name {
		case "disc-lift", "pilot-lift", "switch-made":
			if onSeat && (e.Name == "disc-lift") == (f.Link == explain.Disc) && (e.Name == "switch-made") == (f.Link == explain.Switch) {
				return true
			}
		case "disc-leaves-stop", "pilot-drop":
			if !onSeat && (e.Name == "pilot-drop") == (f.Link == explain.Pilot) {
				return true
			}
		}
	}
	return false
}

// The time to the seat comes true: the chamber's part and the way back.
func TestTimeToSeat(t *testing.T) {
	for _, c := range []struct {
		scenario string
		at       float64
		within   float64 // of the time
		stroke   float64 // of the way back alone
	}{
		{"gas-bench", 3.65, 0.05, 0.1},
		{"gas-bench-plus", 3.67, 0.05, 0.1},
		{"steam-bench", 0, 0.1, 0.25},
	} {
		r := ran(t, described(t, c.scenario), 30)
		var shut, leaves, seated float64
		for _, e := range r.Sim.Events() {
			switch {
			case e.Name == "pilot-shut" && leaves == 0:
				shut = e.T
			case e.Name == "disc-leaves-stop" && leaves == 0:
				leaves = e.T
			case e.Name == "disc-bounce" && leaves > 0 && seated == 0, e.Name == "disc-seated" && seated == 0:
				seated = e.T // the first touch
			}
		}
		at := c.at
		if at == 0 {
			at = shut + 0.2*(leaves-shut)
		}
		_, pg := paged(t, r, at)
		require.True(t, pg.Seat.Total.Known, c.scenario)
		t.Logf("%s: chamber %.4f s and %.4f s foretold, stroke %.4f s and %.4f s", c.scenario, leaves-at, pg.Seat.Chamber.Value, seated-leaves, pg.Seat.Stroke.Value)
		assert.InEpsilon(t, leaves-at, pg.Seat.Chamber.Value, c.within, "%s, chamber", c.scenario)
		assert.InEpsilon(t, seated-leaves, pg.Seat.Stroke.Value, c.stroke, "%s, stroke", c.scenario)
		assert.InEpsilon(t, seated-at, pg.Seat.Total.Value, c.within, "%s, both", c.scenario)
	}
}

// On choked flows of a perfect gas through nozzles of one coefficient the
// largest ratio of leak to bleed is psi(B)/(psi* B), B = pB/pA at the threshold:
// the balance B psi* = (bleed/leak) psi(B) of a steady chamber, here for k = 1.4.
func TestLargestRatio(t *testing.T) {
	st, pg := paged(t, ran(t, described(t, "gas-bench", "valve.pilot.leak-area=6 mm2"), 5), 5)
	b := pg.Leaves / st.Above
	psi := func(b float64) float64 { return flowFunction(1.4, b) }
	choked := psi(0.528282)
	require.True(t, pg.Ratio.Seats.Known)
	assert.InEpsilon(t, psi(b)/(choked*b), pg.Ratio.Seats.Value, 1e-4)
	// What the ratio says and what the page says of the leak agree.
	leak := free(t, &pg, explain.PilotLeakArea)
	assert.InEpsilon(t, pg.Ratio.Seats.Value*pg.Ratio.Bleed.Value/0.8, leak.Needed, 1e-9)
	assert.Greater(t, pg.Ratio.Now.Value, pg.Ratio.Seats.Value, "it hangs")
}

// A deadband that is a little wider than the page asks for ends the cycling, a
// narrower one does not.
func TestDeadbandEndsCycling(t *testing.T) {
	at := 20.0
	_, pg := paged(t, ran(t, described(t, "gas-bench-plus", "switch.reset=11.9 bar abs"), at), at)
	require.Equal(t, explain.Cycles, pg.Question)
	n := &pg.Cycle
	require.True(t, n.NeededDeadband.Known)
	assert.InDelta(t, 0.1*bar, n.Deadband, 1)
	assert.Greater(t, n.ShortestBlowdown.Value, n.Deadband)
	f := free(t, &pg, explain.ResetPressure)
	for _, c := range []struct {
		share  float64
		cycles bool
	}{{0.8, true}, {1.2, false}} {
		reset := 12*bar - c.share*(12*bar-f.Needed)
		_, g := explained(t, ran(t, described(t, "gas-bench-plus", "switch.reset="+unit.Exact(reset, unit.Pressure)), at), at)
		assert.Equal(t, c.cycles, g.State == explain.Cycling, "%g of the deadband", c.share)
	}
}

// A line that starves the place that is sensed makes the valve cycle, whatever
// the deadband.
func TestStarvedSensorCycles(t *testing.T) {
	_, pg := paged(t, ran(t, described(t, "gas-bench-plus", "sensor.on=valve", "line.block-valve.opening=0.1"), 20), 20)
	assert.Equal(t, explain.Cycles, pg.Question)
	assert.Equal(t, explain.InletDrops.String(), pg.Facts.Why.Reason.String())
	assert.Greater(t, pg.Facts.Cycle.InletDrop.Value, 0.35*bar)
	assert.Equal(t, explain.Operators, free(t, &pg, explain.LineArea).By)
}

// Every word of the page's closed lists is there once.
func TestPageWords(t *testing.T) {
	seen := map[string]bool{}
	for q := explain.NoQuantity; int(q) < explain.Quantities; q++ {
		assert.False(t, seen[q.String()], q.String())
		seen[q.String()] = true
	}
	assert.Equal(t, "wait", explain.Wait.String())
	assert.Equal(t, "unknown", (explain.Wait + 1).String())
	assert.Equal(t, "isolated-work", explain.IsolatedWork.String())
	assert.Equal(t, "cycles", explain.Cycles.String())
}

// A header that lifts the disc does so at the pressure that the page gives.
func TestHeaderLiftsTheDisc(t *testing.T) {
	sc := described(t, "plant-header-pressure")
	r := ran(t, sc, 65)
	_, pg := paged(t, r, 65)
	require.Equal(t, explain.Cycles, pg.Question)
	assert.Equal(t, explain.Chatters, pg.Facts.Why.Reason)
	lifts := 0
	for i := range r.Sim.Events() {
		e := &r.Sim.Events()[i]
		if e.Name != "disc-lift" || e.T < 55 {
			continue
		}
		lifts++
		before, _ := r.AtEvent(e)
		m := r.Model(e.Interval)
		at := explain.PageOf(m, before, 0, explain.PastOf(m, r.Sim.Events(), 65, 0))
		// The chamber is not quite at the body's pressure, which the page takes it
		// to be.
		assert.InEpsilon(t, free(t, &at, explain.OutletPressure).Needed, before.Valves[0].Outlet, 0.05, "at %g s", e.T)
	}
	assert.Greater(t, lifts, 3)
}
