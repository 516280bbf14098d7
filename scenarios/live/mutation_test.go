package live_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/sim"
)

// mutant is a plant with one thing wrong. The checks that the healthy plant
// passes must notice, each mutation in a check that is named beforehand:
// otherwise a check proves nothing.
type mutant struct {
	*network.Network
	variable, quadrature, wall map[string]int // where each lies

	rates  rateChange
	events func(m *mutant, before, s *sim.State) // alters what Cross has left
}

// rateChange alters what Derivative has computed.
type rateChange func(m *mutant, y, dy, dq []float64)

func newMutant(n *network.Network) *mutant {
	m := &mutant{Network: n, variable: map[string]int{}, quadrature: map[string]int{}, wall: map[string]int{}}
	for i := range n.Walls {
		m.wall[n.Walls[i].Name] = i
	}
	for i, name := range n.Layout().Vars {
		m.variable[name] = i
	}
	for i, name := range n.Layout().Ledger {
		m.quadrature[name] = i
	}
	return m
}

// Derivative implements sim.System.
func (m *mutant) Derivative(t float64, y []float64, modes []int8, dy, dq []float64) {
	if len(dq) == 0 {
		dq = make([]float64, len(m.Layout().Ledger)) // what Look asks for
	}
	m.Network.Derivative(t, y, modes, dy, dq)
	if m.rates != nil {
		m.rates(m, y, dy, dq)
	}
}

// Cross implements sim.System.
func (m *mutant) Cross(guard int, s *sim.State, report sim.Report) {
	before := s.Clone()
	m.Network.Cross(guard, s, report)
	if m.events != nil {
		m.events(m, &before, s)
	}
}

// place looks a name up; a name that does not exist is a mistake in the table.
func place(in map[string]int, name string) int {
	i, ok := in[name]
	if !ok {
		panic("no " + name)
	}
	return i
}

// add changes the rate of a variable by a multiple of that of a quadrature.
func add(variable string, factor float64, quadrature string) rateChange {
	return func(m *mutant, _, dy, dq []float64) {
		dy[place(m.variable, variable)] += factor * dq[place(m.quadrature, quadrature)]
	}
}

// all joins changes.
func all(changes ...rateChange) rateChange {
	return func(m *mutant, y, dy, dq []float64) {
		for _, c := range changes {
			c(m, y, dy, dq)
		}
	}
}

// stream changes what a volume gets of a flow, mass and energy alike.
func stream(volume string, factor float64, flow string) rateChange {
	return all(add(volume+".mass", factor, flow+".mass"), add(volume+".energy", factor, flow+".energy"))
}

// unbooked forgets a quadrature.
func unbooked(name string) rateChange {
	return func(m *mutant, _, _, dq []float64) { dq[place(m.quadrature, name)] = 0 }
}

// wrongLaw changes the flux of a law where the flow is choked.
type wrongLaw struct {
	flow.Law
	choked float64
}

func (w wrongLaw) Flux(up *fluid.State, down float64) float64 {
	var f flow.Flux
	w.FluxSlopes(up, down, &f)
	return f.G
}

func (w wrongLaw) FluxSlopes(up *fluid.State, down float64, f *flow.Flux) {
	w.Law.FluxSlopes(up, down, f)
	if f.Choked {
		f.G *= w.choked
	}
}

// mutation is one row of the table.
type mutation struct {
	name string
	base string             // scenario
	red  string             // the check that must notice
	set  map[string]float64 // parameters that are wrong
	// What is done to the network before it is compiled, and to its rates and events.
	network func(n *network.Network)
	rates   rateChange
	events  func(m *mutant, before, s *sim.State)
	// silent drops the booking of the spring that breaks at 3 s.
	silent bool
}

const (
	pure  = "gas-bench"
	plus  = "gas-bench-plus"
	steam = "steam-bench"

	boiler   = "boiler-plant"
	safeties = "boiler-plant-safeties"
	chatter  = "spring-chatter"
)

