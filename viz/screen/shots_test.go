package screen

import (
	"image/png"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/viz/scene"
	"underdisc/viz/screen/desk"
	"underdisc/viz/screen/harness"
)

// sitting is a game under test, with the picture that it paints on.
type sitting struct {
	*Game
	t   *testing.T
	on  *ebiten.Image
	dry bool // nothing is painted
}

func sit(t *testing.T, name string, size scene.Point, scale float64) *sitting {
	t.Helper()
	harness.Need(t)
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	g, err := New(Options{Scenario: sc, Tick: time.Second / 60})
	require.NoError(t, err)
	s := &sitting{Game: g, t: t}
	s.resize(size, scale)
	t.Cleanup(func() { s.on.Deallocate() })
	return s
}

func (s *sitting) resize(size scene.Point, scale float64) {
	s.size, s.scale, s.need = size, scale, true
	if s.on != nil {
		s.on.Deallocate()
	}
	s.on = ebiten.NewImage(int(size.X*scale), int(size.Y*scale))
	s.ticks(3)
}

func (s *sitting) ticks(n int) {
	for range n {
		require.NoError(s.t, s.Update())
		if s.dry {
			if s.need {
				s.need, s.drawn = false, s.n
				require.NoError(s.t, s.compose())
			}
			continue
		}
		s.Draw(s.on)
		harness.Frame()
	}
}

// pass lets ticks pass without painting.
func (s *sitting) pass(n int) {
	was := s.dry
	s.dry = true
	s.ticks(n)
	s.dry = was
	s.need = true
	s.ticks(2)
}

// press presses keys, one after the other.
func (s *sitting) press(names ...string) {
	s.t.Helper()
	for _, n := range names {
		k := desk.Key{Name: n}
		s.key(k)
		s.ticks(2)
	}
}

// keep writes the picture to the folder that UNDERDISC_SHOTS names, to be looked
// at.
func (s *sitting) keep(name string) {
	folder := os.Getenv("UNDERDISC_SHOTS")
	if folder == "" {
		return
	}
	f, err := os.Create(filepath.Join(folder, name+".png"))
	require.NoError(s.t, err)
	defer f.Close()
	require.NoError(s.t, png.Encode(f, harness.Pixels(s.on)))
}

func TestPanelsAreShown(t *testing.T) {
	s := sit(t, "gas-bench-plus", scene.Point{X: 1600, Y: 900}, 1)
	s.keep("1-start")
	s.press("Space")
	s.pass(60)
	s.press("a")
	s.keep("2-act")
	s.press("Escape", "f", "Down", "Down", "Down")
	assert.Equal(t, "Faults", s.desk.Panel().Title())
	s.keep("3-faults")
	s.press("Escape", "h")
	s.keep("4-keys")
	s.press("Escape", "u")
	s.keep("5-units")
	s.press("Escape", "c", "Down")
	s.keep("6-scenarios")
}

func TestTwoRunsAreShown(t *testing.T) {
	s := sit(t, "gas-bench-plus", scene.Point{X: 1600, Y: 900}, 1)
	s.press("n", "n", "n", "n", "n")
	s.pass(200)
	s.keep("7-event")
	s.press("w", "Down", "Down", "Down")
	s.keep("8-whatif")
	s.press("Tab", "Tab", "Tab", "Tab", "Tab")
	s.press("Enter")
	s.keep("9-pair")
	s.press("Space")
	s.pass(600)
	assert.True(t, s.desk.Two() && s.desk.Beside)
	assert.Contains(t, s.inWords(), "B, link 5, chamber")
	s.keep("10-pair-later")
	s.press("a")
	s.keep("11-pair-act")
	s.press("Escape", "v", "p")
	s.resize(scene.Point{X: 1280, Y: 720}, 1)
	s.keep("12-projector")
	s.press("h")
	s.keep("13-projector-keys")
	s.press("Escape", "f")
	s.keep("14-projector-faults")
	s.press("Escape", "p", "f")
	s.resize(scene.Point{X: 1024, Y: 640}, 1)
	s.keep("15-small")
	s.press("Escape", "h")
	s.keep("16-small-keys")
	s.press("Escape", "Tab", "Tab", "Tab", "Tab", "Tab", "Tab")
	s.keep("17-small-focus")
}

func TestDrillIsShown(t *testing.T) {
	s := sit(t, "gas-bench-plus", scene.Point{X: 1600, Y: 900}, 1)
	s.press("f", "Down", "Down", "Down", "Tab", "Tab", "Tab", "Right", "Tab")
	s.keep("20-hiding")
	s.press("Tab", "Tab", "Enter")
	s.keep("21-no-code")
	s.board.fields["item code"].SetText("4711")
	s.ticks(3)
	s.press("Enter")
	require.True(t, s.desk.Sealed())
	s.press("Space")
	s.pass(300)
	assert.NotContains(t, s.inWords(), "bleed")
	s.keep("22-drill")
	s.press("r", "Down", "Down", "Tab", "Enter")
	s.keep("23-answer")
	s.press("Escape", "F4")
	s.keep("24-refused")
	s.press("p")
	s.resize(scene.Point{X: 1280, Y: 720}, 1)
	s.press("f", "Down", "Down", "Down")
	s.keep("25-projector-faults")
	s.press("Escape", "h")
	s.keep("26-projector-keys")
	s.press("Escape", "p", "a")
	s.resize(scene.Point{X: 1024, Y: 640}, 2)
	s.keep("27-sharp")
}
