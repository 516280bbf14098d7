package desk

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/viz/scene"
	"underdisc/viz/session"
)

func TestWhatIf(t *testing.T) {
	d, _ := newDesk(t, "gas-bench-plus")
	press(d, "Space")
	pass(t, d, 1)
	press(d, "w")
	assert.False(t, d.Session.Pace().Runs)
	assert.Equal(t, "What if something fails", titleOf(d))
	list := item(t, d, "fault")
	list.Pick(index(list.Options, "seat leaks"))
	item(t, d, "set").Do()
	require.True(t, d.Two())
	assert.True(t, d.Beside)
	assert.Empty(t, d.Session.Lanes()[0].Did)
	require.Len(t, d.Session.Lanes()[1].Did, 1)
	press(d, "v")
	assert.False(t, d.Beside)
	press(d, "x")
	assert.Equal(t, 1, d.Shown)
	press(d, "F2")
	press(d, "k")
	assert.False(t, d.Two())
	assert.Len(t, d.Session.Lanes()[0].Did, 1, "B goes on")
	press(d, "v")
	line, refused := d.Notice()
	assert.True(t, refused)
	assert.Contains(t, line, "Not now")
}

func TestChartsAndPins(t *testing.T) {
	d, _ := newDesk(t, "gas-bench-plus")
	press(d, "Space")
	pass(t, d, 2)
	press(d, "Space")
	sh := Shown{Spots: []scene.Spot{{Name: "charts", At: scene.Rect{Right: 100, Bottom: 50}}, {Name: "pin 2", At: scene.Rect{Left: 200, Right: 230, Bottom: 50}}},
		Axis: scene.Axis{From: 0.5, To: 1.5, Left: 0, Right: 100}, Pins: [2][]scene.Mark{{{}, {T: 0.75, Done: true}}}}
	stops := d.Stops(nil, sh.Spots)
	d.Point(scene.Point{X: 50, Y: 10}, stops, sh)
	assert.InDelta(t, 1.0, d.Session.T(), 1e-9)
	assert.Equal(t, "spot charts", d.Focus())
	d.Key(Key{Name: "Right"}, stops, sh)
	assert.InDelta(t, 1.01, d.Session.T(), 1e-9)
	d.Key(Key{Name: "Home"}, stops, sh)
	assert.InDelta(t, 0.5, d.Session.T(), 1e-9)
	d.Key(Key{Name: "End"}, stops, sh)
	assert.Equal(t, d.Session.Head(), d.Session.T())
	d.Point(scene.Point{X: 210, Y: 10}, stops, sh)
	assert.InDelta(t, 0.75, d.Session.T(), 1e-9)
	d.SetFocus("spot charts", stops)
	d.Session.Seek(0)
	d.SetFocus("spot pin 2", stops)
	d.Key(Key{Name: "Enter"}, stops, sh)
	assert.InDelta(t, 0.75, d.Session.T(), 1e-9)
}

func TestUnitsAreThoseChosen(t *testing.T) {
	d, _ := newDesk(t, "gas-bench-plus")
	press(d, "u")
	item(t, d, "pressure").Pick(1)
	item(t, d, "zero").Pick(1)
	item(t, d, "flow").Pick(2)
	assert.Equal(t, "psig", d.Units.PressureName())
	press(d, "Escape", "a")
	assert.Equal(t, "7936.64 lb/h", item(t, d, "inflow.mass-flow").Value)
	press(d, "Escape", "f")
	list := item(t, d, "fault")
	list.Pick(index(list.Options, "back pressure"))
	assert.Contains(t, item(t, d, "severity").Value, "psig")
}

func TestPaceInWords(t *testing.T) {
	for _, c := range []struct {
		p              session.Pace
		state, measure string
	}{
		{session.Pace{Asked: 0.02}, "held", "1 s here = 20 ms there"},
		{session.Pace{Runs: true, Asked: 1, Given: 1}, "running", "1 s here = 1 s there"},
		{session.Pace{Runs: true, Asked: 1, Given: 0.02, Slowed: true}, "slowed by itself", "1 s here = 20 ms there"},
		{session.Pace{Runs: true, Asked: 100, Given: 31.4159, Behind: true}, "cannot keep up", "1 s here = 31 s there"},
		{session.Pace{Runs: true, Asked: 100, Given: 100}, "running", "1 s here = 100 s there"},
		{session.Pace{Seeks: true}, "looking for the next event", ""},
		{session.Pace{Asked: 0.001}, "held", "1 s here = 1 ms there"},
	} {
		state, measure := PaceWords(c.p)
		assert.Equal(t, c.state, state)
		assert.Equal(t, c.measure, measure)
	}
}

func TestSaveOpenAndScenarios(t *testing.T) {
	d, r := newDesk(t, "gas-bench-plus")
	press(d, "F2")
	assert.Equal(t, []byte("log"), r.saved["run-0.yaml"])
	r.opens = []byte("name: mine\ntitle: Mine\ninclude: gas-bench\n")
	press(d, "F4")
	assert.Equal(t, "mine", d.Scenario.Name)
	r.opens = []byte("name: mine\nnonsense: 1\n")
	press(d, "F4")
	line, refused := d.Notice()
	assert.True(t, refused)
	assert.Contains(t, line, "nonsense")
	assert.Equal(t, "mine", d.Scenario.Name, "the run stays")
	press(d, "c", "Down")
	press(d, "Enter")
	assert.Equal(t, scenarios.Names()[0], d.Scenario.Name)
	assert.Nil(t, d.Panel())
}

func TestWhatIfAtTheVeryStart(t *testing.T) {
	d, _ := newDesk(t, "gas-bench-plus")
	press(d, "w")
	list := item(t, d, "fault")
	list.Pick(index(list.Options, "seat leaks"))
	item(t, d, "set").Do()
	line, refused := d.Notice()
	assert.False(t, refused, line)
	require.True(t, d.Two())
}
