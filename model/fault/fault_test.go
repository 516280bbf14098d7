package fault

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/model/unit"
)

// bench is the gas bench with a dump line, so that every fault finds its
// part: the values of the reference configuration.
func bench() *plant.Plant {
	return &plant.Plant{Parts: []plant.Part{
		{Name: "gas", Kind: "ideal-gas", Spec: &plant.Gas{HeatCapacityRatio: 1.4, GasConstant: 287.05, Viscosity: 18.5e-6}},
		{Name: "site", Kind: "site", Spec: &plant.Site{Gravity: 9.81}},
		{Name: "air", Kind: "surroundings", Spec: &plant.Surroundings{Pressure: 101325, Temperature: 300}},
		{Name: "vessel", Kind: "vessel", Spec: &plant.Vessel{Volume: 5, Pressure: 11.5e5, Temperature: 300}},
		{Name: "inflow", Kind: "inflow", Spec: &plant.Inflow{Into: "vessel", MassFlow: 1, Temperature: 300}},
		{Name: "line", Kind: "line", Spec: &plant.Line{From: "vessel", To: "valve", Volume: 0.01, Area: 5026.5e-6, Coefficient: 0.7}},
		{Name: "valve", Kind: "piloted-valve", Spec: valve("tailpipe", &plant.DumpLine{Volume: 0.15e-3, Area: 100e-6, Coefficient: 0.8})},
		{Name: "tailpipe", Kind: "tailpipe", Spec: &plant.Tailpipe{To: "air", Volume: 0.024, Area: 7854e-6, Coefficient: 0.9}},
		{Name: "sensor", Kind: "sensor", Spec: &plant.Sensor{On: "vessel", Lag: 0.05}},
		{Name: "switch", Kind: "pressure-switch", Spec: &plant.Switch{Sensor: "sensor", Set: 12e5, Reset: 11.3e5}},
		{Name: "relay", Kind: "relay", Spec: &plant.Relay{Switch: "switch", Valve: "valve", PickUp: 0.01, DropOut: 0.01, Supply: 125}},
	}}
}

func valve(outlet string, dump *plant.DumpLine) *plant.PilotedValve {
	return &plant.PilotedValve{
		Outlet: outlet,
		Seat:   plant.Seat{Diameter: 0.05, Coefficient: 0.85, Face: "small-drop"},
		Disc: plant.Disc{GuideDiameter: 0.07, Mass: 1.5, Travel: 0.015, Damping: 20, Friction: 20, StickFriction: 20,
			FrictionLaw: "smoothed", FrictionSpeed: 0.01, Restitution: 0.3, HoldSpeed: 1e-3},
		Spring:  plant.Spring{Rate: 20e3, Preload: 200},
		Chamber: plant.Chamber{Volume: 0.3e-3},
		Bleed:   plant.Bleed{Area: 4e-6, Coefficient: 0.8},
		Pilot:   plant.Pilot{Area: 80e-6, Coefficient: 0.8},
		Dump:    dump,
		Plunger: plant.Plunger{Mass: 0.1, Stroke: 3e-3, SpringRate: 2e3, Preload: 20, Damping: 20, Restitution: 0.1, HoldSpeed: 0.01},
		Coil:    plant.Coil{Inductance: 2, Resistance: 50, PullFactor: 160, Gap: 3e-3, Law: "constant"},
	}
}

// pair is the bench with a second valve, which has no dump line.
func pair() *plant.Plant {
	p := bench()
	p.Parts = append(p.Parts,
		plant.Part{Name: "line-2", Kind: "line", Spec: &plant.Line{From: "vessel", To: "valve-2", Volume: 0.01, Area: 5026.5e-6, Coefficient: 0.7}},
		plant.Part{Name: "valve-2", Kind: "piloted-valve", Spec: valve("tailpipe", nil)})
	return p
}

