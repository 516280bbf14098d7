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