// mutations: what a programmer or a typist could get wrong. Those of the
// second group leave every balance closed.
var mutations = []mutation{
	{name: "flow into the chamber with its sign flipped", base: pure, red: "mass of valve.chamber by state",
		rates: stream("valve.chamber", -2, "valve.bleed")},
	{name: "flow into the chamber not taken from the body", base: pure, red: "mass of valve.body by flow",
		rates: stream("valve.body", 1, "valve.bleed")},
	{name: "pilot's flow does not reach the outlet", base: pure, red: "mass of tailpipe by state",
		rates: stream("tailpipe", -1, "valve.pilot")},
	{name: "enthalpy of the pilot's flow dropped", base: pure, red: "energy of valve.chamber by state",
		rates: all(add("valve.chamber.energy", 1, "valve.pilot.energy"), add("tailpipe.energy", -1, "valve.pilot.energy"))},
	{name: "internal energy carried in place of enthalpy", base: pure, red: "energy of tailpipe by flow",
		rates: all(add("valve.body.energy", 1-1/1.4, "valve.seat.energy"), add("tailpipe.energy", 1/1.4-1, "valve.seat.energy"))},
	{name: "flow and its book both 1 % high", base: pure, red: "mass of valve.body by flow",
		rates: func(m *mutant, _, dy, dq []float64) {
			stream("valve.body", -0.01, "valve.seat")(m, nil, dy, dq)
			stream("tailpipe", 0.01, "valve.seat")(m, nil, dy, dq)
			dq[place(m.quadrature, "valve.seat.mass")] *= 1.01
			dq[place(m.quadrature, "valve.seat.energy")] *= 1.01
		}},
	{name: "feed without its energy", base: pure, red: "energy of vessel by state",
		rates: add("vessel.energy", -1, "inflow.energy")},
	{name: "work p dV missing from the chamber", base: pure, red: "energy of valve.chamber by state",
		rates: add("valve.chamber.energy", 1, "valve.chamber on valve.disc")},
	{name: "work on the body with nine tenths of the area", base: pure, red: "energy of valve.body by state",
		rates: add("valve.body.energy", 0.1, "valve.body on valve.disc")},
	{name: "force on the disc with an area 0.1 % large", base: pure, red: "work of valve.disc by state",
		rates: func(m *mutant, y, dy, dq []float64) {
			if v := y[place(m.variable, "valve.disc.speed")]; v != 0 {
				add("valve.disc.speed", 1e-3/(v*m.Movers[0].Mass), "valve.body on valve.disc")(m, y, dy, dq)
			}
		}},
	{name: "friction and its book both twice as large", base: pure, red: "work of valve.disc by force",
		rates: func(m *mutant, y, dy, dq []float64) {
			if v := y[place(m.variable, "valve.disc.speed")]; v != 0 {
				add("valve.disc.speed", -1/(v*m.Movers[0].Mass), "valve.disc.friction")(m, y, dy, dq)
			}
			dq[place(m.quadrature, "valve.disc.friction")] *= 2
		}},
	{name: "damping not booked", base: pure, red: "work of valve.disc by state", rates: unbooked("valve.disc.damping")},
	{name: "friction not booked", base: pure, red: "work of valve.disc by state", rates: unbooked("valve.disc.friction")},
	{name: "pull of the coil not booked", base: pure, red: "work of valve.pilot by state", rates: unbooked("valve.pilot.pull")},
	{name: "load on the pilot's seat not booked", base: pure, red: "work of valve.pilot by state", rates: unbooked("valve.pilot.seat-load")},
	{name: "impact loss not booked", base: pure, red: "work of valve.disc by state",
		events: func(m *mutant, before, s *sim.State) {
			q := place(m.quadrature, "valve.disc.impact")
			s.Q[q] = before.Q[q]
		}},
	{name: "impact loss booked twice", base: plus, red: "work of valve.pilot by state",
		events: func(m *mutant, before, s *sim.State) {
			q := place(m.quadrature, "valve.pilot.impact")
			s.Q[q] += s.Q[q] - before.Q[q]
		}},
	{name: "disc drops a tenth of a millimetre when it leaves its stop", base: pure, red: "work of valve.disc by state",
		events: func(m *mutant, before, s *sim.State) {
			if before.Modes[0] == network.HeldHigh && s.Modes[0] != network.HeldHigh {
				s.Y[place(m.variable, "valve.disc.position")] -= 1e-4
			}
		}},
	{name: "speed after a contact into the stop", base: pure, red: "event times",
		events: func(m *mutant, before, s *sim.State) {
			if q := place(m.quadrature, "valve.disc.impact"); s.Q[q] != before.Q[q] {
				s.Y[place(m.variable, "valve.disc.speed")] *= -1
			}
		}},
	{name: "wall's heat not taken from the gas", base: plus, red: "energy of valve.dump-line by state",
		rates: add("valve.dump-line.energy", 1, "valve.dump-line-wall.heat-in")},
	{name: "gas's heat not given to the wall", base: plus, red: "energy of valve.dump-line-wall by flow",
		rates: func(m *mutant, y, dy, dq []float64) {
			add("valve.dump-line-wall.temperature", -1/m.Walls[0].HeatCapacity, "valve.dump-line-wall.heat-in")(m, y, dy, dq)
		}},
	{name: "wall loses no heat to the air", base: plus, red: "energy of valve.dump-line-wall by state",
		rates: func(m *mutant, y, dy, dq []float64) {
			add("valve.dump-line-wall.temperature", 1/m.Walls[0].HeatCapacity, "valve.dump-line-wall.heat-out")(m, y, dy, dq)
		}},
	{name: "guide's flow not given to the chamber", base: plus, red: "mass of valve.chamber by flow",
		rates: stream("valve.chamber", -1, "valve.guide")},
	{name: "firing's heat does not reach the drum", base: steam, red: "energy of drum by state", rates: add("drum.energy", -1, "firing.energy")},
	{name: "what condenses in the chamber keeps its heat", base: steam, red: "energy of valve.chamber by state",
		rates: add("valve.chamber.energy", 1, "valve.chamber-wall.heat-in")},
	{name: "chamber's metal gives the body's none", base: steam, red: "energy of valve.body-wall by state",
		rates: func(m *mutant, y, dy, dq []float64) {
			add("valve.body-wall.temperature", -1/m.Walls[place(m.wall, "valve.body-wall")].HeatCapacity, "valve.chamber-wall.heat-out")(m, y, dy, dq)
		}},
	{name: "work on the disc's face costs the tailpipe nothing", base: steam, red: "energy of tailpipe by state", rates: add("tailpipe.energy", 1, "valve.disc.face")},
	{name: "work on the disc's face not booked", base: steam, red: "work of valve.disc by state", rates: unbooked("valve.disc.face")},
	{name: "drain's water does not leave the tailpipe", base: steam, red: "mass of tailpipe by state", rates: stream("tailpipe", 1, "tailpipe.drain")},
	{name: "steam into the drum's wall comes from nowhere", base: steam, red: "energy of drum by state", rates: add("drum.energy", 1, "drum-wall.heat-in")},
	{name: "load's steam not taken from the drum", base: boiler, red: "mass of drum by state", rates: stream("drum", 1, "load.steam")},
	{name: "feedwater without its energy", base: boiler, red: "energy of drum by state", rates: add("drum.energy", -1, "feedwater.energy")},
	{name: "feed booked as its middle, not as it is", base: boiler, red: "mass of drum by state",
		rates: func(m *mutant, _, _, dq []float64) { dq[place(m.quadrature, "feedwater.mass")] = 8 }},
	{name: "fire booked as its middle, not as it is", base: boiler, red: "energy of drum by state",
		rates: func(m *mutant, _, _, dq []float64) { dq[place(m.quadrature, "firing.energy")] = 18.9e6 }},
	{name: "block valve's steam does not reach the line", base: boiler, red: "mass of line.cell-1 by state",
		rates: stream("line.cell-1", -1, "line.block-valve")},
	{name: "joint of the line carries nine tenths of its energy", base: boiler, red: "energy of line.cell-3 by state",
		rates: add("line.cell-3.energy", -0.1, "line.joint-3.energy")},
	{name: "tailpipe's steam does not reach the header", base: boiler, red: "mass of header by state", rates: stream("header", -1, "tailpipe.exit")},
	{name: "neighbour's steam comes without its energy", base: boiler, red: "energy of header by state", set: map[string]float64{"neighbour.opening": 0.2},
		rates: add("header.energy", -1, "neighbour.discharge.energy")},
	{name: "what passes the gasket stays in the chamber", base: boiler, red: "mass of valve.chamber by state", set: map[string]float64{"valve.chamber.cover.leak-area": 1e-6},
		rates: stream("valve.chamber", 1, "valve.cover")},
	{name: "what leaves by the drain stays in the body", base: boiler, red: "mass of valve.body by state", set: map[string]float64{"valve.body-drain.opening": 0.5},
		rates: stream("valve.body", 1, "valve.body-drain")},
	{name: "steam past the safety valve not taken from the drum", base: safeties, red: "mass of drum by state", rates: stream("drum", 1, "safety-1.seat")},
	{name: "it does not reach the escape pipe", base: safeties, red: "mass of safety-1-pipe by state", rates: stream("safety-1-pipe", -1, "safety-1.seat")},
	{name: "work on the safety valve's disc costs its pipe nothing", base: safeties, red: "energy of safety-1-pipe by state",
		rates: add("safety-1-pipe.energy", 1, "safety-1.disc.face")},
	{name: "that work not booked", base: safeties, red: "work of safety-1.disc by state", rates: unbooked("safety-1.disc.face")},
	{name: "force on that disc 0.1 % large", base: safeties, red: "work of safety-1.disc by state",
		rates: func(m *mutant, y, dy, dq []float64) {
			if v := y[place(m.variable, "safety-1.disc.speed")]; v != 0 {
				add("safety-1.disc.speed", 1e-3/(v*2), "safety-1.disc.face")(m, y, dy, dq)
			}
		}},
	{name: "what an impact on the seat's faces loses not booked", base: chatter, red: "work of safety.disc by state", rates: unbooked("safety.disc.impact")},
	{name: "kinetic energy of the inlet's flow not counted", base: chatter, red: "energy of safety.inlet-2 by state",
		rates: func(m *mutant, y, dy, dq []float64) {
			dy[place(m.variable, "safety.inlet-2.energy")] += dq[place(m.quadrature, "safety.inlet-joint-2.energy")] - dq[place(m.quadrature, "safety.inlet-joint-2.energy-in")]
		}},
	{name: "energy of a broken spring not booked", base: pure, red: "work of valve.disc by state", silent: true},

	{name: "choked flow 1 % low", base: pure, red: "nozzle table",
		network: func(n *network.Network) {
			for i := range n.Flows {
				n.Flows[i].Law = wrongLaw{n.Flows[i].Law, 0.99}
			}
		}},
	{name: "bleed 2 % narrow", base: pure, red: "event times", set: map[string]float64{"valve.bleed.discharge-coefficient": 0.784}},
	{name: "relay 2 ms slow", base: pure, red: "event times", set: map[string]float64{"relay.pick-up": 0.012}},
	{name: "face pressure a twentieth late in lift", base: pure, red: "event times",
		network: func(n *network.Network) { n.Movers[0].Shape *= 1.05 }},
	{name: "friction of the disc half as large", base: pure, red: "event times", set: map[string]float64{"valve.disc.friction": 10}},
	{name: "no weight", base: pure, red: "event times", set: map[string]float64{"site.gravity": 0}},
	{name: "coil's gap 2 % wide", base: pure, red: "event times", set: map[string]float64{"valve.coil.gap": 3.06e-3}},
	{name: "sensor 5 % slow", base: pure, red: "event times", set: map[string]float64{"sensor.lag": 0.0525}},
	{name: "restitution 0.5 in place of 0.3", base: pure, red: "event times", set: map[string]float64{"valve.disc.restitution": 0.5}},
}

