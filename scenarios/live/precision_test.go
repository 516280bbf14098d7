//go:build unix

package live_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/sim"
)

// curve is processor time for 60 s of the bench against the worst error of the
// named events, both as logarithms, by falling error.
type curve struct {
	name      string
	rtol      []float64
	err2, err []float64 // over two cycles, and over all 60 s, s
	time      []float64 // s
}

// at interpolates the time on the curve at an error, by the error over 60 s.
// A curve that never is as coarse gives its cheapest time.
func (c *curve) at(e float64) float64 {
	best := math.Inf(1)
	for i := range c.err {
		if c.err[i] <= e {
			best = math.Min(best, c.time[i])
		}
		if i > 0 && (c.err[i-1]-e)*(c.err[i]-e) < 0 {
			s := math.Log(e/c.err[i-1]) / math.Log(c.err[i]/c.err[i-1])
			best = math.Min(best, c.time[i-1]*math.Pow(c.time[i]/c.time[i-1], s))
		}
	}
	return best
}

// BenchmarkWorkPrecision measures, in one run and turn by turn, this engine
// and the C program with CVODE on 60 s of the gas bench, and prints both curves
// and the ratios of their times at equal error. The engine keeps its ledger
// (some 25 quadratures), the C program has none; both are told to keep no
// history.
func BenchmarkWorkPrecision(b *testing.B) {
	run := buildReference(b)
	ref := run("--rtol", "1e-13", "--until", "60")
	mine := curve{name: "underdisc"}
	lib := curve{name: "CVODE as it comes"}
	own := curve{name: "CVODE, own linear algebra"}
	sc, err := scenarios.Load("gas-bench")
	require.NoError(b, err)
	once := func(rtol float64) (*live.Run, float64) {
		before := processorTime()
		r, err := live.Start(sc, live.Options{RelTol: rtol, Bare: true})
		require.NoError(b, err)
		require.NoError(b, r.Finish())
		return r, processorTime() - before
	}
	for range b.N {
		mine, lib, own = curve{name: mine.name}, curve{name: lib.name}, curve{name: own.name}
		for _, rtol := range []float64{1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 3e-6, 1e-6, 1e-7, 1e-8, 1e-9} {
			var times []float64
			var last *live.Run
			for range 15 {
				r, d := once(rtol)
				last = r
				times = append(times, d)
			}
			slices.Sort(times)
			e2, e := errorsOf(ref, last.Sim.Events())
			mine.add(rtol, e2, e, times[len(times)/2])
			if rtol > 3e-4 {
				continue // CVODE loses events there
			}
			for _, c := range []*curve{&lib, &own} {
				parts := "library"
				if c == &own {
					parts = "own"
				}
				r := run("--rtol", fmt.Sprint(rtol), "--until", "60", "--repeat", "15", "--parts", parts)
				var ev []sim.Event
				for _, x := range r.Events {
					ev = append(ev, sim.Event{T: x.T, Name: x.Name})
				}
				e2, e := errorsOf(ref, ev)
				c.add(rtol, e2, e, r.CPU)
			}
		}
	}
	var out strings.Builder
	for _, c := range []*curve{&mine, &lib, &own} {
		fmt.Fprintf(&out, "\n%s\n%10s %14s %14s %10s\n", c.name, "rtol", "error 2 cycles", "error 60 s", "ms")
		for i := range c.rtol {
			fmt.Fprintf(&out, "%10.0e %14.2e %14.2e %10.2f\n", c.rtol[i], c.err2[i], c.err[i], 1e3*c.time[i])
		}
	}
	for _, e := range []float64{1e-3, 20e-6, 1e-6} {
		fmt.Fprintf(&out, "\nat an error of %.0e s over 60 s: time ratio %.3f to CVODE as it comes, %.3f to it with its own linear algebra",
			e, mine.at(e)/lib.at(e), mine.at(e)/own.at(e))
	}
	fmt.Println(out.String())
	b.ReportMetric(mine.at(1e-3)/lib.at(1e-3), "ratio@1ms")
	b.ReportMetric(mine.at(20e-6)/lib.at(20e-6), "ratio@20us")
}

func (c *curve) add(rtol, err2, err, time float64) {
	c.rtol = append(c.rtol, rtol)
	c.err2 = append(c.err2, err2)
	c.err = append(c.err, err)
	c.time = append(c.time, time)
}

// errorsOf gives the worst error of the named events over the first two cycles
// and over all; a run that misses one has an infinite error.
func errorsOf(ref referenceRun, events []sim.Event) (two, all float64) {
	var mine []sim.Event
	for _, e := range events {
		if named(e.Name) {
			mine = append(mine, e)
		}
	}
	k := 0
	for _, e := range ref.Events {
		if !named(e.Name) {
			continue
		}
		d := math.Inf(1)
		if k < len(mine) && mine[k].Name == e.Name {
			d = math.Abs(mine[k].T - e.T)
		}
		if e.T < 10 {
			two = math.Max(two, d)
		}
		all = math.Max(all, d)
		k++
	}
	return
}

// processorTime of this process, all threads, in s.
func processorTime() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return math.NaN()
	}
	d := time.Duration(u.Utime.Nano()+u.Stime.Nano()) * time.Nanosecond
	return d.Seconds()
}

// BenchmarkVaried runs 1000 varied benches of 10 s on all cores and gives their
// processor time in units of one run of the C program over 60 s at the same
// tolerance, measured in between.
func BenchmarkVaried(b *testing.B) {
	run := buildReference(b)
	sc, err := scenarios.Load("gas-bench")
	require.NoError(b, err)
	rng := rand.New(rand.NewPCG(3, 5))
	plants := make([]*plant.Plant, 1000)
	for i := range plants {
		plants[i], _ = variedBench(b, sc.Plant, rng)
	}
	const rtol = 1e-6
	lifted := make([]bool, len(plants))
	sums := map[string]float64{}
	for range b.N {
		for _, parts := range []string{"library", "own"} {
			sums[parts] += run("--rtol", fmt.Sprint(rtol), "--until", "60", "--repeat", "21", "--parts", parts).CPU
		}
		before := processorTime()
		err := sim.Many(context.Background(), len(plants), func(i int) error {
			s := *sc
			s.Plant, s.Until = plants[i], 10
			r, err := live.Start(&s, live.Options{RelTol: rtol, Bare: true})
			if err != nil {
				return err
			}
			if err := r.Finish(); err != nil {
				return err
			}
			for _, e := range r.Sim.Events() {
				lifted[i] = lifted[i] || e.Name == "disc-lift"
			}
			return nil
		})
		require.NoError(b, err)
		sums["mine"] += processorTime() - before
	}
	count := 0
	for _, l := range lifted {
		if l {
			count++
		}
	}
	b.Logf("%d of %d lift", count, len(plants))
	require.GreaterOrEqual(b, count, len(plants)*8/10)
	b.ReportMetric(sums["mine"]/sums["library"], "CVODE-runs")
	b.ReportMetric(sums["mine"]/sums["own"], "CVODE-own-runs")
}
