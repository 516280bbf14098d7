package live_test

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/sim"
)

const (
	// An ordinary test runs randomRuns random plants, UNDERDISC_LONG=1 all
	// longRuns of them.
	randomRuns = 200
	longRuns   = 2000
	// randomUntil is the length of each run [s]: five cycles of the bench.
	randomUntil = 30.0
)

// randomBudget is how many steps a run may take, by its events. The bench makes
// 1500 with 150 events in this time. A disc that chatters, which some of the
// random ones do for long at 50 to 100 Hz, takes some 30 steps from one contact
// to the next; what takes far more without an event has got stuck.
func randomBudget(events int) int { return 10_000 + 100*events }

// workLimit is how many tolerances the work of a moving part may be off by
// state, by its net work. Ten would do for parts that travel; one that lifts by
// a thousandth of its travel and falls back has turned over next to nothing,
// while its position is as exact as the tolerance of the whole.
const workLimit = 300.0

// dice draws what a random plant is made of, the same for the same seed.
type dice struct{ *rand.Rand }

// between draws evenly from lo to hi; one time in ten it is one of the ends,
// where trouble likes to be.
func (d dice) between(lo, hi float64) float64 {
	switch d.IntN(20) {
	case 0:
		return lo
	case 1:
		return hi
	}
	return lo + (hi-lo)*d.Float64()
}

// times draws a factor from 1/most to most, evenly on a logarithmic scale.
func (d dice) times(most float64) float64 { return math.Pow(most, d.between(-1, 1)) }

// randomPlant is a bench whose every dimension is drawn. All are physically
// possible, and hang together as they do on a real valve, within wide limits:
// the guide is wider than the seat, the chamber larger than what the disc
// sweeps, the pilot can pass more than the bleed most of the time.
func randomPlant(d dice, p *plant.Plant) (*plant.Plant, error) {
	var err error
	number := func(path string) float64 {
		prm, e := p.Get(path)
		if e != nil && err == nil {
			err = e
		}
		return prm.Value.Number
	}
	set := func(path string, v float64) {
		q, e := p.With(path, plant.Value{Number: v})
		if e != nil {
			if err == nil {
				err = e
			}
			return
		}
		p = q
	}
	scale := func(path string, most float64) { set(path, number(path)*d.times(most)) }

	reset := 12e5 * d.times(4)
	deadband := d.between(0.01, 0.15)
	set("switch.set", reset/(1-deadband))
	set("switch.reset", reset)
	set("vessel.pressure", reset/(1-deadband)*d.between(0.9, 0.999))
	set("vessel.temperature", d.between(260, 500))
	scale("vessel.volume", 6)
	set("inflow.mass-flow", d.between(0, 3))
	set("inflow.temperature", d.between(260, 500))
	set("surroundings.temperature", d.between(250, 320))
	scale("line.volume", 5)
	scale("line.area", 2)

	seat := 0.05 * d.times(2)
	guide := seat * d.between(1.1, 1.8)
	travel := seat * d.between(0.08, 0.4)
	set("valve.disc.guide-diameter", guide)
	set("valve.disc.travel", travel)
	set("valve.seat.diameter", seat)
	area := math.Pi / 4 * guide * guide
	set("valve.chamber.volume", area*travel*d.between(1.2, 12))
	set("valve.disc.mass", 1.5*area/3.85e-3*d.times(3))
	set("valve.disc.damping", 20*d.times(20)-1)
	slide := d.between(0, 60)
	stick := slide * d.between(1, 2)
	set("valve.disc.stick-friction", stick)
	set("valve.disc.friction", slide)
	set("valve.disc.restitution", d.between(0, 0.8))
	set("valve.spring.rate", 20e3*d.between(0, 3))
	set("valve.spring.preload", 200*d.between(0, 4))
	if d.IntN(2) == 0 {
		q, e := p.With("valve.disc.friction-law", plant.Value{Word: []string{"smoothed", "sticking"}[d.IntN(2)]})
		if e != nil {
			return nil, e
		}
		p = q
	}
	scale("valve.bleed.area", 3)
	pilot := number("valve.pilot.area") * d.times(2)
	set("valve.plunger.stroke", math.Sqrt(4/math.Pi*pilot)*d.between(0.1, 0.6))
	set("valve.pilot.area", pilot)
	scale("valve.plunger.mass", 4)
	scale("valve.plunger.spring-rate", 3)
	scale("valve.plunger.preload", 2)
	scale("valve.plunger.damping", 5)
	set("valve.plunger.restitution", d.between(0, 0.6))
	scale("valve.coil.inductance", 4)
	scale("valve.coil.gap", 2)
	// A coil strong enough for the load most of the time.
	set("valve.coil.pull-factor", 160*pilot/80e-6*reset/12e5*d.times(2))
	scale("tailpipe.volume", 4)
	scale("tailpipe.area", 2)
	set("sensor.lag", 0.05*d.times(20))
	set("relay.pick-up", d.between(0, 0.2))
	set("relay.drop-out", d.between(0, 0.2))
	if _, e := p.Get("valve.guide.clearance"); e == nil {
		scale("valve.guide.clearance", 3)
		scale("valve.guide.length", 2)
		scale("valve.dump-line.volume", 5)
		scale("valve.dump-line.area", 2)
		scale("valve.dump-line.wall.heat-capacity", 10)
		scale("valve.dump-line.wall.inside-conductance", 10)
		set("line.block-valve.opening", math.Min(1, d.between(0.1, 2)))
	}
	if err != nil {
		return nil, err
	}
	if issues := p.Check(); len(issues) > 0 {
		return nil, fmt.Errorf("the random plant is unsound: %s", issues[0])
	}
	return p, nil
}

