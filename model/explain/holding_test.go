package explain_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
)

// moment is what must be said of a run at a time.
type moment struct {
	at     float64 // s
	state  explain.State
	link   explain.Link
	reason explain.Reason
}

// A sound valve: the link that acts is named, in causal order.
func TestHealthyBench(t *testing.T) {
	r := ran(t, described(t, "gas-bench"), 6)
	for _, m := range []moment{
		{1.0, explain.Shut, explain.Switch, explain.BelowSet},
		{2.1, explain.Shut, explain.Switch, explain.SensorLags},
		{2.133, explain.Shut, explain.Relay, explain.PickUpDelay},
		{2.160, explain.Shut, explain.Coil, explain.CurrentRising},
		{2.184, explain.Emptying, explain.Pilot, explain.PilotMoving},
		{2.193, explain.Emptying, explain.Chamber, explain.ChamberEmptying},
		{2.205, explain.Opening, explain.Disc, explain.DiscMoving},
		{2.2115, explain.Opening, explain.Disc, explain.DiscMoving}, // rebounding from its stop
		{3.0, explain.Open, explain.Switch, explain.AboveReset},
		{3.5, explain.Open, explain.Switch, explain.SensorLags},
		{3.530, explain.Open, explain.Relay, explain.DropOutDelay},
		{3.570, explain.Open, explain.Coil, explain.CurrentDecaying},
		{3.609, explain.Open, explain.Pilot, explain.PilotMoving},
		{3.618, explain.Refilling, explain.Pilot, explain.PilotMoving},
		{3.700, explain.Refilling, explain.Chamber, explain.ChamberFilling},
		{3.775, explain.Closing, explain.Disc, explain.DiscMoving},
		{3.790, explain.Closing, explain.Disc, explain.DiscMoving}, // rebounding from its seat
		{5.0, explain.Shut, explain.Switch, explain.BelowSet},
	} {
		says(t, r, m)
		_, f := explained(t, r, m.at)
		assert.False(t, f.Why.Stays, "at %g s", m.at)
	}
}

