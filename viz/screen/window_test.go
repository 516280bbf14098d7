package screen_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/viz/screen/harness"
	"underdisc/viz/session"
)

var keysOf = map[string]ebiten.Key{"Space": ebiten.KeySpace, "Tab": ebiten.KeyTab, "Enter": ebiten.KeyEnter, "Down": ebiten.KeyArrowDown,
	"Right": ebiten.KeyArrowRight, "Escape": ebiten.KeyEscape, "F2": ebiten.KeyF2, ".": ebiten.KeyPeriod, ",": ebiten.KeyComma,
	"a": ebiten.KeyA, "d": ebiten.KeyD, "f": ebiten.KeyF, "n": ebiten.KeyN, "w": ebiten.KeyW, "x": ebiten.KeyX, "v": ebiten.KeyV}

// live is the program in a window of its own.
type live struct {
	*harness.Window
	t *testing.T
}

func (l live) press(names ...string) {
	l.t.Helper()
	for _, n := range names {
		k, ok := keysOf[n]
		require.True(l.t, ok, n)
		l.Press(k)
		l.Tick(6) // the state is told anew
		l.Pixels()
	}
}

var stateLine = regexp.MustCompile(`tick \d+ t=([0-9.]+) head=([0-9.]+) lanes=(\d) (.*)`)

// state is what the program has told last: moment shown, latest moment, lanes,
// the rest.
func (l live) state() (t, head float64, lanes int, rest string) {
	l.t.Helper()
	all := stateLine.FindAllStringSubmatch(l.Said(), -1)
	require.NotEmpty(l.t, all)
	m := all[len(all)-1]
	t, _ = strconv.ParseFloat(m[1], 64)
	head, _ = strconv.ParseFloat(m[2], 64)
	lanes, _ = strconv.Atoi(m[3])
	return t, head, lanes, m[4]
}

// A whole sitting in a window, by injected keys alone; what was saved replays
// bit for bit.
func TestWindowByKeysAlone(t *testing.T) {
	harness.Need(t)
	folder := t.TempDir()
	l := live{harness.Start(t, harness.Program{Package: "underdisc/viz/screen/testdata/live", Args: []string{"gas-bench-plus"}, Dir: folder, Width: 1280, Height: 720}), t}
	defer func() {
		if said := l.Said(); t.Failed() {
			t.Log("it said last:\n" + said[max(0, len(said)-4000):])
		}
	}()
	l.Tick(2)
	l.Pixels()
	l.press("Space")
	l.Tick(60)
	l.press("f", "Down", "Down", "Down") // bleed plugged, typical, now
	l.press("Tab", "Tab", "Tab", "Tab", "Tab", "Enter")
	_, _, _, rest := l.state()
	require.NotContains(t, rest, "panel")

	// Hold at the pop.
	for i := 0; ; i++ {
		require.Less(t, i, 12)
		l.press("n")
		_, _, _, rest := l.state()
		for j := 0; strings.HasPrefix(rest, "looking"); j++ {
			require.Less(t, j, 600)
			l.Tick(6)
			_, _, _, rest = l.state()
		}
		l.Pixels()
		l.Tick(30) // until the words are told
		if strings.Contains(l.Said()[max(strings.LastIndex(l.Said(), "\nrun: "), 0):], "\nwhy: opening.") {
			break
		}
	}
	pop, head, _, rest := l.state()
	assert.InDelta(t, 2.2, pop, 0.1)
	assert.Equal(t, head, pop)
	assert.Contains(t, rest, "held")

	l.press(".", ".", ".", ",", ",")
	back, head, _, _ := l.state()
	assert.Less(t, back, head, "back in time")
	assert.Greater(t, back, pop)

	l.press("a", "w") // what if someone throws the selector
	for i := 0; !strings.HasPrefix(lastLine(l.Said(), "> "), "Selector"); i++ {
		require.Less(t, i, 9)
		l.press("Tab")
	}
	l.press("Right", "Right") // open, then off
	_, _, lanes, _ := l.state()
	assert.Equal(t, 2, lanes)
	l.press("Escape", "v", "v", "d", "Space")
	l.Tick(420)
	l.press("Space", "F2", "x", "F2")
	_, head, _, _ = l.state()
	l.Press(ebiten.KeyControlLeft, ebiten.KeyQ)
	assert.True(t, l.Over())
	require.Eventually(t, func() bool { return strings.Contains(l.Said(), "events told") }, 20*time.Second, 10*time.Millisecond)

	files, err := filepath.Glob(filepath.Join(folder, "*.yaml"))
	require.NoError(t, err)
	require.Len(t, files, 2, "one for each run")
	for lane, name := range []string{"gas-bench-plus-run.yaml", "gas-bench-plus-run-b.yaml"} {
		data, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		sc, err := scenarios.Parse(name, data, nil)
		require.NoError(t, err)
		assert.InDelta(t, head, sc.Log.Reached, 1e-6)
		s, err := session.New(sc, session.Options{Known: sc.Log.Reached})
		require.NoError(t, err)
		var want []string
		for _, line := range strings.Split(l.Said(), "\n") {
			if rest, ok := strings.CutPrefix(line, fmt.Sprintf("event %d ", lane)); ok {
				want = append(want, rest)
			}
		}
		var got []string
		for _, e := range s.Lanes()[0].Run.Sim.Events() {
			if e.T <= head+1e-6 {
				got = append(got, fmt.Sprintf("%x %s %x", e.T, e.Name, e.After))
			}
		}
		assert.Greater(t, len(want), 6)
		assert.Equal(t, want, got, name)
	}
}

// lastLine is the last line that begins so, without its beginning.
func lastLine(text, begins string) string {
	last := ""
	for _, line := range strings.Split(text, "\n") {
		if rest, ok := strings.CutPrefix(line, begins); ok {
			last = rest
		}
	}
	return last
}
