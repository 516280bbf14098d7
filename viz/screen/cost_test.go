//go:build unix

package screen

import (
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"underdisc/scenarios"
	"underdisc/viz/scene"
	"underdisc/viz/screen/harness"
)

// BenchmarkFrame is Go's time for Update and Draw of one frame of a run that
// goes on, at 1600 by 900, and the allocations; half of the frames paint.
func BenchmarkFrame(b *testing.B) {
	harness.Need(b)
	for _, c := range []struct {
		name  string
		panel string
		two   bool
	}{{"one run", "", false}, {"with a panel", "f", false}, {"two runs", "", true}} {
		b.Run(c.name, func(b *testing.B) {
			sc, err := scenarios.Load("gas-bench-plus")
			if err != nil {
				b.Fatal(err)
			}
			g, err := New(Options{Scenario: sc, Tick: time.Second / 60})
			if err != nil {
				b.Fatal(err)
			}
			g.size, g.scale = scene.Point{X: 1600, Y: 900}, 1
			on := ebiten.NewImage(1600, 900)
			made := uint64(0) // allocations
			frame := func(count bool) time.Duration {
				var before, after runtime.MemStats
				if count {
					runtime.ReadMemStats(&before)
				}
				from := time.Now()
				if err := g.Update(); err != nil {
					b.Fatal(err)
				}
				g.Draw(on)
				d := time.Since(from)
				if count {
					runtime.ReadMemStats(&after)
					made += after.Mallocs - before.Mallocs
				}
				harness.Frame() // what has been queued goes to the card, outside of what is measured
				return d
			}
			if c.two {
				if err := g.desk.Session.WhatIf(); err != nil {
					b.Fatal(err)
				}
				g.desk.Beside = true
			}
			g.desk.Session.Go()
			if c.panel != "" {
				g.press(c.panel)
			}
			for range 180 { // past the first lift's beginning
				frame(false)
			}
			var times []time.Duration
			for b.Loop() {
				times = append(times, frame(false))
			}
			const counted = 200
			for range counted {
				frame(true)
			}
			slices.Sort(times)
			b.ReportMetric(ms(times[len(times)/2]), "median-ms")
			b.ReportMetric(ms(times[len(times)*99/100]), "p99-ms")
			b.ReportMetric(float64(made)/counted, "mallocs/frame")
		})
	}
}

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// What a program of its own shows for BenchmarkAgainstEmpty, from the
// environment: which game, and for how many frames.
const costs = "UNDERDISC_COSTS"

func init() { instead[costs] = showCosts }

// empty is a game that does nothing.
type empty struct{}

func (empty) Update() error                       { return nil }
func (empty) Draw(*ebiten.Image)                  {}
func (empty) LayoutF(w, h float64) (_, _ float64) { return w, h }
func (empty) Layout(w, h int) (int, int)          { return w, h }

// counted ends a game after some frames and says what a frame has cost.
type counted struct {
	ebiten.Game
	n, of int
	from  time.Duration
}

const warm = 60 // frames before it counts

func (c *counted) Draw(s *ebiten.Image) {
	c.Game.Draw(s)
	if c.n++; c.n == warm {
		c.from = used()
	}
}

func (c *counted) Update() error {
	if c.n >= c.of+warm {
		fmt.Printf("%s %g\n", costs, ms(used()-c.from)/float64(c.n-warm))
		return ebiten.Termination
	}
	return c.Game.Update()
}

func (c *counted) LayoutF(w, h float64) (float64, float64) {
	return c.Game.(ebiten.LayoutFer).LayoutF(w, h)
}

// used is the processor time of this program so far.
func used() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// showCosts runs the game that the environment names.
func showCosts(what string) error {
	name, frames, _ := strings.Cut(what, " ")
	n, err := strconv.Atoi(frames)
	if err != nil {
		return err
	}
	c := &counted{Game: empty{}, of: n}
	if name != "empty" {
		sc, err := scenarios.Load("gas-bench-plus")
		if err != nil {
			return err
		}
		g, err := New(Options{Scenario: sc, Tick: time.Second / 60})
		if err != nil {
			return err
		}
		if name != "held" {
			g.desk.Session.Go()
		}
		if name == "panel" {
			g.press("f")
		}
		c.Game = g
	}
	ebiten.SetWindowSize(1600, 900)
	ebiten.SetScreenClearedEveryFrame(name == "empty")
	ebiten.SetTPS(ebiten.SyncWithFPS)
	ebiten.SetRunnableOnUnfocused(true)
	return ebiten.RunGameWithOptions(c, &ebiten.RunGameOptions{SingleThread: true})
}

// BenchmarkAgainstEmpty is the processor time of a frame in a window of its
// own, and its ratio to that of a program that shows nothing.
func BenchmarkAgainstEmpty(b *testing.B) {
	harness.Need(b)
	self, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	cost := func(name string) float64 {
		c := exec.Command(self, "-test.run=^$")
		c.Env = append(os.Environ(), costs+"="+name+" 600")
		out, err := c.CombinedOutput()
		if err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
		_, number, _ := strings.Cut(string(out), costs+" ")
		x, err := strconv.ParseFloat(strings.TrimSpace(strings.Split(number+"\n", "\n")[0]), 64)
		if err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
		return x
	}
	for b.Loop() {
		base := cost("empty")
		b.ReportMetric(base, "empty-ms")
		for _, name := range []string{"held", "runs", "panel"} {
			x := cost(name)
			b.ReportMetric(x, name+"-ms")
			b.ReportMetric(x/base, name+"/empty")
		}
	}
}

// press presses a key outside of a tick.
func (g *Game) press(name string) {
	g.refresh()
	g.key(keyNamed(name))
}
