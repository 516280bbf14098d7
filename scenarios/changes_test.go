package scenarios

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
)

func TestBadCommands(t *testing.T) {
	for _, b := range []bad{
		{name: "not a list", text: "commands: {at: 1 s}\n", line: 4, col: 11, key: "commands", found: "a group of keys", want: "a list"},
		{name: "not a group", text: "commands: [close]\n", line: 4, col: 12, key: "commands", found: `"close"`, want: "at, set, to"},
		{name: "unknown key", text: "commands:\n  - {at: 1 s, set: inflow.mass-flow, value: 0 kg/s}\n", line: 5, col: 38, key: "commands.value", found: "unknown key", want: "one of at, set, to"},
		{name: "no time", text: "commands:\n  - {set: inflow.mass-flow, to: 0 kg/s}\n", line: 5, col: 5, key: "commands.at", found: "nothing", want: "a time such as"},
		{name: "no value", text: "commands:\n  - {at: 1 s, set: inflow.mass-flow}\n", line: 5, col: 5, key: "commands.to", found: "nothing", want: "a mass flow such as"},
		{name: "no path", text: "commands:\n  - {at: 1 s, to: 0 kg/s}\n", line: 5, col: 5, key: "commands.set", found: "nothing", want: "inflow.mass-flow"},
		{name: "unknown part", text: "commands:\n  - {at: 1 s, set: inflo.mass-flow, to: 0 kg/s}\n", line: 5, col: 20, key: "commands.set", found: `"inflo.mass-flow" (no part is named "inflo")`, want: "inflow.mass-flow"},
		{name: "unknown key of a part", text: "commands:\n  - {at: 1 s, set: inflow.massflow, to: 0 kg/s}\n", line: 5, col: 20, key: "commands.set", found: `inflow has no "massflow"`, want: "inflow.mass-flow"},
		{name: "a block that the plant lacks", text: "commands:\n  - {at: 1 s, set: relay.selector.position, to: open}\n", line: 5, col: 20, key: "commands.set", found: "relay has no selector in this plant"},
		{name: "a block, not a value", text: "commands:\n  - {at: 1 s, set: valve.seat, to: 1 mm}\n", line: 5, col: 20, key: "commands.set", found: "not one parameter", want: "valve.seat.diameter"},
		{name: "how parts are joined", text: "commands:\n  - {at: 1 s, set: inflow.into, to: vessel}\n", line: 5, col: 20, key: "commands.set", found: "how the parts are joined", want: "can change during a run"},
		{name: "how the run starts", text: "commands:\n  - {at: 1 s, set: vessel.pressure, to: 9 bar abs}\n", line: 5, col: 20, key: "commands.set", found: "how the run starts", want: "can change during a run"},
		{name: "value without a unit", text: "commands:\n  - {at: 1 s, set: inflow.mass-flow, to: 0}\n", line: 5, col: 42, key: "commands.to", found: `"0" (has no unit)`, want: "a mass flow"},
		{name: "value out of range", text: "commands:\n  - {at: 1 s, set: inflow.mass-flow, to: -1 kg/s}\n", line: 5, col: 42, key: "commands.to", found: `"-1 kg/s"`, want: "at least 0 kg/s and at most 10000 kg/s"},
		{name: "value against the rest of the plant", text: "commands:\n  - {at: 1 s, set: switch.reset, to: 12.5 bar abs}\n", line: 5, col: 38, key: "commands.to", found: "then switch.reset is 12.5 bar abs", want: "less than 12 bar abs"},
		{name: "value against an earlier command", text: "commands:\n  - {at: 2 s, set: switch.reset, to: 11 bar abs}\n  - {at: 1 s, set: switch.set, to: 11.1 bar abs}\n", line: 6, col: 36, key: "commands.to", found: "then switch.reset is 11.3 bar abs", want: "less than 11.1 bar abs"},
		{name: "before the run", text: "commands:\n  - {at: -1 s, set: inflow.mass-flow, to: 0 kg/s}\n", line: 5, col: 10, key: "commands.at", found: `"-1 s"`, want: "at least 0 s and at most 60 s"},
		{name: "after the run", text: "until: 5 s\ncommands:\n  - {at: 5001 ms, set: inflow.mass-flow, to: 0 kg/s}\n", line: 6, col: 10, key: "commands.at", found: `"5001 ms"`, want: "at least 0 ms and at most 5000 ms"},
		{name: "two at one time", text: "commands:\n  - {at: 5 s, set: inflow.mass-flow, to: 0 kg/s}\n  - {at: 5000 ms, set: inflow.mass-flow, to: 1 kg/s}\n", line: 6, col: 24, key: "commands.set", found: `"inflow.mass-flow" a second time at 5 s (first on line 5)`, want: "one value at a time"},
	} {
		b.text = on(b.text)
		t.Run(b.name, b.check)
	}
}

