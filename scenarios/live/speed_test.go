package live_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// BenchmarkBoiler times the boiler's plant with its line of ten cells over a load
// rejection with a lift, at rtol 1e-5, turn by turn with the gas bench and with
// CVODE on the gas bench, in processor time.
func BenchmarkBoiler(b *testing.B) {
	boiler := boilerWith(b, 120)
	reject(boiler, 0.1)
	benchmarkPlant(b, boiler, "disc-lift")
}

// BenchmarkSafeties does the same with two spring-loaded valves on the drum, shut
// beside the piloted valve; and lifting in its place.
func BenchmarkSafeties(b *testing.B) {
	for name, event := range map[string]string{"boiler-plant-safeties": "disc-lift", "safeties-isolated": "pop"} {
		b.Run(name, func(b *testing.B) {
			sc, err := scenarios.Load(name)
			require.NoError(b, err)
			sc.Until = 120
			benchmarkPlant(b, sc, event)
		})
	}
}

func benchmarkPlant(b *testing.B, boiler *scenarios.Scenario, event string) {
	cvode := buildReference(b)
	bench, err := scenarios.Load("gas-bench")
	require.NoError(b, err)
	time := func(sc *scenarios.Scenario) float64 {
		before := processorTime()
		r, err := live.Start(sc, live.Options{RelTol: 1e-5, Bare: true})
		require.NoError(b, err)
		require.NoError(b, r.Finish())
		if sc == boiler {
			require.NotEmpty(b, happened(r, event))
		}
		return (processorTime() - before) / sc.Until // s of processor for each s of plant
	}
	middle := func(x []float64) float64 { slices.Sort(x); return x[len(x)/2] }
	for range b.N {
		var plant, gas, lib []float64
		for range 9 {
			plant, gas = append(plant, time(boiler)), append(gas, time(bench))
			lib = append(lib, cvode("--rtol", "1e-5", "--until", "60", "--repeat", "3", "--parts", "library").CPU/60)
		}
		b.ReportMetric(1/middle(plant), "x-real-time")
		b.ReportMetric(middle(plant)/middle(gas), "of-gas-bench")
		b.ReportMetric(middle(plant)/middle(lib), "of-CVODE's-bench")
	}
}