// What holds a valve that does not do as it is asked, or hardly. Most rows
// differ from the bench in one parameter; the explanation knows nothing of
// which.
func TestWhatHolds(t *testing.T) {
	const bench, plus = "gas-bench", "gas-bench-plus"
	cases := []struct {
		name     string
		scenario string
		sets     []string
		cmds     []command
		moment
		following bool
		stays     bool
	}{
		// Off its seat, not asked.
		{"pilot leak 6 mm2", bench, []string{"valve.pilot.leak-area=6 mm2"}, nil,
			moment{5, explain.HungOpen, explain.Pilot, explain.PilotLeaks}, false, true},
		{"pilot leak 7 mm2", bench, []string{"valve.pilot.leak-area=7 mm2"}, nil,
			moment{5, explain.HungOpen, explain.Pilot, explain.PilotLeaks}, false, true},
		{"pilot leak 9 mm2, never asked", bench, []string{"valve.pilot.leak-area=9 mm2"}, nil,
			moment{1.5, explain.HungOpen, explain.Pilot, explain.PilotLeaks}, false, true},
		{"no bleed", bench, []string{"valve.bleed.area=0 mm2"}, nil,
			moment{5, explain.HungOpen, explain.Chamber, explain.NoInflow}, false, true},
		{"bleed 0.2 mm2", bench, []string{"valve.bleed.area=0.2 mm2"}, nil,
			moment{5, explain.HungOpen, explain.Chamber, explain.FillsTooSlowly}, false, false},
		{"bleed 0.2 mm2, nearly there", bench, []string{"valve.bleed.area=0.2 mm2"}, nil,
			moment{6.15, explain.HungOpen, explain.Chamber, explain.FillsTooSlowly}, false, false},
		{"bleed 0.2 mm2, shut at last", bench, []string{"valve.bleed.area=0.2 mm2"}, nil,
			moment{7, explain.Shut, explain.Switch, explain.BelowSet}, true, false},
		{"bleed 2 mm2 takes twice as long", bench, []string{"valve.bleed.area=2 mm2"}, nil,
			moment{3.8, explain.Refilling, explain.Chamber, explain.ChamberFilling}, false, false},
		{"bleed plugged, the guide leaks", plus, []string{"valve.bleed.area=0 mm2"}, nil,
			moment{4.5, explain.HungOpen, explain.Chamber, explain.FillsTooSlowly}, false, false},
		{"plunger bonded open", bench, []string{"valve.plunger.bond-open=200 N"}, nil,
			moment{5, explain.HungOpen, explain.Pilot, explain.PilotBonded}, false, true},
		{"plunger bonded open, current still high", bench, []string{"valve.plunger.bond-open=200 N"}, nil,
			moment{3.57, explain.Open, explain.Coil, explain.CurrentDecaying}, false, false},
		{"plunger bonded open less than its spring", bench, []string{"valve.plunger.bond-open=20 N"}, nil,
			moment{3.62, explain.Open, explain.Pilot, explain.PilotBonded}, false, false},
		{"disc 1300 N, sticking", plus, []string{"valve.disc.stick-friction=1300 N", "valve.disc.friction=1300 N"}, nil,
			moment{6, explain.HungOpen, explain.Disc, explain.DiscStuck}, false, true},
		{"disc 1300 N, chamber hardly filled", plus, []string{"valve.disc.stick-friction=1300 N", "valve.disc.friction=1300 N"}, nil,
			moment{3.7, explain.HungOpen, explain.Disc, explain.DiscStuck}, false, true},
		{"pilot leak 7 mm2, pilot closing", bench, []string{"valve.pilot.leak-area=7 mm2"}, nil,
			moment{3.6, explain.Open, explain.Pilot, explain.PilotMoving}, false, false},
		{"disc 1300 N and a small pilot leak", plus, []string{"valve.disc.stick-friction=1300 N", "valve.disc.friction=1300 N", "valve.pilot.leak-area=1 mm2"}, nil,
			moment{6, explain.HungOpen, explain.Disc, explain.DiscStuck}, false, true},

		{"outlet above the body", bench, []string{"valve.spring.preload=100 N", "valve.spring.rate=1 N/mm", "switch.set=20 bar abs", "inflow.mass-flow=0 kg/s"},
			[]command{{1, "surroundings.pressure", "13.2 bar abs"}},
			moment{1.53, explain.HungOpen, explain.Disc, explain.OutletHolds}, false, true},
		{"outlet hardly above the body, disc in balance", bench, []string{"valve.spring.preload=100 N", "valve.spring.rate=1 N/mm", "switch.set=20 bar abs", "inflow.mass-flow=0 kg/s"},
			[]command{{1, "surroundings.pressure", "13.2 bar abs"}},
			moment{1.6, explain.HungOpen, explain.Disc, explain.DiscFloats}, false, true},

		// On its seat, asked open.
		{"coil open", bench, []string{"valve.coil.resistance=1e6 ohm"}, nil,
			moment{5, explain.Shut, explain.Coil, explain.CurrentTooLow}, false, true},
		{"supply 40 V", bench, []string{"relay.supply=40 V"}, nil,
			moment{5, explain.Shut, explain.Coil, explain.CurrentTooLow}, false, true},
		{"plunger bonded shut", bench, []string{"valve.plunger.bond-shut=500 N"}, nil,
			moment{5, explain.Shut, explain.Pilot, explain.PilotBonded}, false, true},
		{"plunger bonded shut, current still rising", bench, []string{"valve.plunger.bond-shut=500 N"}, nil,
			moment{2.16, explain.Shut, explain.Coil, explain.CurrentRising}, false, false},
		{"selector off", plus, []string{"relay.selector.position=off"}, nil,
			moment{5, explain.Shut, explain.Relay, explain.SelectorOff}, true, true},
		{"bleed 60 mm2", bench, []string{"valve.bleed.area=60 mm2"}, nil,
			moment{5, explain.Shut, explain.Chamber, explain.BleedOutruns}, false, true},
		{"bleed 60 mm2, pilot just open", bench, []string{"valve.bleed.area=60 mm2"}, nil,
			moment{2.19, explain.Emptying, explain.Chamber, explain.BleedOutruns}, false, true},
		{"bleed 60 mm2 beside a sound dump line", plus, []string{"valve.bleed.area=60 mm2"}, nil,
			moment{5, explain.Shut, explain.Chamber, explain.BleedOutruns}, false, true},
		{"dump line 4 mm2", plus, []string{"valve.dump-line.area=4 mm2"}, nil,
			moment{5, explain.Shut, explain.Chamber, explain.DumpBacksUp}, false, true},
		{"dump line 8 mm2, just enough", plus, []string{"valve.dump-line.area=8 mm2"}, nil,
			moment{2.3, explain.Emptying, explain.Chamber, explain.ChamberEmptying}, false, false},
		{"disc 4000 N", bench, []string{"valve.disc.stick-friction=4000 N", "valve.disc.friction=4000 N"}, nil,
			moment{5, explain.Shut, explain.Disc, explain.DiscStuck}, false, true},
		{"disc 4000 N, chamber still falling", bench, []string{"valve.disc.stick-friction=4000 N", "valve.disc.friction=4000 N"}, nil,
			moment{2.192, explain.Emptying, explain.Chamber, explain.ChamberEmptying}, false, false},

		// On its seat, not asked.
		{"switch drifted up", bench, []string{"switch.drift=0.5 bar"}, nil,
			moment{3, explain.Shut, explain.Switch, explain.BelowSet}, true, false},
		{"nothing flows in", bench, []string{"inflow.mass-flow=0 kg/s"}, nil,
			moment{5, explain.Shut, explain.Switch, explain.BelowSet}, true, true},
		{"sensor lags 2 s", bench, []string{"sensor.lag=2 s"}, nil,
			moment{3, explain.Shut, explain.Switch, explain.SensorLags}, true, false},
		{"pilot leak 6 mm2 at rest", bench, []string{"valve.pilot.leak-area=6 mm2"}, nil,
			moment{1, explain.Leaking, explain.Pilot, explain.PilotLeaks}, true, true},
		{"pilot leak 9 mm2, about to lift", bench, []string{"valve.pilot.leak-area=9 mm2"}, nil,
			moment{0.3, explain.Leaking, explain.Pilot, explain.PilotLeaks}, true, false},
		{"seat leak 10 mm2", bench, []string{"valve.seat.leak-area=10 mm2"}, nil,
			moment{1, explain.Leaking, explain.Disc, explain.SeatLeaks}, true, true},
		{"seat leak too small for a word", bench, []string{"valve.seat.leak-area=0.01 mm2"}, nil,
			moment{1, explain.Shut, explain.Switch, explain.BelowSet}, true, false},
		{"seat leak 10 mm2, pilot leak 1 mm2", bench, []string{"valve.seat.leak-area=10 mm2", "valve.pilot.leak-area=1 mm2"}, nil,
			moment{1, explain.Leaking, explain.Disc, explain.SeatLeaks}, true, true},

		// Off its seat, asked open.
		{"selector open", plus, []string{"relay.selector.position=open"}, nil,
			moment{1, explain.Open, explain.Relay, explain.SelectorOpen}, true, true},
		{"selector put to off", plus, []string{"relay.selector.position=open"}, []command{{1, "relay.selector.position", "off"}},
			moment{1.05, explain.Open, explain.Coil, explain.CurrentDecaying}, false, false},
		{"line 1000 mm2 only starves it", bench, []string{"line.area=1000 mm2"}, nil,
			moment{4, explain.Open, explain.Switch, explain.AboveReset}, true, false},
		{"back pressure 10 bar keeps it from its stop", bench, []string{"surroundings.pressure=10 bar abs"}, nil,
			moment{8, explain.Open, explain.Disc, explain.TooLittleDifference}, true, true},
		{"stuck half way, chamber still falling", plus, []string{"valve.dump-line.area=8 mm2"}, nil,
			moment{3.45, explain.Open, explain.Chamber, explain.ChamberEmptying}, true, false},
		{"stuck half way for good", plus, []string{"valve.dump-line.area=8 mm2"}, []command{{3.45, "valve.disc.stick-friction", "2000 N"}},
			moment{3.46, explain.Open, explain.Disc, explain.DiscStuck}, true, true},
		{"supply lost while open", bench, nil, []command{{2.6, "relay.supply", "0 V"}},
			moment{2.65, explain.Open, explain.Coil, explain.CurrentLost}, true, false},
		{"supply lost while open, shutting", bench, nil, []command{{2.6, "relay.supply", "0 V"}},
			moment{2.78, explain.Refilling, explain.Coil, explain.CurrentTooLow}, true, true},
		{"bleed torn open while open", bench, nil, []command{{3, "valve.bleed.area", "90 mm2"}},
			moment{3.003, explain.Open, explain.Chamber, explain.BleedOutruns}, true, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := ran(t, described(t, c.scenario, c.sets...), c.at+0.5, c.cmds...)
			says(t, r, c.moment)
			_, f := explained(t, r, c.at)
			assert.Equal(t, c.following, f.Following, "following")
			assert.Equal(t, c.stays, f.Why.Stays, "stays")
		})
	}
}

