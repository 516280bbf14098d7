package plant

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/network"
	"underdisc/sim"
)

// This file holds coil, relay, sensor and switch against closed forms: in a
// network of their own, then in the valve of the bench.

// A circuit of 20 ohm and 0.2 H on 24 V: L/R is 10 ms, the current ends at
// 1.2 A. All of it is invented.
const (
	ohms, henries, volts = 20.0, 0.2, 24.0
	lag                  = henries / ohms
	fullCurrent          = volts / ohms
	relayPickUp          = 0.03
	relayDropOut         = 0.02
)

// solenoid is a relay, its coil and a plunger that leaves its seat at the share
// pick of the full current and its stop at the share drop. The pull on the seat
// is Kf i^2/(1 + travel/gap)^2, at the stop Kf i^2, which sets the spring.
func solenoid(t *testing.T, demand network.Demand, pick, drop float64) *network.Network {
	const kf, travel, gap = 160.0, 3e-3, 0.5e-3
	open := 1 + travel/gap
	onSeat := kf * math.Pow(pick*fullCurrent/open, 2)
	atStop := kf * math.Pow(drop*fullCurrent, 2)
	require.Greater(t, atStop, onSeat, "a spring pushes harder when it is compressed")
	n := &network.Network{
		Reservoirs: []network.Reservoir{nothing()},
		Sensors:    []network.Sensor{{Name: "sensor", Node: 0, Lag: 1}},
		Switches:   []network.Switch{{Name: "switch", Set: 1e9, Reset: 1}},
		Movers: []network.Mover{{Name: "plunger", Mass: 0.1, Travel: travel, Preload: onSeat, Rate: (atStop - onSeat) / travel, Damping: 5,
			Restitution: 0.1, HoldSpeed: 0.01, Events: network.MoverEvents{Leave: "pilot-lift", Bounce: "pilot-bounce", High: "pilot-open", Drop: "pilot-drop", Low: "pilot-shut"}}},
		Coils:  []network.Coil{{Name: "coil", Inductance: henries, Resistance: ohms, PullFactor: kf, Gap: gap, Supply: volts}},
		Relays: []network.Relay{{Name: "relay", PickUp: relayPickUp, DropOut: relayDropOut, Demand: demand}},
	}
	require.NoError(t, n.Compile())
	return n
}

// nothing is a reservoir for a sensor that is not asked.
func nothing() network.Reservoir { return reservoir(1e5) }

func reservoir(p float64) network.Reservoir {
	gas := gasOf(1.4)
	return network.Reservoir{Name: "reservoir", Fluid: &gas, V: gas.Volume(p, 300), U: gas.Energy(300)}
}

// change puts another network in place of the running one.
func change(at float64, to *network.Network) sim.Command {
	return sim.Command{T: at, Name: "change", Do: func(*sim.State, sim.System) (sim.System, error) { return to, nil }}
}

