package live_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/model/procedure"
	"underdisc/scenarios"
)

const (
	randomBoilerRuns, longBoilerRuns = 30, 500
	randomBoilerUntil                = 60.0 // s
)

// randomBoilerBudget is as randomBudget. A drum that has been fed until it is full
// sends water down the line, where columns of it part and meet again.
func randomBoilerBudget(events int) int { return 300_000 + 200*events }

// randomBoiler is the boiler's plant with its dimensions drawn.
func randomBoiler(d dice, p *plant.Plant) (*plant.Plant, error) {
	var err error
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
	word := func(path string, words ...string) {
		q, e := p.With(path, plant.Value{Word: words[d.IntN(len(words))]})
		if e != nil && err == nil {
			err = e
			return
		}
		p = q
	}
	scale := func(path string, most float64) {
		prm, e := p.Get(path)
		if e != nil && err == nil {
			err = e
			return
		}
		set(path, prm.Value.Number*d.times(most))
	}
	hold := 38e5 * d.times(2.5)
	above := 1 + d.between(0.005, 0.1)
	deadband := d.between(0.01, 0.1)
	set("switch.set", hold*above)
	set("switch.reset", hold*above*(1-deadband))
	set("drum.pressure", hold*d.between(0.95, 1.02))
	set("firing.control.hold", hold)
	set("operators.hold", hold)
	set("drum.water-share", d.between(0.1, 0.9))
	set("feedwater.control.hold", d.between(0.1, 0.9))
	scale("drum.volume", 3)
	set("feedwater.temperature", d.between(300, 450))
	power := 18.9e6 * d.times(3)
	set("firing.power", power)
	set("firing.control.most", power*d.between(1, 1.5))
	set("firing.control.least", power*d.between(0, 0.5))
	word("firing.control.mode", "automatic", "automatic", "hand")
	word("operators.told", "yes", "no")
	for _, path := range []string{"firing.control.band", "firing.control.reset-time", "firing.control.lag", "feedwater.control.band",
		"feedwater.control.reset-time", "feedwater.control.lag", "operators.delay", "operators.band", "operators.most"} {
		scale(path, 4)
	}
	set("feedwater.control.band", math.Min(d.between(0.05, 1), 1))
	set("feedwater.mass-flow", math.Min(14, 8*power/18.9e6))
	scale("load.area", 3)
	set("load.opening", d.between(0, 1))
	scale("load.travel-time", 5)
	set("line.run.length", 6*d.times(5))
	set("line.run.cells", float64(1+d.IntN(12)))
	set("line.run.friction-factor", d.between(0, 0.05))
	scale("line.block-valve.motion.travel-time", 10)
	if d.IntN(5) == 0 {
		set("line.block-valve.opening", d.between(0, 1))
	}
	set("valve.bleed.area", 2e-6*d.times(3))
	set("valve.disc.travel", 0.05*d.between(0.08, 0.4))
	set("valve.chamber.condensate.share", math.Max(0, d.between(-1, 0.9)))
	set("neighbour.opening", math.Max(0, d.between(-2, 1)))
	scale("header.volume", 4)
	scale("header.area", 2)
	set("sensor.sensing-line.root-opening", d.between(0, 1))
	set("sensor.sensing-line.water-leg", d.between(0, 10))
	set("relay.circuit.fuse.rating", 4*d.times(3))
	set("valve.coil.winding.around", d.between(280, 420))
	if err != nil {
		return nil, err
	}
	if issues := p.Check(); len(issues) > 0 {
		return nil, fmt.Errorf("the random plant is unsound: %s", issues[0])
	}
	return p, nil
}

// randomActs are what people do in a run: procedures, and hands on wheels and
// switches.
func randomActs(d dice, sc *scenarios.Scenario) {
	act := func(at float64, path string, v plant.Value) {
		sc.Record(scenarios.Action{Command: &scenarios.Command{At: at, Path: path, Value: v}})
	}
	all := slices.DeleteFunc(procedure.All(), func(d procedure.Procedure) bool { return d.Valves(sc.Plant) == nil })
	for range d.IntN(3) {
		work := all[d.IntN(len(all))]
		valves := work.Valves(sc.Plant)
		valve := valves[0]
		if len(valves) > 1 {
			valve = valves[d.IntN(len(valves))]
		}
		settings, err := work.On(sc.Plant, valve, d.between(0, 40))
		if err != nil {
			panic(err)
		}
		for _, s := range settings {
			if s.At <= sc.Until {
				act(s.At, s.Path, s.Value)
			}
		}
	}
	for range d.IntN(6) {
		at := d.between(0, sc.Until)
		switch d.IntN(7) {
		case 0:
			act(at, "load.opening", plant.Value{Number: d.between(0, 1)})
		case 1:
			act(at, "relay.selector.position", plant.Value{Word: []string{"auto", "open", "off"}[d.IntN(3)]})
		case 2:
			act(at, "line.block-valve.opening", plant.Value{Number: d.between(0, 1)})
		case 3:
			act(at, "operators.told", plant.Value{Word: []string{"yes", "no"}[d.IntN(2)]})
		case 4:
			act(at, "neighbour.opening", plant.Value{Number: d.between(0, 1)})
		case 5:
			act(at, "firing.control.mode", plant.Value{Word: []string{"automatic", "hand"}[d.IntN(2)]})
		case 6:
			act(at, "relay.circuit.fuse.state", plant.Value{Word: []string{"in", "out"}[d.IntN(2)]})
		}
	}
}

func randomBoilerRun(seed int, base *scenarios.Scenario) (end ending, err error) {
	d := dice{rand.New(rand.NewPCG(uint64(seed), 2))}
	sc := *base
	end.base = sc.Name
	end.tolerance = []float64{1e-4, 1e-5, 1e-5, 1e-6}[d.IntN(4)]
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
	}()
	if sc.Plant, err = randomBoiler(d, sc.Plant); err != nil {
		return
	}
	sc.Faults = randomFaults(d, sc.Plant)
	sc.Until, sc.Commands, sc.Shows = randomBoilerUntil, nil, nil
	randomActs(d, &sc)
	err = runRandom(&sc, &end, randomBoilerBudget)
	return
}

// Random boilers with random faults and random acts of their operators: as
// TestRandomPlants.
func TestRandomBoilers(t *testing.T) {
	t.Parallel()
	n := randomBoilerRuns
	if os.Getenv("UNDERDISC_LONG") == "1" {
		n = longBoilerRuns
	}
	base, err := scenarios.Load("boiler-plant")
	require.NoError(t, err)
	judgeSteam(t, n, flatWork, func(i int) (ending, error) { return randomBoilerRun(i, base) })
}
