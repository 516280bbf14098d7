package paint_test

import (
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"underdisc/viz/scene"
	"underdisc/viz/screen/harness"
	"underdisc/viz/screen/paint"
)

// sequence are the scenes of a lift as it is run slowly.
func sequence(t testing.TB) (out []*scene.Scene) {
	for at := 2.13; at < 2.25; at += 0.0002 {
		out = append(out, scene.Draw(viewAt(t, at)))
	}
	return out
}

// BenchmarkPaint is Go's time for the painting alone of a running lift at 1600
// by 900, what it allocates, and how much it paints.
func BenchmarkPaint(b *testing.B) {
	harness.Need(b)
	scenes := sequence(b)
	p := paint.New()
	dst := ebiten.NewImage(1600, 900)
	defer dst.Deallocate()
	var times []time.Duration
	var triangles, made []int
	frame := func(k int) {
		from := time.Now()
		p.Paint(dst, scenes[k%len(scenes)], 1)
		times = append(times, time.Since(from))
		triangles, made = append(triangles, p.Stats().Triangles), append(made, p.Stats().Made)
		dst.At(0, 0) // what has been queued is drawn, outside of what is measured
		if k%10 == 0 {
			harness.Frame()
		}
	}
	for k := range 100 {
		frame(k)
	}
	times, triangles, made = times[:0], triangles[:0], made[:0]
	bases := p.Stats().Bases
	k := 100
	for b.Loop() {
		frame(k)
		k++
	}
	slices.Sort(times)
	slices.Sort(triangles)
	slices.Sort(made)
	n := len(times)
	b.ReportMetric(float64(times[n/2].Microseconds())/1000, "median-ms")
	b.ReportMetric(float64(times[n*99/100].Microseconds())/1000, "p99-ms")
	b.ReportMetric(float64(triangles[n/2]), "triangles")
	b.ReportMetric(float64(made[n/2]), "shapes-made")
	b.ReportMetric(float64(p.Stats().Bases-bases), "bases")
	// The same frames again, their painting alone: no reading back between.
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	const frames = 100
	for i := range frames {
		p.Paint(dst, scenes[(k+i)%len(scenes)], 1)
	}
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.Mallocs-before.Mallocs)/frames, "mallocs/frame")
}

// costs is the variable that asks a program for what a frame costs it.
const costs = "UNDERDISC_PAINT_COSTS"

// loop is a game that paints some frames, or nothing, and then says what
// processor time each has cost.
type loop struct {
	p      *paint.Painter
	scenes []*scene.Scene
	hold   bool
	n      int
	from   time.Duration
}

const warm, counted = 90, 500 // frames

func (l *loop) Update() error {
	if l.n == warm+counted {
		fmt.Printf("%s %g\n", costs, float64((used()-l.from).Microseconds())/1000/counted)
		return ebiten.Termination
	}
	return nil
}

func (l *loop) Draw(s *ebiten.Image) {
	if l.n++; l.n == warm {
		l.from = used()
	}
	switch {
	case l.scenes == nil:
	case l.hold:
		l.p.Paint(s, l.scenes[300], 1)
	default:
		l.p.Paint(s, l.scenes[l.n%len(l.scenes)], 1)
	}
}

func (l *loop) Layout(w, h int) (int, int) { return w, h }

// showCosts is the program that BenchmarkAgainstEmpty runs, a game of its own.
func showCosts(t testing.TB, what string) error {
	l := &loop{p: paint.New(), hold: what == "held"}
	if what != "empty" {
		l.scenes = sequence(t)
	}
	ebiten.SetWindowSize(1600, 900)
	ebiten.SetScreenClearedEveryFrame(what == "empty")
	ebiten.SetTPS(ebiten.SyncWithFPS)
	ebiten.SetRunnableOnUnfocused(true)
	return ebiten.RunGameWithOptions(l, &ebiten.RunGameOptions{SingleThread: true})
}

// BenchmarkAgainstEmpty is the processor time of a frame of a running lift, and
// of one that is held, over that of a frame of a program that shows nothing.
func BenchmarkAgainstEmpty(b *testing.B) {
	harness.Need(b)
	self, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	cost := func(name string) float64 {
		c := exec.Command(self)
		c.Env = append(os.Environ(), costs+"="+name)
		out, err := c.CombinedOutput()
		if err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
		_, number, _ := strings.Cut(string(out), costs+" ")
		x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		if err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
		return x
	}
	for b.Loop() {
		empty := cost("empty")
		b.ReportMetric(empty, "empty-ms")
		for _, name := range []string{"runs", "held"} {
			x := cost(name)
			b.ReportMetric(x, name+"-ms")
			b.ReportMetric(x/empty, name+"/empty")
		}
	}
}