// TestCoil: current on and off, and the moments at which the plunger leaves
// seat and stop:
//
//	on   i = V/R (1 - exp(-t R/L)), pick-up after L/R ln(1/(1 - ip/I))
//	off  i = I exp(-t R/L), drop-out after L/R ln(I/id)
//
// (any text on circuits; the second is a coil with a diode across it). L/R
// 10 ms, pick 60 %, drop 15 % of I: 9.163 ms and 18.971 ms (computed from
// invented inputs), printed to a microsecond.
func TestCoil(t *testing.T) {
	const pick, drop, off = 0.60, 0.15, 0.5
	g := launch(t, solenoid(t, network.HoldOn, pick, drop), change(off, solenoid(t, network.HoldOff, pick, drop)))
	g.to(1)

	on, gone := g.event("coil-on"), g.event("coil-off")
	assert.Equal(t, relayPickUp, on, "to the last bit")
	assert.Equal(t, off+relayDropOut, gone, "to the last bit")

	for _, share := range []float64{0.1, 0.5, 1, 2, 5} {
		want := fullCurrent * (1 - math.Exp(-share))
		assert.InEpsilon(t, want, g.at(on + share*lag).Coils[0].Current, 1e-8)
		want = fullCurrent * math.Exp(-share)
		assert.InDelta(t, want, g.at(gone + share*lag).Coils[0].Current, 1e-8*fullCurrent)
	}

	lift, fall := g.event("pilot-lift")-on, g.event("pilot-drop")-gone
	wantLift, wantFall := lag*math.Log(1/(1-pick)), lag*math.Log(1/drop)
	t.Logf("pick-up %.6f ms (%+.1e), drop-out %.6f ms (%+.1e)", lift*1e3, lift/wantLift-1, fall*1e3, fall/wantFall-1)
	assert.InDelta(t, 9.163e-3, lift, 0.5e-6)
	assert.InDelta(t, 18.971e-3, fall, 0.5e-6)
	assert.InEpsilon(t, wantLift, lift, 1e-8)
	assert.InEpsilon(t, wantFall, fall, 1e-8)
	assert.Greater(t, fall, g.event("pilot-open")-off-relayDropOut, "it was open when the coil went off")
	assert.Equal(t, network.HeldLow, g.at(1).Movers[0].Mode, "shut in the end")
}

// TestSensorAndSwitch: a sensor answers a step by 1 - exp(-t/tau), and a switch
// on it makes when that reaches its set point, at tau ln(d/(d - (set - p0))).
func TestSensorAndSwitch(t *testing.T) {
	const tau, low, high, set, reset, delay = 0.05, 11e5, 13e5, 12.0e5, 11.3e5, 0.010
	plant := func(p float64) *network.Network {
		n := &network.Network{
			Reservoirs: []network.Reservoir{reservoir(p)},
			Sensors:    []network.Sensor{{Name: "sensor", Lag: tau}},
			Switches:   []network.Switch{{Name: "switch", Set: set, Reset: reset}},
			Movers:     []network.Mover{{Name: "plunger", Mass: 1, Travel: 1, Preload: 1, HoldSpeed: 1}},
			Coils:      []network.Coil{{Name: "coil", Inductance: 1, Resistance: 1, Supply: 1}},
			Relays:     []network.Relay{{Name: "relay", PickUp: delay, DropOut: 2 * delay}},
		}
		require.NoError(t, n.Compile())
		return n
	}
	const up, down = 0.1, 1.0
	g := launch(t, plant(low), change(up, plant(high)), change(down, plant(low)))
	g.to(2)
	assert.Equal(t, low, g.at(up / 2).Sensors[0], "steady before the step")
	for _, share := range []float64{0.1, 0.5, 1, 2, 5} {
		want := low + (high-low)*(1-math.Exp(-share))
		assert.InDelta(t, want, g.at(up + share*tau).Sensors[0], 1e-8*(high-low))
	}
	made := up + tau*math.Log((high-low)/(high-set))
	opened := down + tau*math.Log((high-low)/(reset-low))
	t.Logf("made %.9f s (%+.1e), reset %.9f s (%+.1e)", g.event("switch-made"), g.event("switch-made")-made, g.event("switch-reset"), g.event("switch-reset")-opened)
	assert.InDelta(t, made, g.event("switch-made"), 1e-9)
	assert.InDelta(t, opened, g.event("switch-reset"), 1e-9)
	// The relay's delays are the same numbers added, to the last bit.
	assert.Equal(t, g.event("switch-made")+delay, g.event("coil-on"))
	assert.Equal(t, g.event("switch-reset")+2*delay, g.event("coil-off"))

	// A demand that ends before the relay has picked up is forgotten.
	soon := made + delay/2
	short := launch(t, plant(low), change(up, plant(high)), change(soon, plant(1e5)))
	short.to(2)
	reset2 := short.event("switch-reset")
	require.Less(t, reset2, made+delay)
	for _, e := range short.run.Events() {
		assert.NotEqual(t, "coil-on", e.Name)
	}
}