func TestBadFaults(t *testing.T) {
	for _, b := range []bad{
		{name: "not a list", text: "faults: bleed-plugged\n", line: 4, col: 9, key: "faults", found: `"bleed-plugged"`, want: "a list"},
		{name: "not a group", text: "faults: [bleed-plugged]\n", line: 4, col: 10, key: "faults", found: `"bleed-plugged"`, want: "fault, severity, at, on"},
		{name: "no fault", text: "faults: [{at: 1 s}]\n", line: 4, col: 10, key: "faults.fault", found: "nothing", want: "the name of a fault"},
		{name: "unknown fault", text: "faults: [{fault: bleed-pluged}]\n", line: 4, col: 18, key: "faults.fault", found: `"bleed-pluged"`, want: "nearest is bleed-plugged"},
		{name: "unknown key", text: "faults: [{fault: bleed-plugged, sevrity: 1 mm2}]\n", line: 4, col: 33, key: "faults.sevrity", want: "nearest is severity"},
		{name: "severity of another dimension", text: "faults: [{fault: bleed-plugged, severity: 1 mm}]\n", line: 4, col: 43, key: "faults.severity", found: "is a length", want: "an area such as"},
		{name: "severity out of range", text: "faults: [{fault: bleed-plugged, severity: -1 mm2}]\n", line: 4, col: 43, key: "faults.severity", found: `"-1 mm2"`, want: "at least 0 mm2 and at most 1000000 mm2"},
		{name: "no such part", text: "faults: [{fault: bleed-plugged, on: valv}]\n", line: 4, col: 37, key: "faults.on", found: `no part is named "valv"`, want: "valve"},
		{name: "part of another kind", text: "faults: [{on: vessel, fault: bleed-plugged}]\n", line: 4, col: 15, key: "faults.on", found: "vessel is a vessel", want: "valve"},
		{name: "before the run", text: "faults: [{fault: bleed-plugged, at: -2 s}]\n", line: 4, col: 37, key: "faults.at", found: `"-2 s"`, want: "at least 0 s and at most 60 s"},
		{name: "after the run", text: "until: 1 min\nfaults: [{fault: bleed-plugged, at: 2 min}]\n", line: 5, col: 37, key: "faults.at", found: `"2 min"`, want: "at least 0 min and at most 1 min"},
		{name: "two faults on one parameter", text: "faults:\n  - {fault: bleed-plugged, at: 9 s}\n  - {fault: bleed-enlarged, at: 5 s}\n", line: 6, col: 13, key: "faults.fault", found: "sets valve.bleed.area as bleed-plugged does", want: "one fault for each parameter"},
		{name: "what the plant lacks", text: "faults: [{fault: dump-restricted}]\n", line: 4, col: 18, key: "faults.fault", found: "valve has no dump-line in this plant"},
		{name: "severity against the rest of the plant", text: "faults:\n  - {fault: deadband-narrow, severity: 12.5 bar abs}\n", line: 5, col: 40, key: "faults.severity", found: "then switch.reset is 12.5 bar abs", want: "less than 12 bar abs"},
		{name: "severity against an earlier command", text: "commands: [{at: 1 s, set: switch.set, to: 11.4 bar abs}]\nfaults:\n  - {fault: deadband-narrow, severity: 11.5 bar abs, at: 2 s}\n", line: 6, col: 40, key: "faults.severity", found: "then switch.reset is 11.5 bar abs", want: "less than 11.4 bar abs"},
		{name: "one fault twice", text: "faults:\n  - fault: bleed-plugged\n  - {at: 5 s, fault: bleed-plugged}\n", line: 6, col: 22, key: "faults.fault", found: "sets valve.bleed.area", want: "one fault for each parameter"},
	} {
		b.text = on(b.text)
		t.Run(b.name, b.check)
	}
}

func load(t *testing.T, text string) *Scenario {
	t.Helper()
	s, err := Parse("t.yaml", []byte(on(text)), open)
	require.NoError(t, err)
	return s
}

func TestFaultsAndCommands(t *testing.T) {
	s := load(t, `
commands:
  - {at: 20 s, set: inflow.mass-flow, to: 0 kg/s}
  - {at: 5 s, set: relay.supply, to: 110 V}
  - {at: 5 s, set: valve.bleed.area, to: 5 mm2}
faults:
  - {fault: bleed-plugged, severity: 0.5 mm2, at: 5 s, on: valve}
`)
	half := 0.5e-6
	assert.Equal(t, []fault.Entry{{Name: "bleed-plugged", Severity: &half, Part: "valve", At: 5}}, s.Faults)
	assert.Equal(t, []Command{
		{5, "relay.supply", plant.Value{Number: 110}},
		{5, "valve.bleed.area", plant.Value{Number: 5e-6}},
		{20, "inflow.mass-flow", plant.Value{}},
	}, s.Commands, "by time, then in the order of the file")

	stages, err := s.Stages()
	require.NoError(t, err)
	require.Len(t, stages, 3)
	number := func(i int, path string) float64 {
		prm, err := stages[i].Plant.Get(path)
		require.NoError(t, err)
		return prm.Value.Number
	}
	assert.Equal(t, []float64{0, 5, 20}, []float64{stages[0].From, stages[1].From, stages[2].From})
	assert.Same(t, s.Plant, stages[0].Plant)
	assert.Equal(t, 4e-6, number(0, "valve.bleed.area"))
	assert.Equal(t, 5e-6, number(1, "valve.bleed.area"), "at one time a command comes after a fault")
	assert.Equal(t, 110.0, number(2, "relay.supply"), "a stage keeps what the one before has set")
	assert.Equal(t, 0.0, number(2, "inflow.mass-flow"))
	require.Len(t, stages[1].Changes, 1)
	assert.Equal(t, half, stages[1].Changes[0].To.Number)
	assert.Len(t, stages[1].Faults, 1)
	assert.Len(t, stages[1].Commands, 2)
	assert.Len(t, stages[2].Commands, 1)
}

