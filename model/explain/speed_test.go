package explain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
)

var moments = []struct {
	name     string
	scenario string
	sets     []string
	at       float64
}{
	{"shut", "gas-bench", nil, 1},
	{"emptying", "gas-bench", nil, 2.19},
	{"refilling", "gas-bench", nil, 3.7},
	{"dump line, shut", "gas-bench-plus", nil, 1},
	{"dump line, emptying", "gas-bench-plus", nil, 2.19},
	{"dump line, hung on a leak", "gas-bench-plus", []string{"valve.pilot.leak-area=6 mm2"}, 5},
	{"dump line too narrow", "gas-bench-plus", []string{"valve.dump-line.area=4 mm2"}, 3},
}

// An explanation allocates next to nothing, since live pictures ask for thirty
// a second.
func TestAllocations(t *testing.T) {
	for _, c := range moments {
		t.Run(c.name, func(t *testing.T) {
			r := ran(t, described(t, c.scenario, c.sets...), 6)
			s, m, err := r.At(c.at)
			require.NoError(t, err)
			past := explain.PastOf(m, r.Sim.Events(), c.at, 0)
			most := testing.AllocsPerRun(100, func() { explain.Valve(m, s, 0, past) })
			assert.LessOrEqual(t, most, 4.0)
		})
	}
}

func BenchmarkValve(b *testing.B) {
	for _, c := range moments {
		b.Run(c.name, func(b *testing.B) {
			r := ran(b, described(b, c.scenario, c.sets...), 6)
			s, m, err := r.At(c.at)
			require.NoError(b, err)
			past := explain.PastOf(m, r.Sim.Events(), c.at, 0)
			b.ReportAllocs()
			for b.Loop() {
				explain.Valve(m, s, 0, past)
			}
		})
	}
}

func BenchmarkPastOf(b *testing.B) {
	r := ran(b, described(b, "gas-bench"), 60)
	events := r.Sim.Events()
	b.ReportAllocs()
	for b.Loop() {
		explain.PastOf(r.Present(), events, 60, 0)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(events)), "ns/event")
}

// A page is asked for a few times a second at most.
func BenchmarkPage(b *testing.B) {
	for _, c := range moments {
		b.Run(c.name, func(b *testing.B) {
			r := ran(b, described(b, c.scenario, c.sets...), 6)
			s, m, err := r.At(c.at)
			require.NoError(b, err)
			past := explain.PastOf(m, r.Sim.Events(), c.at, 0)
			for b.Loop() {
				explain.PageOf(m, s, 0, past)
			}
		})
	}
}