// A body that is filled faster than its chamber lifts the disc with nobody
// asking; the chamber follows and shuts it.
func TestBodyFilledTooFast(t *testing.T) {
	r := ran(t, described(t, "gas-bench-plus"), 11,
		command{0.1, "line.block-valve.opening", "0"},
		command{0.2, "relay.selector.position", "open"}, // empties body and chamber
		command{5, "relay.selector.position", "off"},
		command{10, "line.block-valve.opening", "1"})
	says(t, r, moment{4.9, explain.Shut, explain.Disc, explain.BodyIsolated})
	says(t, r, moment{9.9, explain.Shut, explain.Relay, explain.SelectorOff})
	says(t, r, moment{10.005, explain.Opening, explain.Chamber, explain.ChamberFilling})
	says(t, r, moment{10.05, explain.Refilling, explain.Chamber, explain.ChamberFilling})
	says(t, r, moment{11, explain.Shut, explain.Relay, explain.SelectorOff})
}

// says holds the explanation at a moment against what is wanted, and its
// numbers against the snapshot.
func says(t *testing.T, r *live.Run, m moment) {
	t.Helper()
	v, f := explained(t, r, m.at)
	assert.Equal(t, m.state.String(), f.State.String(), "state at %g s", m.at)
	assert.Equal(t, m.link.String(), f.Link().String(), "link at %g s", m.at)
	assert.Equal(t, m.reason.String(), f.Why.Reason.String(), "reason at %g s", m.at)
	agrees(t, v, &f)
}