// bare is the bench without a part.
func bare(without string) *plant.Plant {
	p := bench()
	p.Parts = slices.DeleteFunc(p.Parts, func(q plant.Part) bool { return q.Name == without })
	return p
}

func number(v float64) *float64 { return &v }

// differing lists the parameters of q that are not as in p.
func differing(t *testing.T, p, q *plant.Plant) []string {
	var out []string
	require.Len(t, q.Params(), len(p.Params()))
	for i, prm := range q.Params() {
		if prm.Value != p.Params()[i].Value {
			out = append(out, prm.Path)
		}
	}
	return out
}

func TestEachFaultChangesWhatItNames(t *testing.T) {
	require.Empty(t, bench().Check())
	require.Empty(t, boiler().Check())
	require.Empty(t, sprung().Check())
	require.Len(t, All(), len(effects))
	for _, f := range All() {
		t.Run(f.Name, func(t *testing.T) {
			want := effects[f.Name]
			require.NotNil(t, want)
			p := home(f)
			at := 2.0
			if slices.Contains(onlyAtStart, f.Name) {
				at = 0
			}
			q, changes, err := Apply(p, Entry{Name: f.Name, At: at})
			require.NoError(t, err)
			assert.Equal(t, home(f), p, "the healthy plant keeps its values")
			assert.Empty(t, q.Check(), "the faulty plant makes sense")

			paths := differing(t, p, q)
			assert.Len(t, paths, len(want))
			require.Len(t, changes, len(want))
			for _, c := range changes {
				assert.Contains(t, paths, c.Path)
				assert.Equal(t, f.Name, c.Fault)
				assert.True(t, c.Typical)
				assert.Equal(t, at, c.At)
				before, err := p.Get(c.Path)
				require.NoError(t, err)
				after, err := q.Get(c.Path)
				require.NoError(t, err)
				assert.Equal(t, before.Value, c.From)
				assert.Equal(t, after.Value, c.To)
				assert.Equal(t, before.Dim, c.Dim)
				if word, ok := want[c.Path].(string); ok {
					assert.Equal(t, word, after.Value.Word)
				} else {
					assert.Equal(t, want[c.Path], after.Value.Number)
				}
			}
			assert.True(t, strings.HasSuffix(changes[0].Path, "."+f.Param), "the severity's parameter comes first")
		})
	}
}

func TestSeverityOverridesTheTypicalValue(t *testing.T) {
	for _, f := range All() {
		t.Run(f.Name, func(t *testing.T) {
			path := changedFirst(t, f)
			if words := f.Words(); words != nil {
				for _, word := range words {
					q, changes, err := Apply(home(f), Entry{Name: f.Name, Word: word})
					require.NoError(t, err)
					got, err := q.Get(path)
					require.NoError(t, err)
					assert.Equal(t, word, got.Value.Word)
					assert.False(t, changes[0].Typical)
				}
				return
			}
			healthy, _, err := Apply(home(f), Entry{Name: f.Name})
			require.NoError(t, err)
			// Between the healthy value and the typical one every fault makes sense.
			from, _ := home(f).Get(path)
			to, _ := healthy.Get(path)
			severity := (from.Value.Number + to.Value.Number) / 2
			q, changes, err := Apply(home(f), Entry{Name: f.Name, Severity: &severity})
			require.NoError(t, err)
			got, err := q.Get(path)
			require.NoError(t, err)
			assert.Equal(t, severity, got.Value.Number)
			assert.False(t, changes[0].Typical)
			for i, s := range f.Also {
				assert.Equal(t, !s.Follows, changes[i+1].Typical)
				if s.Follows {
					assert.Equal(t, severity, changes[i+1].To.Number)
				} else {
					assert.Equal(t, s.Number, changes[i+1].To.Number)
				}
			}
		})
	}
}

func changedFirst(t *testing.T, f Fault) string {
	_, changes, err := Apply(home(f), Entry{Name: f.Name})
	require.NoError(t, err)
	return changes[0].Path
}