// uncompiled is the description of a network, to be altered and compiled again.
func uncompiled(n *network.Network) *network.Network {
	return &network.Network{Volumes: n.Volumes, Reservoirs: n.Reservoirs, Flows: n.Flows, Feeds: n.Feeds, Movers: n.Movers,
		Coils: n.Coils, Sensors: n.Sensors, Switches: n.Switches, Relays: n.Relays, Walls: n.Walls, Channels: n.Channels,
		Actuators: n.Actuators, Watchers: n.Watchers, Regulators: n.Regulators, Fuses: n.Fuses, Wears: n.Wears}
}

// breakAt is when the spring breaks in every run: the disc stands at its stop
// then, and the run's first event times are behind it but for the reseating.
const (
	breakAt = 3.0
	endAt   = 4.0
)

// benchTimes is how far the first cycle's events may be off [s]: fifty times
// what they are at this tolerance.
const benchTimes = 50e-6

// run runs a plant with a mutation in it, and returns the checks that it
// fails.
func (u *mutation) run(t *testing.T) map[string]string {
	t.Helper()
	sc, err := scenarios.Load(u.base)
	require.NoError(t, err)
	if u.base == chatter {
		sc.Plant, err = sc.Plant.With("vessel.pressure", plant.Value{Number: 40.95e5})
		require.NoError(t, err)
	}
	if u.base == safeties {
		for path, v := range map[string]float64{"switch.set": 60e5, "load.opening": 0.1, "drum.pressure": 42.4e5} {
			sc.Plant, err = sc.Plant.With(path, plant.Value{Number: v})
			require.NoError(t, err)
		}
	}
	if u.base == steam || u.base == boiler {
		// A whole lift before the end.
		start := map[string]float64{"drum.pressure": 40.95e5, "switch.reset": 40.2e5}
		if u.base == boiler {
			start["load.opening"] = 0.1
		}
		for path, v := range start {
			sc.Plant, err = sc.Plant.With(path, plant.Value{Number: v})
			require.NoError(t, err)
		}
	}
	build := func(p *plant.Plant) *mutant {
		for path, v := range u.set {
			p, err = p.With(path, plant.Value{Number: v})
			require.NoError(t, err)
		}
		model, err := plant.Build(p)
		require.NoError(t, err)
		n := uncompiled(model.Net)
		if u.network != nil {
			u.network(n)
		}
		require.NoError(t, n.Compile())
		m := newMutant(n)
		m.rates, m.events = u.rates, u.events
		return m
	}
	// The event times are those of a spring that stays whole; what its breaking
	// does to the ledger is looked at in a run of its own.
	whole := build(sc.Plant)
	red := u.check(t, whole, false)
	if u.base == pure {
		broken := sc.Plant
		for path, v := range map[string]float64{"valve.spring.preload": 0, "valve.spring.rate": 5000} {
			broken, err = broken.With(path, plant.Value{Number: v})
			require.NoError(t, err)
		}
		to := build(broken)
		for k, v := range u.check(t, build(sc.Plant), true, sim.Command{T: breakAt, Name: "spring breaks",
			Do: func(s *sim.State, in sim.System) (sim.System, error) {
				if !u.silent {
					to.BookChange(in.(*mutant).Network, s)
				}
				return to, nil
			}}) {
			red[k] = v
		}
	}
	return red
}

