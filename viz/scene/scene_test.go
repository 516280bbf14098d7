package scene_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

// moments are one of each state, and the bench with its surroundings.
var moments = []struct {
	scenario, fault string
	at              float64
	state           explain.State
}{
	{"gas-bench", "", 1.0, explain.Shut},
	{"gas-bench", "", 2.190, explain.Emptying},
	{"gas-bench", "", 2.206, explain.Opening},
	{"gas-bench", "", 2.6, explain.Open},
	{"gas-bench", "", 3.70, explain.Refilling},
	{"gas-bench", "", 3.775, explain.Closing},
	{"gas-bench", "bleed-plugged=0mm2", 5, explain.HungOpen},
	{"fault-pilot-leaks-small", "", 6, explain.Leaking},
	{"fault-deadband-narrow", "", 20, explain.Cycling},
	{"gas-bench-plus", "", 2.207, explain.Opening},
	{"gas-bench-plus", "", 3.81, explain.Closing},
	{"fault-coil-open", "", 6, explain.Shut},
	{"fault-disc-sticks", "", 6, explain.HungOpen},
	{"steam-bench", "", 3, explain.Shut},
	{"steam-bench", "", 4.112, explain.Opening},
	{"steam-bench", "", 5, explain.Open},
	{"steam-bench", "", 7.3, explain.Refilling},
	{"steam-bench", "", 9, explain.Shut},
	{"leaking-seat-steam", "", 290, explain.Leaking},
	{"testdata/steam-gate.yaml", "", 4.5, explain.Open},
	{"testdata/steam-gate.yaml", "", 8, explain.Shut},
	{"boiler-plant", "", 65, explain.Shut},
	{"boiler-plant", "", 73, explain.Open},
	{"testdata/boiler-worked.yaml", "", 43, explain.Leaking},
}

var unitSystems = map[string]scene.Units{
	"bar abs":   {},
	"bar gauge": {Gauge: true, KilogramsPerSecond: true},
	"psig":      {Pressure: scene.PSI, Gauge: true, Fahrenheit: true, PoundsPerHour: true},
	"kPa abs":   {Pressure: scene.KPa},
}

var sizes = []struct {
	size      scene.Point
	projector bool
}{
	{scene.Point{X: 1600, Y: 900}, false},
	{scene.Point{X: 1920, Y: 1080}, false},
	{scene.Point{X: 1024, Y: 640}, false},
	{scene.Point{X: 2560, Y: 1440}, false},
	{scene.Point{X: 1280, Y: 720}, true},
}

// runs keeps finished runs for all tests of the package.
var runs = struct {
	sync.Mutex
	of map[string]*live.Run
}{of: map[string]*live.Run{}}

func runOf(t *testing.T, scenario, f string, until float64) *live.Run {
	t.Helper()
	key := fmt.Sprint(scenario, f, until)
	runs.Lock()
	defer runs.Unlock()
	if r := runs.of[key]; r != nil {
		return r
	}
	sc, err := scenarios.Load(scenario)
	require.NoError(t, err)
	if f != "" {
		e, err := fault.ParseEntry(sc.Plant, f)
		require.NoError(t, err)
		sc.Faults = append(sc.Faults, e)
	}
	sc.Until = until
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	runs.of[key] = r
	return r
}

// each looks at every moment in every unit system and size.
func each(t *testing.T, do func(t *testing.T, v *scene.View, s *scene.Scene)) {
	for _, m := range moments {
		r := runOf(t, m.scenario, m.fault, m.at+0.5)
		for unit, u := range unitSystems {
			for _, z := range sizes {
				t.Run(fmt.Sprintf("%s %s at %g, %s, %gx%g", m.scenario, m.fault, m.at, unit, z.size.X, z.size.Y), func(t *testing.T) {
					v, err := view.At(r, m.at, view.Options{Size: z.size, Projector: z.projector, Units: u})
					require.NoError(t, err)
					require.Equal(t, m.state, v.Facts.State)
					do(t, v, scene.Draw(v))
				})
			}
		}
	}
}