func TestFaultWithoutSeverityIsTypicalAndThereFromTheStart(t *testing.T) {
	s := load(t, "faults: [{fault: bleed-plugged}]\n")
	assert.Equal(t, []fault.Entry{{Name: "bleed-plugged"}}, s.Faults)
	stages, err := s.Stages()
	require.NoError(t, err)
	require.Len(t, stages, 1)
	require.Len(t, stages[0].Changes, 1)
	assert.True(t, stages[0].Changes[0].Typical)
}

func TestStagesOfAChangedScenario(t *testing.T) {
	s := load(t, "commands: [{at: 1 s, set: switch.reset, to: 11.9 bar abs}]\n")
	p, err := Set(s.Plant, "switch.set=11.8 bar abs")
	require.NoError(t, err)
	s.Plant = p
	_, err = s.Stages()
	assert.ErrorContains(t, err, "switch.reset")
}

// Every parameter that atStart names is one of the model.
func TestStartParametersExist(t *testing.T) {
	known := map[string][]string{}
	for _, k := range plant.Kinds() {
		known[k.Name] = keysOf(plant.FieldsOf(reflect.TypeOf(k.New())), "")
	}
	for kind, keys := range atStart {
		for _, key := range keys {
			assert.Contains(t, known[kind], key, kind)
		}
	}
}

func keysOf(fields []plant.Field, before string) (keys []string) {
	for _, f := range fields {
		if f.Block != nil {
			keys = append(keys, keysOf(f.Block, before+f.Key+".")...)
			continue
		}
		keys = append(keys, before+f.Key)
	}
	return keys
}

func TestSet(t *testing.T) {
	s, err := Load("gas-bench")
	require.NoError(t, err)
	for _, c := range []struct {
		name string
		set  []string
		err  string // empty if it is right
	}{
		{"number", []string{"valve.bleed.area=6mm2"}, ""},
		{"spaces", []string{" valve.bleed.area = 6 mm2 "}, ""},
		{"word", []string{"valve.disc.friction-law=sticking"}, ""},
		{"reference", []string{"inflow.into=vessel"}, ""},
		{"two that are right together only", []string{"switch.reset=12.5 bar abs", "switch.set=13 bar abs"}, ""},
		{"no equals sign", []string{"valve.bleed.area"}, `found "valve.bleed.area", want path=value, such as valve.bleed.area=6mm2`},
		{"no value", []string{"valve.bleed.area="}, `found "valve.bleed.area=", want path=value`},
		{"unknown path", []string{"valve.bleed.are=6mm2"}, `found "valve.bleed.are" (valve.bleed has no "are"), want valve.bleed.area`},
		{"no unit", []string{"valve.bleed.area=6"}, `valve.bleed.area: found "6" (has no unit), want an area such as 4 mm2`},
		{"out of range", []string{"valve.bleed.area=-6 mm2"}, `valve.bleed.area: found "-6 mm2", want at least 0 mm2 and at most 1000000 mm2`},
		{"unknown word", []string{"valve.disc.friction-law=stick"}, `valve.disc.friction-law: found "stick", want one of smoothed, sticking; nearest is sticking`},
		{"reference to nothing", []string{"inflow.into=drum"}, `inflow.into: found "drum" (no part is named "drum"), want a vessel or drum: vessel`},
		{"against the rest of the plant", []string{"switch.reset=12.5 bar abs"}, `switch.reset: found 12.5 bar abs, not below the set pressure, want less than 12 bar abs`},
	} {
		t.Run(c.name, func(t *testing.T) {
			before := values(s.Plant)
			p, err := Set(s.Plant, c.set...)
			assert.Equal(t, before, values(s.Plant), "the plant given is left as it was")
			if c.err != "" {
				assert.ErrorContains(t, err, c.err)
				assert.IsType(t, &Error{}, err)
				return
			}
			require.NoError(t, err)
			assert.Empty(t, p.Check())
		})
	}
	p, err := Set(s.Plant, "valve.bleed.area=6mm2", "valve.disc.friction-law=sticking")
	require.NoError(t, err)
	assert.Equal(t, 6e-6, values(p)["valve.bleed.area"])
	assert.Equal(t, "sticking", values(p)["valve.disc.friction-law"])
}
