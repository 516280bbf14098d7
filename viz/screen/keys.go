package screen

import (
	"strings"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"underdisc/viz/screen/desk"
)

// named are the keys that bear no character.
var named = map[ebiten.Key]string{
	ebiten.KeySpace: "Space", ebiten.KeyTab: "Tab", ebiten.KeyEnter: "Enter", ebiten.KeyNumpadEnter: "Enter", ebiten.KeyEscape: "Escape",
	ebiten.KeyArrowUp: "Up", ebiten.KeyArrowDown: "Down", ebiten.KeyArrowLeft: "Left", ebiten.KeyArrowRight: "Right",
	ebiten.KeyHome: "Home", ebiten.KeyEnd: "End",
	ebiten.KeyF1: "F1", ebiten.KeyF2: "F2", ebiten.KeyF4: "F4", ebiten.KeyF11: "F11",
}

// marked are the keys that bear one, with what it is where the layout of the
// keyboard is not known; some bear a letter in some layouts only.
var marked = map[ebiten.Key]string{ebiten.KeyComma: ",", ebiten.KeyPeriod: ".", ebiten.KeySemicolon: "", ebiten.KeyQuote: "",
	ebiten.KeySlash: "", ebiten.KeyBracketLeft: "", ebiten.KeyBracketRight: "", ebiten.KeyIntlBackslash: ""}

func init() {
	for k := ebiten.KeyA; k <= ebiten.KeyZ; k++ {
		marked[k] = strings.ToLower(k.String())
	}
}

// keyOf is the key as the person sees it, whatever the layout of the keyboard.
// One that means nothing under its own name counts by its place.
func keyOf(k ebiten.Key, ctrl, shift bool) (desk.Key, bool) {
	if name, ok := named[k]; ok {
		return desk.Key{Name: name, Ctrl: ctrl, Shift: shift}, true
	}
	place, ok := marked[k]
	if !ok {
		return desk.Key{}, false
	}
	key := desk.Key{Name: strings.ToLower(ebiten.KeyName(k)), Ctrl: ctrl, Shift: shift}
	if key.Name == "" || desk.CommandFor(key) == nil && place != "" {
		key.Name = place
	}
	return key, key.Name != ""
}

// A key held down acts again after a while, then steadily, in ticks.
const (
	repeatAfter = 30
	repeatEvery = 4
)

// keys hands out the keys that act at this tick.
func (g *Game) keys(act func(desk.Key)) {
	// A key may be down and up again between two ticks of a busy machine.
	g.pressed = inpututil.AppendJustPressedKeys(g.pressed[:0])
	just := len(g.pressed)
	g.pressed = inpututil.AppendPressedKeys(g.pressed)
	ctrl := ebiten.IsKeyPressed(ebiten.KeyControl) || ebiten.IsKeyPressed(ebiten.KeyMeta)
	shift := ebiten.IsKeyPressed(ebiten.KeyShift)
	if ebiten.IsKeyPressed(ebiten.KeyAlt) {
		return // the window system's
	}
	for i, k := range g.pressed {
		n := inpututil.KeyPressDuration(k)
		key, ok := keyOf(k, ctrl, shift)
		if !ok || i >= just && !(repeats(key) && n >= repeatAfter && n%repeatEvery == 0) {
			continue
		}
		act(key)
	}
}

// repeats tells the keys that may be held.
func repeats(k desk.Key) bool {
	switch k.Name {
	case ".", ",", "Tab", "Up", "Down", "Left", "Right":
		return true
	}
	return false
}