func texts(s *scene.Scene) (out []*scene.Shape) {
	for i := range s.Shapes {
		if s.Shapes[i].Text != nil {
			out = append(out, &s.Shapes[i])
		}
	}
	return out
}

// boxOf is the room of a text in the picture, its carrier moved.
func boxOf(v *scene.View, s *scene.Scene, sh *scene.Shape) scene.Rect {
	r, by := v.TextBox(sh.Text), s.Shift[sh.Moves]
	return scene.Rect{Left: r.Left + by.X, Top: r.Top + by.Y, Right: r.Right + by.X, Bottom: r.Bottom + by.Y}
}

func TestWhatEverySizeKeeps(t *testing.T) {
	each(t, func(t *testing.T, v *scene.View, s *scene.Scene) {
		has := map[string]bool{}
		for i := range s.Shapes {
			has[s.Shapes[i].Part] = true
		}
		for _, part := range []string{"header", "switch", "relay", "coil circuit", "margin", "pressure chart", "now", "chamber", "tailpipe", "inlet and body"} {
			assert.True(t, has[part], part)
		}
		assert.Equal(t, !v.Projector, has["time ribbon"])
		// On a projector the boiler's panel takes the room of a disc that rests.
		assert.NotEqual(t, liftGivesWay(v), has["lift chart"])
		assert.Equal(t, v.Boils(), has["boiler"])
		// Where the pilot rests, the vessel takes its room.
		moves := slices.ContainsFunc(v.Trace.Pilot, func(x float64) bool { return math.Abs(x-v.Trace.Pilot[0]) > 1e-6 })
		assert.Equal(t, !v.Projector && v.Size.X >= 1600 && moves, has["pilot chart"])
		assert.True(t, v.Projector || v.Size.X < 1600 || moves != has["vessel chart"])
		said := ""
		for _, sh := range texts(s) {
			if sh.Part == "header" {
				said += " " + sh.Text.Words
			}
		}
		assert.Contains(t, said, v.Sentence)
		assert.Contains(t, said, strings.ToUpper(v.State))
	})
}

// liftGivesWay tells whether the strip of the disc's lift makes room for drum or
// walls.
func liftGivesWay(v *scene.View) bool {
	return v.Projector && v.Boils() && v.Snapshot.Valves[0].Disc.Lift == 0
}

