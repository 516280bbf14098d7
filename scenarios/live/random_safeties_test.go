package live_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/scenarios"
)

// Runs: always, in a long run, and in the longest (UNDERDISC_LONG=all), which takes
// some five minutes.
const randomSafetiesRuns, longSafetiesRuns, allSafetiesRuns = 20, 120, 500

// randomTrim draws a spring-loaded valve of one of the three types, with an inlet
// pipe or without, from one of the plant.
func randomTrim(d dice, from *plant.SpringValve) *plant.SpringValve {
	v := *from
	lower := *v.LowerRing
	v.LowerRing = &lower
	size := d.times(1.6)
	for _, l := range []*float64{&v.Nozzle.Bore, &v.Seat.Diameter, &lower.Diameter, &lower.Gap, &lower.CarryLift, &v.Disc.Travel} {
		*l *= size
	}
	lower.Gap *= d.times(4)
	lower.Carried = d.between(0, 0.9)
	v.Nozzle.Momentum = d.between(0, 1)
	v.Disc.Travel = min(v.Disc.Travel*d.times(2), v.Seat.Diameter)
	v.Seat.Force *= size * size * d.times(2)
	v.Seat.Length *= d.times(3)
	v.Seat.Restitution = d.between(0.1, 0.8)
	upper := *v.UpperRing
	upper.Diameter *= size
	upper.Height *= size * d.times(3)
	v.UpperRing = &upper
	switch d.IntN(4) {
	case 0:
		v.UpperRing, v.Hood = nil, &plant.Hood{Diameter: upper.Diameter, Turned: d.between(0, 1), Angle: d.between(-0.5, 1)}
	case 1:
		v.UpperRing, v.LowerRing, v.Plug = nil, nil, &plant.Plug{Angle: d.between(-0.2, 0.6)}
		v.Draws = []string{"steam", "water", "all"}[d.IntN(3)]
	}
	v.Spring.Rate *= size * d.times(2)
	v.Spring.Preload *= size * size * d.between(0.85, 1.15)
	v.Disc.Mass *= size * size * d.times(2)
	v.Disc.Damping *= d.times(5)
	if d.IntN(2) == 0 {
		v.Disc.Friction, v.Disc.StickFriction = 0, 0
	}
	if d.IntN(6) == 0 {
		// A short pipe behind a shut valve rings for long, and each swing costs steps.
		v.Inlet = &plant.Run{Length: d.between(1, 4), Bore: v.Nozzle.Bore * d.between(1, 2.5), Friction: d.between(0.005, 0.04), Cells: float64(1 + d.IntN(3))}
	}
	if d.IntN(4) == 0 {
		v.Bellows = &plant.Bellows{Diameter: v.Seat.Diameter * d.between(0.3, 1), Vent: "surroundings"}
	}
	if d.IntN(5) == 0 {
		v.Seat.Debris = &plant.Debris{Size: 1e-4 * d.times(10), Washes: []string{"yes", "no"}[d.IntN(2)]}
	}
	if d.IntN(8) == 0 {
		v.Lever = nil
	}
	return &v
}

func randomSafetiesRun(seed int, base *scenarios.Scenario) (end ending, err error) {
	d := dice{rand.New(rand.NewPCG(uint64(seed), 3))}
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
	p := &plant.Plant{}
	for _, q := range sc.Plant.Parts {
		if v, ok := q.Spec.(*plant.SpringValve); ok {
			q.Spec = randomTrim(d, v)
		}
		p.Parts = append(p.Parts, q)
	}
	if issues := p.Check(); len(issues) > 0 {
		return end, fmt.Errorf("the random plant is unsound: %s", issues[0])
	}
	sc.Plant = p
	sc.Faults = randomFaults(d, sc.Plant)
	sc.Until, sc.Commands, sc.Shows = randomBoilerUntil, nil, nil
	randomActs(d, &sc)
	for range d.IntN(4) {
		name := []string{"safety-1", "safety-2"}[d.IntN(2)]
		path, v := name+".lever.pull", plant.Value{Number: d.between(0, 1)}
		if d.IntN(4) == 0 {
			path, v = name+".gag.leaves-lift", plant.Value{Number: 1e-3 * d.times(30)}
		}
		if _, err := sc.Plant.Get(path); err == nil {
			sc.Record(scenarios.Action{Command: &scenarios.Command{At: d.between(0, sc.Until), Path: path, Value: v}})
		}
	}
	err = runRandom(&sc, &end, randomBoilerBudget)
	return
}

// Random boilers with spring-loaded valves of random types and settings beside the
// piloted one, with random faults and acts: as TestRandomPlants.
func TestRandomSafeties(t *testing.T) {
	t.Parallel()
	n := randomSafetiesRuns
	switch os.Getenv("UNDERDISC_LONG") {
	case "1":
		n = longSafetiesRuns
	case "all":
		n = allSafetiesRuns
	}
	base, err := scenarios.Load("boiler-plant-safeties")
	require.NoError(t, err)
	// A disc that only presses its faces hardly works: what each step is off adds up
	// over tens of thousands of them.
	work := func(e ending) float64 { return workLimit * max(1, float64(e.steps)/5000) }
	judgeSteam(t, n, work, func(i int) (ending, error) { return randomSafetiesRun(i, base) })
}