// randomFaults are up to three faults that agree with the plant and with each
// other, with severities around what they would be on a valve of this size, at
// any time.
func randomFaults(d dice, p *plant.Plant) []fault.Entry {
	catalogue := fault.Possible(p)
	var out []fault.Entry
	n := d.IntN(4)
	for try := 0; len(out) < n && try < 20; try++ {
		f := catalogue[d.IntN(len(catalogue))]
		e := fault.Entry{Name: f.Name, At: math.Max(0, d.between(-10, randomUntil))}
		if f.Dim() != "" && d.IntN(3) > 0 {
			v := f.Typical * d.times(3)
			switch f.Name {
			case "bleed-plugged":
				v = 2e-6 * math.Max(0, d.between(-1, 1))
			case "spring-broken":
				v = 100 * math.Max(0, d.between(-1, 1))
			case "deadband-narrow":
				s, _ := plant.Spec[plant.Switch](p, "switch")
				v = s.Set * d.between(0.98, 0.9999)
			case "back-pressure":
				v = d.between(0.1, 0.99)
				if s, ok := plant.Spec[plant.Vessel](p, "vessel"); ok {
					v *= s.Pressure
				} else {
					s, _ := plant.Spec[plant.Drum](p, "drum")
					v *= s.Pressure
				}
			}
			e.Severity = &v
		}
		with := append(slices.Clone(out), e)
		if fault.Conflicts(p, with) != nil {
			continue
		}
		// Faults that set in one after the other must leave a sound plant each.
		slices.SortStableFunc(with, func(a, b fault.Entry) int { return cmp.Compare(a.At, b.At) })
		q, sound := p, true
		for _, w := range with {
			var err error
			if q, _, err = fault.Apply(q, w); err != nil {
				sound = false
				break
			}
		}
		if sound {
			out = with
		}
	}
	return out
}

// ending is how a random run ended.
type ending struct {
	base      string
	tolerance float64
	faults    string
	steps     int
	lifts     int
	hung      bool    // off its seat far below the pressure at which it should have shut
	content   float64 // worst residual by state of mass and energy
	work      float64 // and of the moving parts' work, in tolerances
}

// randomRun runs the plant of a seed and tells what is wrong with the run.
func randomRun(seed int, bases []*scenarios.Scenario) (end ending, err error) {
	d := dice{rand.New(rand.NewPCG(uint64(seed), 0))}
	sc := *bases[d.IntN(len(bases))]
	end.base = sc.Name
	end.tolerance = []float64{1e-4, 1e-5, 1e-6, 1e-6, 1e-6, 1e-7}[d.IntN(6)]
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
	}()
	if sc.Plant, err = randomPlant(d, sc.Plant); err != nil {
		return
	}
	sc.Faults = randomFaults(d, sc.Plant)
	sc.Until, sc.Commands, sc.Shows = randomUntil, nil, nil
	err = runRandom(&sc, &end, randomBudget)
	return
}

