package live_test

import (
	"testing"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// BenchmarkGasBench times 60 s of the gas bench, ledger included, without
// keeping its history.
func BenchmarkGasBench(b *testing.B) {
	for _, c := range []struct {
		name string
		rtol float64
	}{{"rtol=1e-6", 1e-6}, {"rtol=1e-8", 1e-8}, {"rtol=1e-9", 1e-9}} {
		b.Run(c.name, func(b *testing.B) {
			sc, err := scenarios.Load("gas-bench")
			if err != nil {
				b.Fatal(err)
			}
			var steps int
			for range b.N {
				r, err := live.Start(sc, live.Options{RelTol: c.rtol, Bare: true})
				if err != nil {
					b.Fatal(err)
				}
				if err := r.Finish(); err != nil {
					b.Fatal(err)
				}
				steps += r.Sim.Stats().Steps
			}
			b.ReportMetric(float64(steps)/float64(b.N), "steps")
		})
	}
}

// BenchmarkPerLift times a lift cycle of each bench at rtol 1e-6: the whole run
// by the number of lifts in it.
func BenchmarkPerLift(b *testing.B) {
	for _, name := range []string{"gas-bench", "gas-bench-plus", "steam-bench"} {
		b.Run(name, func(b *testing.B) {
			sc, err := scenarios.Load(name)
			if err != nil {
				b.Fatal(err)
			}
			lifts, steps, evaluations := 0, 0, 0
			for range b.N {
				r, err := live.Start(sc, live.Options{RelTol: 1e-6, Bare: true})
				if err != nil {
					b.Fatal(err)
				}
				if err := r.Finish(); err != nil {
					b.Fatal(err)
				}
				for _, e := range r.Sim.Events() {
					if e.Name == "disc-lift" {
						lifts++
					}
				}
				steps += r.Sim.Stats().Steps
				evaluations += r.Sim.Stats().Derivatives
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(lifts), "us/lift")
			b.ReportMetric(float64(steps)/float64(lifts), "steps/lift")
			b.ReportMetric(float64(evaluations)/float64(lifts), "evaluations/lift")
		})
	}
}