// agrees computes facts again, from the snapshot's forces and flows.
func agrees(t *testing.T, v *plant.ValveState, f *explain.Facts) {
	t.Helper()
	d := &v.Disc
	net := d.Rim + d.Face + d.Weight - d.Chamber - d.Spring // down, opening
	bond := map[plant.Hold]float64{plant.HeldShut: d.BondShut, plant.HeldOpen: d.BondOpen}[d.Hold]
	force := map[explain.Toward]float64{ // still lacking before it goes
		explain.ToLift: d.Stick + bond - net, explain.ToOpen: d.Stick - net, explain.InOpening: d.Stick - net,
		explain.ToShut: d.Stick + bond + net, explain.InClosing: d.Stick + net,
	}[f.Margin.Toward]
	assert.InDelta(t, force, f.Margin.Force, 1e-6, "margin, N")
	assert.InDelta(t, force/d.GuideArea, f.Margin.Pressure, 1e-3, "margin, Pa")
	assert.InDelta(t, v.Below, f.Chamber.Pressure, 0)
	assert.InDelta(t, v.Bleed+v.Guide, f.Chamber.In, 0)
	assert.InDelta(t, v.PilotFlow+v.Cover, f.Chamber.Out, 0)

	// The currents are those of the snapshot where there is a bond, and less
	// by the bond where it is left out.
	assert.InDelta(t, v.Coil.PullIn, f.Coil.PullIn, 1e-12)
	assert.InDelta(t, v.Coil.DropOut, f.Coil.DropOut, 1e-12)
	assert.LessOrEqual(t, f.Coil.PullInUnbonded, f.Coil.PullIn)
	assert.GreaterOrEqual(t, f.Coil.DropOutUnbonded, f.Coil.DropOut)
	switch v.Pilot.Hold {
	case plant.HeldShut:
		assert.InDelta(t, v.Pilot.BondShut+v.Pilot.Spring+v.Pilot.Load-v.Pilot.Pull, f.Pilot.Lacking, 1e-9)
	case plant.HeldOpen:
		assert.InDelta(t, v.Pilot.BondOpen-v.Pilot.Spring+v.Pilot.Pull, f.Pilot.Lacking, 1e-9)
	}

	// The switch stands on the side of its trip points where it belongs.
	if f.Switch.Made {
		assert.InDelta(t, f.Switch.Reading-v.Control.Reset, f.Switch.Distance, 0)
	} else {
		assert.InDelta(t, v.Control.Set-f.Switch.Reading, f.Switch.Distance, 0)
	}
	assert.GreaterOrEqual(t, f.Switch.Distance, 0.0)

	// Where the chamber is heading lies between outlet and body.
	lo, hi := math.Min(v.Outlet, v.Above), math.Max(v.Outlet, v.Above)
	for _, s := range []explain.Opt{f.Chamber.Steady, f.Chamber.SteadyShut, f.Chamber.SteadyTight, f.Chamber.SteadyOpen} {
		if s.Known {
			assert.GreaterOrEqual(t, s.Value, lo)
			assert.LessOrEqual(t, s.Value, hi)
		}
	}
	if f.Chamber.SteadyTight.Known && v.Above >= v.Outlet {
		assert.GreaterOrEqual(t, f.Chamber.SteadyShut.Value, f.Chamber.SteadyOpen.Value)
		assert.GreaterOrEqual(t, f.Chamber.SteadyTight.Value, f.Chamber.SteadyShut.Value)
	}
	if f.Why.In.Known {
		assert.GreaterOrEqual(t, f.Why.In.Value, 0.0)
	}
	assert.Equal(t, f.State == explain.HungOpen && f.Reseat.Above.Known, f.Reseat.Vessel.Known)
}