// runRandom runs a scenario with its faults and tells what is wrong with the
// run.
func runRandom(sc *scenarios.Scenario, end *ending, budget func(events int) int) error {
	var names []string
	for _, f := range sc.Faults {
		names = append(names, f.Name)
	}
	end.faults = strings.Join(names, "+")

	r, err := live.Start(sc, live.Options{RelTol: end.tolerance, Bare: true})
	if err != nil {
		return err
	}
	start, first := r.Sim.State().Clone(), r.Present().Net
	for {
		done, err := r.Sim.Advance(sc.Until, 1)
		if err != nil {
			return err
		}
		end.steps++
		if err := withinTravel(r); err != nil {
			return err
		}
		if done {
			break
		}
		if end.steps > budget(len(r.Sim.Events())) {
			return fmt.Errorf("%d steps and no further than %g s", end.steps, r.Sim.State().T)
		}
	}
	if err = r.Finish(); err != nil {
		return err
	}
	last := r.Sim.State()
	for i, v := range slices.Concat(last.Y, last.Q) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("number %d of the state is %g", i, v)
		}
	}
	for _, e := range r.Sim.Events() {
		if e.Name == "disc-lift" || e.Name == "pop" {
			end.lifts++
		}
	}
	now := r.Now().Valves[0]
	end.hung = now.Disc.Hold != plant.HeldShut && now.Vessel < 0.95*now.Control.Reset
	a := network.ByStateOnly(first, r.Present().Net, start, *last)
	end.content = math.Max(a.MassByState(), a.EnergyByState())
	end.work = a.DiscWorkByState() / end.tolerance
	return nil
}

func withinTravel(r *live.Run) error {
	const play = 1e-9 // m
	y, net := r.Sim.State().Y, r.Present().Net
	for i, name := range net.Layout().Vars {
		for _, m := range net.Movers {
			low := -play
			if m.Seat != nil {
				low = -1e-3 // as far as an impact presses its faces together
			}
			if name == m.Name+".position" && !(y[i] >= low && y[i] <= max(m.Travel, m.Reach)+play) {
				return fmt.Errorf("%s is %g m at %g s, its travel %g m", name, y[i], r.Sim.State().T, m.Travel)
			}
		}
	}
	return nil
}

// Random plants with random faults, many of which hang open or never open: no
// run may fail, leave the numbers or its stops, stall, or lose mass or energy.
func TestRandomPlants(t *testing.T) {
	t.Parallel()
	n := randomRuns
	if os.Getenv("UNDERDISC_LONG") == "1" {
		n = longRuns
	}
	var bases []*scenarios.Scenario
	for _, name := range []string{pure, plus} {
		sc, err := scenarios.Load(name)
		require.NoError(t, err)
		bases = append(bases, sc)
	}
	ends, wrong := make([]ending, n), make([]error, n)
	require.NoError(t, sim.Many(context.Background(), n, func(i int) error {
		ends[i], wrong[i] = randomRun(i, bases)
		return nil
	}))
	hung, shut, content, work := 0, 0, 0.0, 0.0
	order := make([]int, n)
	for i, e := range ends {
		order[i] = i
		if !assert.NoError(t, wrong[i], "seed %d: %+v", i, e) {
			continue
		}
		assert.Less(t, e.content, 1e-7, "seed %d: mass and energy by state: %+v", i, e)
		assert.Less(t, e.work, workLimit, "seed %d: work by state, in tolerances: %+v", i, e)
		if e.hung {
			hung++
		} else if e.lifts == 0 {
			shut++
		}
		content, work = math.Max(content, e.content), math.Max(work, e.work)
	}
	assert.GreaterOrEqual(t, hung, n/50, "runs that hang open")
	assert.GreaterOrEqual(t, hung+shut, n/5, "runs that hang open or never open")
	assert.LessOrEqual(t, hung+shut, n*4/5, "runs that hang open or never open")
	t.Logf("%d runs: %d hung open, %d never open; worst by state: mass and energy %.1e, work %.0f tolerances", n, hung, shut, content, work)
	slices.SortFunc(order, func(a, b int) int { return ends[b].steps - ends[a].steps })
	for _, i := range order[:8] {
		t.Logf("%d steps: seed %d, %+v", ends[i].steps, i, ends[i])
	}
}
