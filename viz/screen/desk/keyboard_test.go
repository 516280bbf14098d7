package desk

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
)

func TestEveryCommandHasItsOwnKeyAndIsInHelp(t *testing.T) {
	taken := map[Key]string{}
	for _, m := range Motions() {
		for _, k := range m.Keys {
			assert.Empty(t, taken[k], "%v", k)
			taken[k] = m.Help
		}
	}
	for _, c := range Commands() {
		require.NotEmpty(t, c.Keys, c.Name)
		require.NotNil(t, c.Do, c.Name)
		for _, k := range c.Keys {
			assert.Empty(t, taken[k], "%v of %s", k, c.Name)
			taken[k] = c.Name
			assert.Equal(t, c.Name, CommandFor(k).Name)
		}
	}
	d, _ := newDesk(t, "gas-bench-plus")
	press(d, "F1")
	require.NotNil(t, d.Panel())
	help := ""
	for _, it := range d.Items() {
		help += it.Text + " " + it.Beside + "\n"
	}
	for k, what := range taken {
		assert.Contains(t, help, k.String(), what)
	}
	for _, c := range Commands() {
		assert.Contains(t, help, c.Help+" ")
	}
	for _, row := range append(TimeBar, ViewsBar) {
		for _, name := range row {
			assert.NotNil(t, Find(name).Word, name)
		}
	}
}

func TestTypingFiresNoShortcut(t *testing.T) {
	d, _ := newDesk(t, "gas-bench-plus")
	press(d, "f", "Down") // the first fault
	press(d, "Tab")       // its severity
	require.True(t, d.Typing(), d.Focus())
	was := d.Session.Pace()
	for _, c := range Commands() {
		for _, k := range c.Keys {
			stops := d.stopsNow()
			assert.False(t, d.Key(k, stops, Shown{}), "%v did something", k)
		}
	}
	for _, name := range []string{"Left", "Right", "Home", "End"} {
		assert.False(t, d.Key(Key{Name: name}, d.stopsNow(), Shown{}), "%s is the caret's", name)
	}
	assert.Equal(t, was, d.Session.Pace())
	assert.IsType(t, &faultPanel{}, d.Panel())
	assert.False(t, d.Quits)
	press(d, "Escape", "Space")
	assert.True(t, d.Session.Pace().Runs, "outside a field the key acts again")
}

func TestKeyboardReachesEverything(t *testing.T) {
	d, _ := newDesk(t, "gas-bench-plus")
	spots := []scene.Spot{{Name: "why"}, {Name: "link 1, switch"}, {Name: "charts"}, {Name: "pin 1"}, {Name: "pin 2"}}
	stops := d.Stops(nil, spots)
	var names []string
	for _, s := range stops {
		names = append(names, s.Name())
	}
	assert.Equal(t, "button act,button faults,button beside,button keys,spot why,spot link 1, switch,spot charts,"+
		"button back,button run,button step,button what-if,button start,button last,button next,button slower,button faster,spot pin 1,spot pin 2",
		strings.Join(names, ","))
	for range stops {
		d.Key(Key{Name: "Tab"}, stops, Shown{})
	}
	assert.Equal(t, "spot pin 2", d.Focus())
	d.Key(Key{Name: "Tab"}, stops, Shown{})
	assert.Equal(t, "button act", d.Focus(), "round the end")
	d.Key(Key{Name: "Tab", Shift: true}, stops, Shown{})
	assert.Equal(t, "spot pin 2", d.Focus())
	// Every command can be reached on the panel of keys and done from there.
	for _, c := range Commands() {
		if c.Can != nil && !c.Can(d) || c.Name == "keys" || c.Name == "quit" || c.Name == "open" {
			continue
		}
		d.Close()
		press(d, "h")
		for i := 0; d.Focus() != "item "+c.Name && i < 60; i++ {
			press(d, "Tab")
		}
		require.Equal(t, "item "+c.Name, d.Focus())
		press(d, "Enter")
		assert.NotEqual(t, "Keys", titleOf(d), c.Name)
	}
}

func titleOf(d *Desk) string {
	if d.Panel() == nil {
		return ""
	}
	return d.Panel().Title()
}
