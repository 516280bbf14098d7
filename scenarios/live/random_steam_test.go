package live_test

import (
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

	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/sim"
)

const (
	randomSteamRuns, longSteamRuns = 60, 1000
	randomSteamUntil               = 30.0 // s
)

// randomSteamBudget is as randomBudget: steam has more that is fast and more
// kinks, where it begins and ends to condense, than gas.
func randomSteamBudget(events int) int { return 100_000 + 200*events }

// randomDrum is the steam bench with every dimension drawn. A sixth of the
// drums are full of water, a sixth hold superheated steam alone.
func randomDrum(d dice, p *plant.Plant) (*plant.Plant, string, error) {
	var err error
	keep := func(e error) {
		if e != nil && err == nil {
			err = e
		}
	}
	number := func(path string) float64 {
		prm, e := p.Get(path)
		keep(e)
		return prm.Value.Number
	}
	set := func(path string, v float64) {
		q, e := p.With(path, plant.Value{Number: v})
		if e != nil {
			keep(e)
			return
		}
		p = q
	}
	scale := func(path string, most float64) { set(path, number(path)*d.times(most)) }

	reset := 15e5 * d.times(8)
	deadband := d.between(0.01, 0.15)
	set("switch.set", reset/(1-deadband))
	set("switch.reset", reset)
	set("drum.pressure", reset/(1-deadband)*d.between(0.9, 0.999))
	scale("drum.volume", 6)
	kind := "half full"
	switch d.IntN(6) {
	case 0:
		kind = "full of water"
		set("drum.water-share", 1)
		if d.IntN(2) == 0 {
			set("drum.superheat", -d.between(0, 60))
		}
	case 1:
		kind = "steam alone"
		set("drum.water-share", 0)
		set("drum.superheat", d.between(0, 100))
	default:
		set("drum.water-share", d.between(0.01, 0.99))
	}
	heat := 4e6 * d.between(0, 2) * number("drum.volume") / 5
	if kind == "steam alone" {
		heat /= 200 // else it soon is hotter than the tables of steam
	}
	set("firing.power", heat)
	for _, wall := range []string{"drum.wall", "valve.chamber.wall", "valve.dump-line.wall", "valve.body-wall", "tailpipe.wall"} {
		scale(wall+".heat-capacity", 5)
		scale(wall+".inside-conductance", 5)
		scale(wall+".outside-conductance", 5)
		scale(wall+".wet-film.conductance", 3)
		scale(wall+".wet-film.covering-volume", 3)
	}
	set("surroundings.temperature", d.between(250, 320))
	scale("line.volume", 3)
	scale("line.area", 2)

	seat := 0.05 * d.times(1.5)
	guide := seat * d.between(1.1, 1.8)
	travel := seat * d.between(0.08, 0.4)
	set("valve.disc.guide-diameter", guide)
	set("valve.disc.travel", travel)
	set("valve.seat.diameter", seat)
	area := math.Pi / 4 * guide * guide
	set("valve.chamber.volume", area*travel*d.between(1.2, 12))
	set("valve.disc.mass", 1.5*area/3.85e-3*d.times(3))
	set("valve.disc.damping", 60*d.times(10))
	slide := d.between(0, 100)
	set("valve.disc.stick-friction", slide*d.between(1, 2))
	set("valve.disc.friction", slide)
	set("valve.disc.restitution", d.between(0, 0.8))
	set("valve.spring.rate", 20e3*d.between(0, 3))
	set("valve.spring.preload", 400*d.between(0, 4))
	scale("valve.bleed.area", 3)
	pilot := number("valve.pilot.area") * d.times(2)
	set("valve.plunger.stroke", math.Sqrt(4/math.Pi*pilot)*d.between(0.1, 0.6))
	set("valve.pilot.area", pilot)
	scale("valve.plunger.mass", 4)
	scale("valve.plunger.damping", 5)
	set("valve.plunger.restitution", d.between(0, 0.6))
	scale("valve.coil.inductance", 4)
	// A coil strong enough for the load most of the time.
	set("valve.coil.pull-factor", 160*pilot/30e-6*reset/40e5*d.times(2))
	scale("valve.guide.clearance", 2)
	scale("valve.dump-line.volume", 5)
	scale("valve.dump-line.area", 2)
	scale("tailpipe.volume", 4)
	scale("tailpipe.area", 2)
	scale("tailpipe.drain.area", 5)
	set("sensor.lag", 0.05*d.times(20))
	set("relay.pick-up", d.between(0, 0.2))
	set("relay.drop-out", d.between(0, 0.2))
	if err != nil {
		return nil, kind, err
	}
	if issues := p.Check(); len(issues) > 0 {
		return nil, kind, fmt.Errorf("the random plant is unsound: %s", issues[0])
	}
	return p, kind, nil
}

