//go:build unix

package live_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/sim"
)

// referenceFolder holds the independent program in C with CVODE.
const referenceFolder = "../../model/plant/testdata/cvode"

// referenceRun is what that program prints.
type referenceRun struct {
	Rtol   float64
	Events []struct {
		T    float64
		Name string
	}
	Final map[string]float64
	Stats struct{ Steps, Rhs, Jac, Setups int }
	CPU   float64   `json:"cpu_s"`
	Lift  []float64 `json:"lift_pressures"`
	Seat  []float64 `json:"reseat_pressures"`
}

// buildReference compiles the C program. Without a compiler or the library a
// user's machine skips the check; a build server must have them.
func buildReference(t testing.TB) (run func(args ...string) referenceRun) {
	t.Helper()
	bin := filepath.Join(t.TempDir(), "bench")
	out, err := exec.Command("cc", "-O2", "-o", bin, filepath.Join(referenceFolder, "bench.c"),
		"-lsundials_cvode", "-lsundials_nvecserial", "-lsundials_sunmatrixdense", "-lsundials_sunlinsoldense", "-lm").CombinedOutput()
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("the reference program does not build here, and must: %v\n%s", err, out)
		}
		t.Skipf("needs a C compiler and SUNDIALS: %v", err)
	}
	return func(args ...string) referenceRun {
		t.Helper()
		text, err := exec.Command(bin, args...).Output()
		require.NoError(t, err, "reference program with %v", args)
		var r referenceRun
		require.NoError(t, json.Unmarshal(text, &r))
		return r
	}
}

// named drops bounces, whose number depends on the tolerance.
func named(name string) bool { return !strings.HasSuffix(name, "-bounce") }

// worstTime compares named events up to a time, in order, and returns the
// largest difference.
func worstTime(t testing.TB, ref referenceRun, events []sim.Event, until float64) float64 {
	t.Helper()
	var mine []sim.Event
	for _, e := range events {
		if named(e.Name) {
			mine = append(mine, e)
		}
	}
	worst, k := 0.0, 0
	for _, e := range ref.Events {
		if !named(e.Name) || e.T > until {
			continue
		}
		require.Less(t, k, len(mine), "the reference has more events, from %s at %g s", e.Name, e.T)
		require.Equal(t, e.Name, mine[k].Name, "event %d, at %g s in the reference", k, e.T)
		worst = math.Max(worst, math.Abs(mine[k].T-e.T))
		k++
	}
	require.Positive(t, k)
	return worst
}

func benchRun(t testing.TB, p *plant.Plant, rtol, until float64, bare bool) *live.Run {
	t.Helper()
	sc, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	if p != nil {
		sc.Plant = p
	}
	sc.Until = until
	r, err := live.Start(sc, live.Options{RelTol: rtol, Bare: bare})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

// TestReferenceEvents sets the bench against the C program run here and now.
// The allowed times are those that the project promises.
func TestReferenceEvents(t *testing.T) {
	ref := buildReference(t)("--rtol", "1e-11", "--until", "60")
	for _, c := range []struct {
		rtol, until, allowed float64
	}{
		{1e-6, 10, 1e-3},
		{1e-9, 10, 20e-6},
		{1e-6, 60, 1e-3},
		{1e-9, 60, 20e-6},
	} {
		t.Run(fmt.Sprintf("rtol %g to %g s", c.rtol, c.until), func(t *testing.T) {
			r := benchRun(t, nil, c.rtol, 60, true)
			worst := worstTime(t, ref, r.Sim.Events(), c.until)
			t.Logf("worst event time off by %.3g s", worst)
			require.Less(t, worst, c.allowed)
			lay, y := r.Sim.System().Layout(), r.Sim.State().Y
			for i, name := range lay.Vars {
				want, ok := ref.Final[referenceName(name)]
				require.True(t, ok, "the reference has no %s", name)
				size := math.Max(math.Abs(want), lay.Scales[i])
				require.InDelta(t, want, y[i], (200*c.rtol+1e-8)*size, name)
			}
		})
	}
}

// referenceName turns a variable's name into the C program's.
func referenceName(name string) string {
	part, what, _ := strings.Cut(strings.TrimPrefix(name, "valve."), ".")
	switch part {
	case "tailpipe":
		part = "tail"
	case "pilot":
		part = "plunger"
	}
	switch what {
	case "position":
		what = "lift"
	case "speed":
		what = "velocity"
	case "reading":
		what = "pressure"
	}
	return part + "." + what
}

// varied are seeded ranges round the bench's values, named as the C program
// names them and as the plant does.
var varied = []struct {
	c, path string
	lo, hi  float64 // factors on the bench's value
}{
	{"vessel.volume", "vessel.volume", 0.7, 1.5},
	{"inflow", "inflow.mass-flow", 0.7, 1.5},
	{"line.volume", "line.volume", 0.7, 1.5},
	{"line.area", "line.area", 0.9, 1.4},
	{"seat.diameter", "valve.seat.diameter", 0.92, 1.08},
	{"guide.diameter", "valve.disc.guide-diameter", 0.95, 1.1},
	{"disc.mass", "valve.disc.mass", 0.7, 1.5},
	{"disc.damping", "valve.disc.damping", 0.5, 2},
	{"spring.preload", "valve.spring.preload", 0.6, 1.5},
	{"spring.rate", "valve.spring.rate", 0.7, 1.3},
	{"chamber.volume", "valve.chamber.volume", 0.9, 2},
	{"bleed.area", "valve.bleed.area", 0.5, 2},
	{"pilot.area", "valve.pilot.area", 0.8, 1.2},
	{"tail.volume", "tailpipe.volume", 0.7, 1.5},
	{"coil.inductance", "valve.coil.inductance", 0.5, 1.5},
	{"sensor.lag", "sensor.lag", 0.5, 2},
}

// variedBench draws one bench: its plant, and the words that give the C
// program the same.
func variedBench(t testing.TB, base *plant.Plant, rng *rand.Rand) (*plant.Plant, []string) {
	t.Helper()
	p, args := base, []string{"--set"}
	for _, v := range varied {
		prm, err := p.Get(v.path)
		require.NoError(t, err)
		x := prm.Value.Number * (v.lo + (v.hi-v.lo)*rng.Float64())
		p, err = p.With(v.path, plant.Value{Number: x})
		require.NoError(t, err)
		args = append(args, v.c+"="+strconv.FormatFloat(x, 'g', 17, 64))
	}
	return p, args
}

// TestReferenceVaried sets sixty benches drawn at random against the C
// program: the same events, at the same times.
func TestReferenceVaried(t *testing.T) {
	run := buildReference(t)
	sc, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	rng := rand.New(rand.NewPCG(7, 11))
	lifted, worst := 0, 0.0
	for k := range 60 {
		p, args := variedBench(t, sc.Plant, rng)
		ref := run(append([]string{"--rtol", "1e-9", "--until", "10"}, args...)...)
		r := benchRun(t, p, 1e-8, 10, true)
		w := worstTime(t, ref, r.Sim.Events(), 10-1e-3)
		require.Less(t, w, 20e-6, "bench %d: %v", k, args)
		worst = math.Max(worst, w)
		if len(ref.Lift) > 0 {
			lifted++
		}
	}
	t.Logf("%d of 60 lifted, worst event time off by %.3g s", lifted, worst)
	require.GreaterOrEqual(t, lifted, 48, "the ranges must make at least 80 %% lift")
}
