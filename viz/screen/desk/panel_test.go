package desk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
)

func TestActing(t *testing.T) {
	d, r := newDesk(t, "gas-bench-plus")
	press(d, "Space")
	pass(t, d, 0.5)
	press(d, "a")
	item(t, d, "inflow.mass-flow").Type("1800") // in the unit that is shown
	item(t, d, "inflow.mass-flow").Do()
	item(t, d, "relay.selector.position").Pick(1)
	item(t, d, "line.block-valve.opening").Pick(2)
	var did []string
	for _, a := range d.Session.Lanes()[0].Did {
		require.NotNil(t, a.Command)
		assert.InDelta(t, 0.5, a.Command.At, 0.02)
		did = append(did, fmt.Sprintf("%s=%g%s", a.Command.Path, a.Command.Value.Number, a.Command.Value.Word))
	}
	assert.Equal(t, []string{"inflow.mass-flow=0.5", "relay.selector.position=0open", "line.block-valve.opening=0.5"}, did)
	assert.Equal(t, 2, item(t, d, "line.block-valve.opening").Picked)
	assert.Equal(t, "now 1800 kg/h", item(t, d, "inflow.mass-flow").Beside)
	assert.Contains(t, r.last(), "Line block valve: 1/2")

	item(t, d, "inflow.mass-flow").Type("much")
	item(t, d, "inflow.mass-flow").Do()
	assert.Contains(t, item(t, d, "inflow.mass-flow").Wrong, "much")
	assert.Len(t, d.Session.Lanes()[0].Did, 3)
	assert.Equal(t, Caution, d.Items()[0].Kind)
	assert.Contains(t, d.Items()[0].Text, "prove zero energy")
}

func TestFaultWithSeverityAndDelay(t *testing.T) {
	d, _ := newDesk(t, "gas-bench-plus")
	press(d, "f")
	list := item(t, d, "fault")
	list.Pick(index(list.Options, "pilot leaks"))
	assert.Contains(t, item(t, d, "severity").Beside, "typical")
	item(t, d, "severity").Type("6 mm2")
	item(t, d, "severity").Step(1)
	assert.Equal(t, "6.5 mm2", item(t, d, "severity").Value)
	item(t, d, "delay").Type("2")
	item(t, d, "set").Do()
	assert.Nil(t, d.Panel())
	did := d.Session.Lanes()[0].Did
	require.Len(t, did, 1)
	assert.Equal(t, "pilot-leaks", did[0].Fault.Name)
	assert.InDelta(t, 6.5e-6, *did[0].Fault.Severity, 1e-12)
	assert.Equal(t, 2.0, did[0].Fault.At)
	assert.False(t, did[0].Hidden)
	// Without a word about severity it is the typical one, and now.
	press(d, "f")
	list = item(t, d, "fault")
	list.Pick(index(list.Options, "bleed plugged"))
	item(t, d, "delay").Type("-1 s")
	item(t, d, "set").Do()
	assert.Contains(t, item(t, d, "delay").Wrong, "0 s or later")
	item(t, d, "delay").Type("0 s")
	item(t, d, "set").Do()
	require.Len(t, d.Session.Lanes()[0].Did, 2)
	assert.Nil(t, d.Session.Lanes()[0].Did[1].Fault.Severity)
}

func TestOnlyFaultsThatThePlantCanHave(t *testing.T) {
	plus, _ := newDesk(t, "gas-bench-plus")
	bare, _ := newDesk(t, "gas-bench")
	all, some := fault.Possible(plus.plant()), fault.Possible(bare.plant())
	assert.Less(t, len(all), len(fault.All()), "no bench has a fire or a fuse")
	assert.Less(t, len(some), len(all))
	for _, f := range some {
		assert.NotEqual(t, "dump-restricted", f.Name, "the bench has no dump line")
	}
	press(bare, "a")
	for _, it := range bare.Items() {
		assert.NotContains(t, it.Name, "block-valve")
	}
}

func TestHiddenFaultIsNotTold(t *testing.T) {
	for _, how := range []string{"code", "answer"} {
		t.Run(how, func(t *testing.T) {
			d, r := newDesk(t, "gas-bench-plus")
			press(d, "f")
			list := item(t, d, "fault")
			list.Pick(index(list.Options, "inlet throttled"))
			r.said = nil
			item(t, d, "hidden").Pick(1)
			item(t, d, "set").Do()
			assert.Contains(t, item(t, d, "code").Wrong, "Found no code")
			item(t, d, "code").Type("4711")
			item(t, d, "set").Do()
			require.True(t, d.Sealed())
			for _, panel := range []string{"a", "f", "r", "h"} {
				d.Close()
				press(d, panel)
				for _, it := range d.Items() {
					assert.NotContains(t, strings.ToLower(it.Text+it.Wrong+it.Value), "throttled", panel)
					if it.Kind == List {
						assert.Equal(t, -1, it.Picked, "nothing is picked beforehand")
					}
				}
			}
			assert.NotContains(t, strings.ToLower(strings.Join(r.said, "\n")), "throttled")

			d.Close()
			press(d, "f")
			list = item(t, d, "fault")
			list.Pick(index(list.Options, "seat leaks"))
			assert.Equal(t, []string{"hidden"}, item(t, d, "hidden").Options, "none can be added openly")

			press(d, "Escape", "r")
			item(t, d, "code").Type("0815")
			item(t, d, "open it").Do()
			require.True(t, d.Sealed())
			list = item(t, d, "answer")
			list.Pick(index(list.Options, "seat leaks"))
			item(t, d, "answer it").Do()
			require.True(t, d.Sealed())
			assert.Contains(t, item(t, d, "answer it").Wrong, "Not that one")
			if how == "code" {
				item(t, d, "code").Type("4711")
				item(t, d, "open it").Do()
			} else {
				item(t, d, "answer").Pick(index(list.Options, "inlet throttled"))
				item(t, d, "answer it").Do()
			}
			assert.False(t, d.Sealed())
			assert.Contains(t, r.last(), "inlet throttled")
			assert.False(t, Find("reveal").Can(d))

			press(d, "w") // what is revealed stays so in a second run
			list = item(t, d, "fault")
			list.Pick(index(list.Options, "seat leaks"))
			item(t, d, "set").Do()
			require.True(t, d.Two())
			assert.False(t, d.Sealed())
		})
	}
}