func randomSteamRun(seed int, base *scenarios.Scenario) (end ending, err error) {
	d := dice{rand.New(rand.NewPCG(uint64(seed), 1))}
	sc := *base
	end.tolerance = []float64{1e-4, 1e-5, 1e-6, 1e-6, 1e-6, 1e-7}[d.IntN(6)]
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
	}()
	if sc.Plant, end.base, err = randomDrum(d, sc.Plant); err != nil {
		return
	}
	sc.Faults = randomFaults(d, sc.Plant)
	sc.Until, sc.Commands, sc.Shows = randomSteamUntil, nil, nil
	err = runRandom(&sc, &end, randomSteamBudget)
	return
}

// Random valves on drums of water and steam, some of them full of water, some
// of steam alone, with random faults: as TestRandomPlants.
func TestRandomSteam(t *testing.T) {
	t.Parallel()
	n := randomSteamRuns
	if os.Getenv("UNDERDISC_LONG") == "1" {
		n = longSteamRuns
	}
	base, err := scenarios.Load("steam-bench")
	require.NoError(t, err)
	kinds := judgeSteam(t, n, flatWork, func(i int) (ending, error) { return randomSteamRun(i, base) })
	assert.Greater(t, kinds["full of water"], 0)
	assert.Greater(t, kinds["steam alone"], 0)
}

// flatWork is the limit of the work, in tolerances, whatever the run.
func flatWork(ending) float64 { return workLimit }

// judgeSteam makes n random runs on steam and holds each to the balances; a run
// that leaves the range of the tables says so and ends. It returns how many there
// were of each kind.
func judgeSteam(t *testing.T, n int, work func(ending) float64, run func(i int) (ending, error)) map[string]int {
	t.Helper()
	ends, wrong := make([]ending, n), make([]error, n)
	require.NoError(t, sim.Many(context.Background(), n, func(i int) error {
		ends[i], wrong[i] = run(i)
		return nil
	}))
	kinds := map[string]int{}
	lifted, left, content, worst := 0, 0, 0.0, 0.0
	order := make([]int, n)
	for i, e := range ends {
		order[i] = i
		kinds[e.base]++
		if wrong[i] != nil && strings.Contains(wrong[i].Error(), "has left the range of steam's tables") {
			left++ // boiled dry and overheated, most of them; the run says so and ends
			continue
		}
		if !assert.NoError(t, wrong[i], "seed %d: %+v", i, e) {
			continue
		}
		assert.Less(t, e.content, 1e-7, "seed %d: mass and energy by state: %+v", i, e)
		assert.Less(t, e.work, work(e), "seed %d: work by state, in tolerances: %+v", i, e)
		if e.lifts > 0 {
			lifted++
		}
		content, worst = math.Max(content, e.content), math.Max(worst, e.work)
	}
	assert.Greater(t, lifted, n/4, "runs in which the valve lifted")
	assert.LessOrEqual(t, left, n/20, "runs that leave the range of the tables")
	t.Logf("%d runs (%v): %d lifted, %d left the range of the tables; worst by state: mass and energy %.1e, work %.0f tolerances", n, kinds, lifted, left, content, worst)
	slices.SortFunc(order, func(a, b int) int { return ends[b].steps - ends[a].steps })
	for _, i := range order[:5] {
		t.Logf("%d steps: seed %d, %+v", ends[i].steps, i, ends[i])
	}
	return kinds
}
