package screen

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/sim"
	"underdisc/viz/scene"
	"underdisc/viz/screen/harness"
)

// shelf is a host that keeps what is saved, and opens it again.
type shelf struct {
	nobody
	names []string
	files map[string][]byte
	twins []string
	said  []string
	opens string
	kept  []byte
}

func (h *shelf) Save(name string, data []byte) error {
	h.names, h.files[name] = append(h.names, name), data
	return nil
}
func (h *shelf) Open(done func(string, []byte)) { done(h.opens, h.files[h.opens]) }
func (h *shelf) Twin(text string)               { h.twins = append(h.twins, text) }
func (h *shelf) Status(line string)             { h.said = append(h.said, line) }
func (h *shelf) Keep(_ string, data []byte) error {
	h.kept = data
	return nil
}

// A whole sitting by the keyboard alone; what was saved replays bit for bit.
func TestJourneyByKeys(t *testing.T) {
	harness.Need(t)
	host := &shelf{files: map[string][]byte{}}
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	g, err := New(Options{Scenario: sc, Host: host, Tick: time.Second / 60})
	require.NoError(t, err)
	s := &sitting{Game: g, t: t, dry: true}
	s.resize(scene.Point{X: 1280, Y: 720}, 1)
	session := func() interface {
		T() float64
		Head() float64
	} {
		return s.desk.Session
	}

	s.press("Space")
	s.ticks(60)
	s.press("f", "Down", "Down", "Down") // bleed plugged, typical, now
	s.press("Tab", "Tab", "Tab", "Tab", "Tab", "Enter")
	require.Nil(t, s.desk.Panel())
	require.Len(t, s.desk.Session.Lanes()[0].Did, 1)
	for i := 0; lastEvent(s) != "disc-lift"; i++ { // hold at the pop
		require.Less(t, i, 20)
		s.press("n")
		for s.desk.Session.Pace().Seeks {
			s.ticks(1)
		}
	}
	pop := session().T()
	assert.False(t, s.desk.Session.Pace().Runs)
	assert.InDelta(t, 2.2, pop, 0.1)
	s.press(".", ".", ".")
	assert.Greater(t, session().T(), pop)
	s.press(",", ",")
	assert.Less(t, session().T(), session().Head())
	back := session().T()
	s.press("w", "a", "w") // from the faults to what people do
	require.Equal(t, "What if someone acts", s.desk.Panel().Title())
	for s.desk.Focus() != "item relay.selector.position" {
		s.press("Tab")
	}
	s.press("Right", "Right") // open, then off
	require.True(t, s.desk.Two())
	assert.True(t, s.desk.Beside)
	assert.Equal(t, back, s.desk.Session.Lanes()[1].Forks)
	s.press("Escape", "d", "d", "Space")
	s.ticks(600)
	s.press("Space", "F2", "x", "F2")
	require.Len(t, host.names, 2)
	assert.NotEmpty(t, host.kept)

	was := s.desk.Session.Lanes()
	until := []float64{session().Head(), session().Head()}
	for i, name := range host.names {
		host.opens = name
		s.press("F4")
		require.Len(t, s.desk.Session.Lanes(), 1)
		if i == 0 { // A went further than the fork shows
			until[i] = session().Head()
		}
		assert.Equal(t, upTo(was[i].Run.Sim.Events(), until[i]), upTo(s.desk.Session.Lanes()[0].Run.Sim.Events(), until[i]), name)
		assert.Greater(t, len(upTo(was[i].Run.Sim.Events(), until[i])), 6, name)
	}
}

func lastEvent(s *sitting) string {
	name := ""
	for _, e := range s.desk.Session.Lanes()[0].Run.Sim.Events() {
		if e.T <= s.desk.Session.T() {
			name = e.Name
		}
	}
	return name
}

func upTo(events []sim.Event, t float64) []sim.Event {
	for i := range events {
		if events[i].T > t {
			return events[:i]
		}
	}
	return events
}

func TestPictureIsPaintedOnlyIfItChanges(t *testing.T) {
	s := sit(t, "gas-bench-plus", scene.Point{X: 1280, Y: 720}, 1)
	s.ticks(30)
	was := s.drawn
	s.ticks(60)
	assert.Equal(t, was, s.drawn, "held and untouched")
	s.press("Space")
	from := s.n
	painted := 0
	for range 60 {
		before := s.drawn
		s.ticks(1)
		if s.drawn != before {
			painted++
		}
	}
	assert.InDelta(t, 30, painted, 2, "of %d ticks", s.n-from)
}

func TestTwinIsNotToldTooOften(t *testing.T) {
	harness.Need(t)
	host := &shelf{files: map[string][]byte{}}
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	g, err := New(Options{Scenario: sc, Host: host, Tick: time.Second / 60})
	require.NoError(t, err)
	s := &sitting{Game: g, t: t}
	s.resize(scene.Point{X: 1280, Y: 720}, 1)
	s.press("Space")
	s.ticks(60)
	assert.InDelta(t, 3, len(host.twins), 1, "in a second")
	s.press("Space")
	s.ticks(60)
	assert.Equal(t, s.inWords(), host.twins[len(host.twins)-1], "the last picture is told in the end")
}