// Numbers worth stating by themselves.
func TestCoilNumbers(t *testing.T) {
	r := ran(t, described(t, "gas-bench", "relay.supply=40 V"), 5)
	v, f := explained(t, r, 4)
	assert.InDelta(t, 0.8, f.Coil.Steady, 1e-12, "40 V over 50 ohm")
	// With the gap of 3 mm against g0 of 3 mm the pull is a quarter of Kf i^2.
	pull := 160 * f.Coil.PullIn * f.Coil.PullIn / 4
	assert.InDelta(t, 20+80e-6*(v.Below-v.Outlet), pull, 1e-9)
	assert.InDelta(t, 50*f.Coil.PullIn, f.Coil.Needs, 1e-9)
	assert.False(t, f.Coil.UntilPullIn.Known)
}

// Times that are foretold come true: of the coil exactly, of the relay exactly,
// of the switch as far as the pressure goes on rising as it does.
func TestForetoldTimes(t *testing.T) {
	r := ran(t, described(t, "gas-bench"), 4)
	when := map[string]float64{}
	for _, e := range r.Sim.Events() {
		if _, ok := when[e.Name]; !ok {
			when[e.Name] = e.T
		}
	}
	for _, c := range []struct {
		at     float64
		event  string
		within float64 // of the time that is left
	}{
		{1, "switch-made", 2e-3},
		{2.133, "coil-on", 1e-9},
		{2.145, "pilot-lift", 1e-3}, // pull-in rises with the chamber's pressure
		{2.190, "disc-lift", 0.12},  // the chamber cools as it empties
		{3, "switch-reset", 0.05},   // the fall slows down
		{3.530, "coil-off", 1e-9},
		{3.55, "pilot-drop", 1e-5},
		{3.65, "disc-leaves-stop", 0.01}, // the body's pressure falls
	} {
		_, f := explained(t, r, c.at)
		require.True(t, f.Why.In.Known, c.event)
		left := when[c.event] - c.at
		assert.InDelta(t, left, f.Why.In.Value, c.within*left, "%s from %g s", c.event, c.at)
	}
}

// A plunger that has hardly left its end says nothing of when it arrives; half
// way, its speed does.
func TestPlungerArrives(t *testing.T) {
	r := ran(t, described(t, "gas-bench"), 3)
	_, f := explained(t, r, 2.1812)
	assert.Equal(t, explain.PilotMoving, f.Why.Reason)
	assert.False(t, f.Pilot.In.Known)
	_, f = explained(t, r, 2.1866)
	const contact = 2.186947
	assert.InEpsilon(t, contact-2.1866, f.Pilot.In.Value, 0.3)
}

// A disc that swings while body and chamber push it to and fro moves the way
// it moves, unless the forces are beyond its friction: then theirs.
func TestSwingingDisc(t *testing.T) {
	r := ran(t, described(t, "gas-bench", "line.area=1000 mm2"), 6)
	slow := 0
	for at := 5.8235; at < 5.939; at += 0.5e-3 {
		v, f := explained(t, r, at)
		opening := v.Disc.Net > 0
		if math.Abs(v.Disc.Net) < v.Disc.Stick {
			opening = v.Disc.Speed > 0
			if opening != (v.Disc.Net > 0) {
				slow++
			}
		}
		want := explain.Closing
		if opening {
			want = explain.Opening
		}
		if v.Disc.Hold == plant.Moving && !f.Disc.Floats {
			assert.Equal(t, want, f.State, "at %g s", at)
		}
	}
	assert.Greater(t, slow, 5, "moments at which speed and force differ")
}