// TestHotCoil: copper at +80 K has 1 + 0.00393 x 80 = 1.314 times the
// resistance, so a coil on the same supply carries 0.76 of the current and
// pulls with 0.58 of the force (computed from 0.393 %/K, two figures), and its
// pull-in takes longer. Here on the valve of the bench, its pilot open.
func TestHotCoil(t *testing.T) {
	run := func(resistance float64) (s *Snapshot, lift float64) {
		p := tried()
		for path, v := range map[string]Value{"relay.selector.position": {Word: "open"}, "valve.coil.resistance": {Number: resistance}} {
			q, err := p.With(path, v)
			require.NoError(t, err)
			p = q
		}
		m, err := Build(p)
		require.NoError(t, err)
		g := launch(t, m.Net)
		g.to(2)
		st := g.run.State()
		return m.Snapshot(st.T, st.Y, st.Modes, st.Timers), g.event("pilot-lift") - g.event("coil-on")
	}
	const warmer = 1 + 0.00393*80
	cold, coldLift := run(50)
	hot, hotLift := run(50 * warmer)
	a, b := cold.Valves[0], hot.Valves[0]
	require.Equal(t, HeldOpen, a.Pilot.Hold)
	require.Equal(t, HeldOpen, b.Pilot.Hold)
	current, pull := b.Coil.Current/a.Coil.Current, b.Pilot.Pull/a.Pilot.Pull
	t.Logf("current %.4f, pull %.4f, pull-in after %.3f ms instead of %.3f", current, pull, hotLift*1e3, coldLift*1e3)
	assert.InDelta(t, 0.76, current, 0.005)
	assert.InDelta(t, 0.58, pull, 0.005)
	// Two seconds are fifty time constants: 1e-20 is left of the rise.
	assert.InEpsilon(t, 1/warmer, current, 1e-9)
	assert.InEpsilon(t, 1/(warmer*warmer), pull, 1e-9)
	assert.Greater(t, hotLift, coldLift)
	assert.InEpsilon(t, 2.5, a.Coil.Current, 1e-9, "125 V over 50 ohm")
}

// TestPullInOfTheValve: the snapshot's pull-in current, sqrt of spring and
// pressure over Kf with the gap open, is the current at which the pilot lifts,
// and its moment follows from the coil's closed form.
func TestPullInOfTheValve(t *testing.T) {
	p, err := tried().With("relay.selector.position", Value{Word: "open"})
	require.NoError(t, err)
	m, err := Build(p)
	require.NoError(t, err)
	g := launch(t, m.Net)
	g.to(0.5)
	s := g.net.Start()
	before := m.Snapshot(0, s.Y, s.Modes, s.Timers)
	v, c := before.Valves[0], m.Net.Coils[m.Valves[0].Coil]
	// Nothing moves before the lift, and the inflow raises the vessel and with
	// it the chamber by a hundredth of a bar in the 40 ms: the pull-in current
	// is taken at the lift.
	at := g.event("pilot-lift")
	l := g.at(at)
	load := m.Net.Movers[m.Valves[0].Pilot].Preload + v.Pilot.Load*(l.Nodes[m.Valves[0].Chamber].P-l.Nodes[m.Valves[0].Dump].P)/(v.Below-v.Dump)
	pullIn := 2 * math.Sqrt(load/c.PullFactor)
	assert.InDelta(t, v.Coil.PullIn, pullIn, 1e-3*pullIn)
	assert.InEpsilon(t, pullIn, l.Coils[0].Current, 1e-8)
	want := c.Inductance / c.Resistance * math.Log(1/(1-pullIn*c.Resistance/c.Supply))
	t.Logf("pull-in %.6f A after %.6f ms (%+.1e)", pullIn, (at-g.event("coil-on"))*1e3, (at-g.event("coil-on"))/want-1)
	assert.InEpsilon(t, want, at-g.event("coil-on"), 1e-8)
}