func TestCatalogueIsWellFormed(t *testing.T) {
	all := All()
	assert.True(t, slices.IsSortedFunc(all, func(a, b Fault) int { return strings.Compare(a.Name, b.Name) }))
	kinds := map[string]bool{}
	for _, k := range plant.Kinds() {
		kinds[k.Name] = true
	}
	for i, f := range all {
		t.Run(f.Name, func(t *testing.T) {
			assert.Regexp(t, "^[a-z]+(-[a-z]+)+$", f.Name)
			if i > 0 {
				assert.NotEqual(t, all[i-1].Name, f.Name)
			}
			assert.True(t, kinds[f.Part], f.Part)
			for _, s := range f.sets() {
				field, ok := f.field(s.Param)
				require.True(t, ok, s.Param)
				switch {
				case s.Follows && s.Param == f.Param && field.Enum != nil:
					assert.Contains(t, field.Enum, f.Word)
				case s.Follows:
					assert.Equal(t, f.Dim(), field.Dim, "what follows the severity has its dimension")
				case field.Enum != nil:
					assert.Contains(t, field.Enum, s.Word)
				default:
					assert.True(t, field.Range.Contains(s.Number), s.Param)
				}
			}
			field, _ := f.field(f.Param)
			if field.Enum == nil {
				assert.True(t, unit.Known(f.Dim()))
				assert.True(t, field.Range.Contains(f.Typical))
				assert.Empty(t, f.Word)
			} else {
				assert.Zero(t, f.Typical)
				assert.Equal(t, f.Word, f.TypicalValue())
			}
			for _, needed := range f.Needs {
				_, ok := f.field(needed)
				assert.True(t, ok, needed)
			}
			for _, text := range []string{f.About, f.Sign} {
				assert.Regexp(t, `^[A-Z].*[^.]\.$`, text, "one sentence")
				assert.NotContains(t, text, ". ", "one sentence")
			}
			assert.Regexp(t, `^(NRC (Bulletin|Information Notice) [0-9-]+|NRC NUREG-[0-9]+|Common practice, no source\.).*Typical value: .*\.$`, f.Source)
			found, ok := Find(f.Name)
			assert.True(t, ok)
			assert.Equal(t, f, found)
		})
	}
	_, ok := Find("pilot")
	assert.False(t, ok)
}

// The catalogue is not to be changed through what All returns.
func TestAllIsACopy(t *testing.T) {
	All()[0].Name = "something-else"
	assert.Equal(t, "back-pressure", All()[0].Name)
}