// fixed writes a number as the pictures do, by other means.
func fixed(x float64, n int) string {
	s := strconv.FormatFloat(x, 'f', n, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

func TestNumbersAreTheSnapshots(t *testing.T) {
	each(t, func(t *testing.T, v *scene.View, s *scene.Scene) {
		st := &v.Snapshot.Valves[0]
		size, n, zero, unit := 1e5, 2, 0.0, "bar"
		switch v.Units.Pressure {
		case scene.PSI:
			size, n, unit = 6894.757293168361, 1, "psi"
		case scene.KPa:
			size, n, unit = 1e3, 0, "kPa"
		}
		if v.Units.Gauge {
			zero = 1.01325e5
		}
		p := func(x float64) string { return fixed((x-zero)/size, n) }
		words := map[string]string{}
		for _, sh := range texts(s) {
			words[sh.Part] += "|" + sh.Text.Words + "|"
		}
		say := func(part, want string) { assert.Contains(t, words[part], want, part) }
		say("vessel", "|"+p(st.Vessel)+"|")
		say("chamber", "|"+p(st.Below)+"|")
		say("tailpipe", "|"+p(st.Outlet)+"|")
		say("inlet and body", "|"+p(st.Above)+"|")
		say("sensor", "|"+p(st.Control.Reading))
		say("coil circuit", "|"+fixed(st.Coil.Current, 2)+" A|")
		if p(st.Above) == p(st.Below) { // the lines lie on each other
			say("pressure chart", "|body = chamber "+p(st.Above)+"|")
		} else {
			say("pressure chart", "|body "+p(st.Above)+"|")
			say("pressure chart", "|chamber "+p(st.Below)+"|")
		}
		if !liftGivesWay(v) {
			say("lift chart", "|"+fixed(1e3*st.Disc.Lift, 1)+" mm|")
		}
		say("margin", "|chamber "+p(st.Below))
		if th := v.Facts.Margin.Threshold; th > 0 {
			say("margin", "|"+fixed(math.Abs(st.Below-th)/size, n)+"|")
			say("margin", "|"+unit+"|")
			say("margin", " "+p(th)+"|")
		}
		said := "gauge"
		if !v.Units.Gauge {
			said = "abs"
		}
		if v.Units.Pressure == scene.PSI {
			said = "psig"
		}
		for _, part := range []string{"vessel", "margin", "pressure chart"} {
			say(part, said)
		}
		if !v.Projector {
			for _, b := range scene.Bars(st) {
				want := fixed(b.Force/1e3, 2) + " kN"
				if b.Force < 99.5 {
					want = fixed(b.Force, 0) + " N"
				}
				say("forces", "|"+want+"|")
			}
		}
	})
}

// The forces balance by what the disc rests on or by what moves it, and the
// bars are as long as their forces.
func TestForcesMeet(t *testing.T) {
	each(t, func(t *testing.T, v *scene.View, s *scene.Scene) {
		st := &v.Snapshot.Valves[0]
		var force, length [2]float64
		disc, _ := scene.BoundsOf(s.Shapes, "disc plate")
		for _, b := range scene.Bars(st) {
			side := 0
			if b.Up {
				side = 1
			}
			force[side] += b.Force
			if v.Projector {
				continue
			}
			r, ok := scene.BoundsOf(s.Shapes, b.Name)
			require.True(t, ok, b.Name)
			length[side] += r.Height()
			if b.Up {
				assert.Greater(t, r.Bottom, disc.Top, b.Name)
			} else {
				assert.Less(t, r.Top, disc.Bottom, b.Name)
			}
		}
		assert.InDelta(t, force[0], force[1], 0.6, "down and up")
		if v.Projector {
			return
		}
		assert.InDelta(t, length[0], length[1], 0.1)
		assert.InDelta(t, length[0]/force[0], length[1]/force[1], 1e-3*length[0]/force[0], "one scale")
		// What is left over is what moves the disc.
		for _, b := range scene.Bars(st) {
			if b.Name == "Unbalanced" {
				assert.InDelta(t, math.Abs(st.Disc.Mass*st.Disc.Acceleration), b.Force, 0.5)
			}
		}
	})
}

func TestSameViewSamePicture(t *testing.T) {
	for _, m := range moments {
		r := runOf(t, m.scenario, m.fault, m.at+0.5)
		for _, z := range sizes {
			o := view.Options{Size: z.size, Projector: z.projector}
			v, err := view.At(r, m.at, o)
			require.NoError(t, err)
			w, err := view.At(r, m.at, o)
			require.NoError(t, err)
			first := fmt.Sprintf("%+v", flat(scene.Draw(v)))
			assert.Equal(t, first, fmt.Sprintf("%+v", flat(scene.Draw(v))), "one view, drawn twice")
			assert.Equal(t, first, fmt.Sprintf("%+v", flat(scene.Draw(w))), "the view filled anew")
		}
	}
}

// flat is a picture without pointers.
func flat(s *scene.Scene) []any {
	out := []any{s.Size, s.Shift, s.Range, s.Focus, s.Rooms}
	for _, sh := range s.Shapes {
		out = append(out, sh.Part, sh.Moves, sh.Path)
		if sh.Fill != nil {
			out = append(out, *sh.Fill)
		}
		if sh.Stroke != nil {
			out = append(out, *sh.Stroke)
		}
		if sh.Text != nil {
			t := *sh.Text
			if t.OnPressure != nil {
				out = append(out, *t.OnPressure)
			}
			t.OnPressure = nil
			out = append(out, t)
		}
		if sh.Clip != nil {
			out = append(out, *sh.Clip)
		}
	}
	return out
}
