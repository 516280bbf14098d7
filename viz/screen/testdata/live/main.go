// Command live shows a scenario as the program does, for tests that drive its
// window. Saved runs go to the working folder; at its end it writes the events
// of its runs, to the last bit.
package main

import (
	"fmt"
	"os"
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"underdisc/scenarios"
	"underdisc/viz/screen"
)

func main() {
	if err := show(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// host tells of every tick, and of the events once the person has enough.
type host struct {
	screen.Native
	game *screen.Game
	told bool
}

// Ticked implements screen.Host.
func (h *host) Ticked(n int, state string) {
	fmt.Printf("tick %d %s\n", n, state)
	if h.told || !h.game.Desk().Quits {
		return
	}
	h.told = true
	s := h.game.Desk().Session
	for i, l := range s.Lanes() {
		for _, e := range l.Run.Sim.Events() {
			if e.T <= s.Head() {
				fmt.Printf("event %d %x %s %x\n", i, e.T, e.Name, e.After)
			}
		}
	}
	fmt.Println("events told")
}

func show(name string) error {
	sc, err := scenarios.Load(name)
	if err != nil {
		return err
	}
	h := &host{Native: screen.Native{Words: os.Stdout}}
	h.game, err = screen.New(screen.Options{Scenario: sc, Host: h, Tick: time.Second / 60})
	if err != nil {
		return err
	}
	ebiten.SetScreenClearedEveryFrame(false)
	return ebiten.RunGame(h.game)
}