func TestApplyRefuses(t *testing.T) {
	for _, c := range []struct {
		name        string
		p           *plant.Plant
		e           Entry
		found, want string
	}{
		{"misspelt", bench(), Entry{Name: "pilot-leak"}, `fault "pilot-leak"`, "pilot-leaks"},
		{"unknown", bench(), Entry{Name: "gremlins"}, "the catalogue has no such fault", "back-pressure, bleed-enlarged"},
		{"no name", bench(), Entry{}, "the catalogue has no such fault", "back-pressure, bleed-enlarged"},
		{"no such kind of part", bare("relay"), Entry{Name: "supply-low"}, "this plant has no relay", "a plant that has one"},
		{"no such block", withoutDump(), Entry{Name: "dump-restricted"}, "valve has no dump-line in this plant", "a plant whose valve has one"},
		{"no such part", bench(), Entry{Name: "pilot-leaks", Part: "valve-3"}, `no part is named "valve-3"`, "the name of a piloted-valve: valve"},
		{"part of another kind", bench(), Entry{Name: "pilot-leaks", Part: "line"}, "line is a line", "the name of a piloted-valve: valve"},
		{"part named, kind absent", bare("relay"), Entry{Name: "supply-low", Part: "valve"}, "valve is a piloted-valve", "a plant that has a relay"},
		{"several parts", pair(), Entry{Name: "pilot-leaks"}, "several parts", "valve, valve-2"},
		{"block absent from the part named", pair(), Entry{Name: "dump-restricted", Part: "valve-2"}, "valve-2 has no dump-line", "a plant whose valve-2 has one"},
		{"severity below the range", bench(), Entry{Name: "pilot-leaks", Severity: number(-1e-6)}, "valve.pilot.leak-area: -1 mm2", "at least 0 mm2"},
		{"severity not a number", bench(), Entry{Name: "pilot-leaks", Severity: number(math.NaN())}, "valve.pilot.leak-area: NaN mm2", "at least 0 mm2"},
		{"before the start", bench(), Entry{Name: "pilot-leaks", At: -1}, "it sets in at -1 s", "0 s or later"},
		{"at no time", bench(), Entry{Name: "pilot-leaks", At: math.NaN()}, "it sets in at NaN", "0 s or later"},
		{"a number for a word", boiler(), Entry{Name: "contact-welded", Severity: number(1)}, "its severity 1 is a number, and relay.circuit.contact a word", "sound, open, welded, or no severity"},
		{"a word for a number", bench(), Entry{Name: "pilot-leaks", Word: "much"}, `its severity "much" is a word, and valve.pilot.leak-area a number`, "an area"},
		{"no such word", boiler(), Entry{Name: "contact-welded", Word: "melted"}, `relay.circuit.contact: "melted"`, "sound, open or welded"},
		{"a needed block absent", boilerDC(), Entry{Name: "plunger-not-seated"}, "valve has no coil.alternating", "a plant whose valve has one"},
		{"reset above set", bench(), Entry{Name: "deadband-narrow", Severity: number(12.5e5)}, "then switch.reset is 12.5 bar abs", "less than 12 bar abs"},
		{"outlet above vessel at the start", bench(), Entry{Name: "back-pressure", Severity: number(13e5)}, "then vessel.pressure is 11.5 bar abs, below", "at least 13 bar abs"},
	} {
		t.Run(c.name, func(t *testing.T) {
			q, changes, err := Apply(c.p, c.e)
			require.Error(t, err)
			assert.Nil(t, q)
			assert.Nil(t, changes)
			assert.Contains(t, err.Error(), c.found)
			assert.Contains(t, err.Error(), c.want)
		})
	}
}

// boilerDC is the boiler with a coil on direct current.
func boilerDC() *plant.Plant {
	p := boiler()
	v, _ := plant.Spec[plant.PilotedValve](p, "valve")
	v.Coil.AC = nil
	return p
}

func withoutDump() *plant.Plant {
	p := bench()
	for i, q := range p.Parts {
		if q.Name == "valve" {
			p.Parts[i].Spec = valve("tailpipe", nil)
		}
	}
	return p
}

func TestApplyPicksThePart(t *testing.T) {
	q, changes, err := Apply(pair(), Entry{Name: "pilot-leaks", Part: "valve-2"})
	require.NoError(t, err)
	assert.Equal(t, []string{"valve-2.pilot.leak-area"}, differing(t, pair(), q))
	assert.Equal(t, "valve-2.pilot.leak-area", changes[0].Path)

	q, _, err = Apply(pair(), Entry{Name: "dump-restricted"}) // only one of the valves has a dump line
	require.NoError(t, err)
	assert.Equal(t, []string{"valve.dump-line.area"}, differing(t, pair(), q))
}

// Once a run is on its way the header may well stand above the vessel's
// pressure at the start.
func TestBackPressureLaterMayExceedThatOfTheStart(t *testing.T) {
	_, _, err := Apply(bench(), Entry{Name: "back-pressure", Severity: number(13e5), At: 5})
	assert.NoError(t, err)
}

// What was wrong before is not laid to the fault.
func TestApplyToAPlantThatIsWrongAlready(t *testing.T) {
	p, err := bench().With("switch.reset", plant.Value{Number: 13e5})
	require.NoError(t, err)
	_, _, err = Apply(p, Entry{Name: "pilot-leaks"})
	assert.NoError(t, err)
}
