// Guest is a game to try the harness on: a square of 20 that follows the
// pointer, green while A is held, larger by every click, and text that is
// typed. Escape ends it.
package main

import (
	"fmt"
	"image"
	"image/color"
	"os"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"
)

type game struct {
	x, y, ticks int
	side        int
	held        bool
	typed       []rune
}

func (g *game) Update() error {
	g.ticks++
	g.x, g.y = ebiten.CursorPosition()
	g.held = ebiten.IsKeyPressed(ebiten.KeyA)
	if inpututil.IsMouseButtonJustPressed(ebiten.MouseButtonLeft) {
		g.side += 10
	}
	for _, r := range ebiten.AppendInputChars(nil) {
		g.typed = append(g.typed, r)
		fmt.Printf("typed %s\n", string(g.typed))
	}
	if ebiten.IsKeyPressed(ebiten.KeyEscape) {
		fmt.Println("ticks", g.ticks)
		return ebiten.Termination
	}
	return nil
}

func (g *game) Draw(s *ebiten.Image) {
	c := color.RGBA{R: 255, A: 255}
	if g.held {
		c = color.RGBA{G: 255, A: 255}
	}
	s.SubImage(image.Rect(g.x, g.y, g.x+g.side, g.y+g.side)).(*ebiten.Image).Fill(c)
}

func (g *game) Layout(w, h int) (int, int) { return w, h }

func main() {
	if len(os.Args) > 1 {
		fmt.Fprintln(os.Stderr, "no:", os.Args[1])
		os.Exit(2)
	}
	if err := ebiten.RunGame(&game{side: 20}); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