// check runs one system and returns the checks that it fails, with reasons.
func (u *mutation) check(t *testing.T, m *mutant, broken bool, cmds ...sim.Command) map[string]string {
	t.Helper()
	red := map[string]string{}
	h := &sim.History{}
	start := m.Start()
	r, err := sim.New(m, start, sim.Settings{RelTol: rtol, History: h}, cmds...)
	if err == nil {
		err = finish(r, endAt, 100_000)
	}
	if err != nil {
		red["run"] = err.Error()
		if r == nil {
			return red
		}
	}
	end := r.State()
	if m.Movers[0].Seat == nil {
		if x := end.Y[place(m.variable, "valve.disc.position")]; !(x >= -1e-9 && x <= m.Movers[0].Travel+1e-9) {
			red["run"] = fmt.Sprintf("disc at %g m", x)
		}
	}
	a, err := network.AuditRun(h, r.Events(), r.Systems(), start, *end)
	require.NoError(t, err)
	for _, c := range a.Accounts {
		limit := limits[c.Kind]
		if u.base == safeties {
			limit.byFlow = 5e-3 // its piloted valve rests, see TestLedgerOfEveryScenario
		}
		way := map[bool]string{true: "force", false: "flow"}[c.Kind == network.Work]
		if !(c.ByState < limit.byState) {
			red[fmt.Sprintf("%s of %s by state", c.Kind, c.Part)] = fmt.Sprintf("%.1e", c.ByState)
		}
		if !(c.ByFlow < limit.byFlow) {
			red[fmt.Sprintf("%s of %s by %s", c.Kind, c.Part, way)] = fmt.Sprintf("%.1e", c.ByFlow)
		}
	}
	if u.base == pure && !broken {
		if off, which := offTimes(r.Events(), firstCycle); !(off < benchTimes) {
			red["event times"] = fmt.Sprintf("%s off by %.1e s", which, off)
		}
	}
	if u.base != pure && u.base != plus {
		return red
	}
	if off := offNozzle(m.Network); !(off < 1e-4) {
		red["nozzle table"] = fmt.Sprintf("%.1e", off)
	}
	return red
}

// finish runs to the end within a budget of steps.
func finish(r *sim.Run, until float64, budget int) error {
	done, err := r.Advance(until, budget)
	if err != nil {
		return err
	}
	if !done {
		return fmt.Errorf("after %d steps the run stands at %g s", budget, r.State().T)
	}
	return r.Finish(until)
}

func TestMutations(t *testing.T) {
	for _, base := range []string{pure, plus, steam, boiler, safeties, chatter} {
		t.Run("unmutated "+base, func(t *testing.T) {
			t.Parallel()
			u := mutation{base: base}
			assert.Empty(t, u.run(t))
		})
	}
	for _, u := range mutations {
		t.Run(u.name, func(t *testing.T) {
			t.Parallel()
			red := u.run(t)
			assert.Contains(t, red, u.red)
			t.Logf("%s: %s; red in all: %d", u.red, red[u.red], len(red))
		})
	}
}
