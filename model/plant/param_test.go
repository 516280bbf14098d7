package plant

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/model/unit"
)

// tried is a small plant with every kind of part: the gas bench, with a block
// valve and a selector but without guide and dump line.
func tried() *Plant {
	return &Plant{Parts: []Part{
		{"gas", "ideal-gas", &Gas{HeatCapacityRatio: 1.4, GasConstant: 287.05, Viscosity: 18.5e-6}},
		{"site", "site", &Site{Gravity: 9.81}},
		{"air", "surroundings", &Surroundings{Pressure: 101325, Temperature: 300}},
		{"vessel", "vessel", &Vessel{Volume: 5, Pressure: 11.5e5, Temperature: 300}},
		{"inflow", "inflow", &Inflow{Into: "vessel", MassFlow: 1, Temperature: 300}},
		{"line", "line", &Line{From: "vessel", To: "valve", Volume: 0.01, Area: 5026.5e-6, Coefficient: 0.7,
			BlockValve: &BlockValve{Area: 7854e-6, Coefficient: 0.9, Opening: 1}}},
		{"valve", "piloted-valve", &PilotedValve{
			Outlet: "tailpipe",
			Seat:   Seat{Diameter: 0.05, Coefficient: 0.85, Face: "small-drop"},
			Disc: Disc{GuideDiameter: 0.07, Mass: 1.5, Travel: 0.015, Damping: 20, Friction: 20, StickFriction: 20,
				FrictionLaw: "smoothed", FrictionSpeed: 0.01, Restitution: 0.3, HoldSpeed: 1e-3},
			Spring:  Spring{Rate: 20e3, Preload: 200},
			Chamber: Chamber{Volume: 0.3e-3},
			Bleed:   Bleed{Area: 4e-6, Coefficient: 0.8},
			Pilot:   Pilot{Area: 80e-6, Coefficient: 0.8},
			Plunger: Plunger{Mass: 0.1, Stroke: 3e-3, SpringRate: 2e3, Preload: 20, Damping: 20, Restitution: 0.1, HoldSpeed: 0.01},
			Coil:    Coil{Inductance: 2, Resistance: 50, PullFactor: 160, Gap: 3e-3, Law: "constant"},
		}},
		{"tailpipe", "tailpipe", &Tailpipe{To: "air", Volume: 0.024, Area: 7854e-6, Coefficient: 0.9}},
		{"sensor", "sensor", &Sensor{On: "vessel", Lag: 0.05}},
		{"switch", "pressure-switch", &Switch{Sensor: "sensor", Set: 12e5, Reset: 11.3e5}},
		{"relay", "relay", &Relay{Switch: "switch", Valve: "valve", PickUp: 0.01, DropOut: 0.01, Supply: 125,
			Selector: &Selector{Position: "auto"}}},
	}}
}

// flat lists the fields of a structure with those of its blocks.
func flat(fields []Field, prefix string) (out []string, all []Field) {
	for _, f := range fields {
		out, all = append(out, prefix+f.Key), append(all, f)
		sub, more := flat(f.Block, prefix+f.Key+".")
		out, all = append(out, sub...), append(all, more...)
	}
	return out, all
}

// Every tag of kinds.go is read, since FieldsOf panics on one that is
// malformed: key, doc, dimension, range, words.
func TestTagsAreWellFormed(t *testing.T) {
	var kinds []string
	for _, k := range Kinds() {
		kinds = append(kinds, k.Name)
	}
	assert.Len(t, slices.Compact(slices.Sorted(slices.Values(kinds))), len(kinds), "kinds are unique")
	for _, k := range Kinds() {
		t.Run(k.Name, func(t *testing.T) {
			assert.True(t, kebab(k.Name))
			assert.NotEmpty(t, k.Doc)
			var fields []Field
			require.NotPanics(t, func() { fields = FieldsOf(reflect.TypeOf(k.New())) })
			paths, all := flat(fields, "")
			if k.Name != "water" { // has no parameters: its properties are those of water
				require.NotEmpty(t, paths)
			}
			assert.Len(t, slices.Compact(slices.Sorted(slices.Values(paths))), len(paths), "keys are unique in each block")
			for i, f := range all {
				for _, r := range f.Ref {
					assert.Contains(t, kinds, r, paths[i])
				}
				for _, w := range f.Enum {
					assert.True(t, kebab(w), paths[i])
				}
				if f.Block == nil && f.Enum == nil && f.Ref == nil {
					assert.True(t, unit.Known(f.Dim), paths[i])
					assert.Less(t, f.Range.Lo, f.Range.Hi, paths[i])
				}
			}
		})
	}
}

func TestMalformedTagsPanic(t *testing.T) {
	for name, spec := range map[string]any{
		"no key": struct{ A float64 }{},
		"key not kebab": struct {
			A float64 `key:"bigArea" dim:"area" range:"(0,1]" doc:"d"`
		}{},
		"no doc": struct {
			A float64 `key:"area" dim:"area" range:"(0,1]"`
		}{},
		"unknown dimension": struct {
			A float64 `key:"area" dim:"areas" range:"(0,1]" doc:"d"`
		}{},
		"no range": struct {
			A float64 `key:"area" dim:"area" doc:"d"`
		}{},
		"range upside down": struct {
			A float64 `key:"area" dim:"area" range:"(1,0]" doc:"d"`
		}{},
		"closed infinity": struct {
			A float64 `key:"area" dim:"area" range:"(0,inf]" doc:"d"`
		}{},
		"word without list": struct {
			A string `key:"word" doc:"d"`
		}{},
		"word with two": struct {
			A string `key:"word" enum:"a|b" ref:"vessel" doc:"d"`
		}{},
		"an integer": struct {
			A int `key:"area" dim:"area" range:"(0,1]" doc:"d"`
		}{},
	} {
		t.Run(name, func(t *testing.T) {
			assert.Panics(t, func() { FieldsOf(reflect.TypeOf(spec)) })
		})
	}
}

func TestFieldsOf(t *testing.T) {
	fields := FieldsOf(reflect.TypeOf(&Line{}))
	require.Len(t, fields, 8)
	assert.Equal(t, Field{Key: "from", Doc: "the vessel it leaves; from a drum it takes steam", Ref: []string{"vessel", "drum"}, Index: []int{0}}, fields[0])
	area := fields[3]
	assert.Equal(t, unit.Area, area.Dim)
	assert.Equal(t, Range{Lo: 0, Hi: 100, OpenLo: true}, area.Range)
	assert.Nil(t, area.Block)
	block := fields[5]
	assert.True(t, block.Optional)
	require.Len(t, block.Block, 4)
	assert.Equal(t, "opening", block.Block[2].Key)
	assert.Equal(t, []int{2}, block.Block[2].Index, "an index counts inside its own block")

	seat := FieldsOf(reflect.TypeOf(PilotedValve{}))[1]
	assert.False(t, seat.Optional, "a block that no valve may lack")
	assert.Len(t, seat.Block, 4)
}

func TestRange(t *testing.T) {
	for _, c := range []struct {
		tag     string
		dim     unit.Dimension
		in      string
		inside  []float64
		outside []float64
	}{
		{"[0,1]", unit.Ratio, "at least 0 and at most 1", []float64{0, 0.5, 1}, []float64{-1e-9, 1.1, math.NaN()}},
		{"(0,1)", unit.Ratio, "more than 0 and less than 1", []float64{0.5}, []float64{0, 1, math.Inf(1)}},
		{"(0,inf)", unit.Length, "more than 0 mm", []float64{5, 1e300}, []float64{0, math.Inf(1), math.NaN()}},
		{"(-inf,1]", unit.Force, "at most 1 N", []float64{-1e300, 1}, []float64{2, math.Inf(-1)}},
		{"(-inf,inf)", unit.Force, "any value", []float64{-1, 1}, []float64{math.NaN(), math.Inf(-1)}},
		{"(0,1e5]", unit.Pressure, "more than 0 bar abs and at most 1 bar abs", []float64{1e5}, []float64{0, 1e6}},
		{"[-1e9,1e9]", unit.PressureDifference, "at least -10000 bar and at most 10000 bar", []float64{0}, []float64{2e9}},
	} {
		t.Run(c.tag, func(t *testing.T) {
			r, err := parseRange(c.tag)
			require.NoError(t, err)
			again, err := parseRange(r.String())
			require.NoError(t, err)
			assert.Equal(t, r, again)
			assert.Equal(t, c.in, r.In(c.dim))
			for _, v := range c.inside {
				assert.True(t, r.Contains(v), "%g", v)
			}
			for _, v := range c.outside {
				assert.False(t, r.Contains(v), "%g", v)
			}
		})
	}
	for _, tag := range []string{"", "0,1", "(0;1)", "(0,1", "(a,b)", "[1,1]", "[2,1]", "[0,inf]", "(nan,1)"} {
		_, err := parseRange(tag)
		assert.Error(t, err, tag)
	}
}

func TestParams(t *testing.T) {
	params := tried().Params()
	paths := make([]string, len(params))
	for i, prm := range params {
		paths[i] = prm.Path
	}
	assert.Equal(t, "gas.heat-capacity-ratio", paths[0])
	assert.Equal(t, "relay.selector.position", paths[len(paths)-1])
	assert.Len(t, slices.Compact(slices.Sorted(slices.Values(paths))), len(paths))
	assert.Contains(t, paths, "line.block-valve.opening")
	for _, p := range paths {
		assert.False(t, strings.Contains(p, ".dump-line") || strings.Contains(p, ".guide."), "%s belongs to an absent block", p)
	}
	// In the order of kinds.go.
	i := slices.Index(paths, "valve.bleed.area")
	assert.Equal(t, []string{"valve.chamber.volume", "valve.bleed.area", "valve.bleed.discharge-coefficient", "valve.pilot.area"}, paths[i-1:i+3])
	assert.Equal(t, Param{Path: "valve.bleed.area", Doc: "area of the bore", Key: "area", Dim: unit.Area,
		Range: Range{Lo: 0, Hi: 1}, Value: Value{Number: 4e-6}}, params[i])
	// What the walker finds is what Get finds.
	for _, prm := range params {
		got, err := tried().Get(prm.Path)
		require.NoError(t, err)
		assert.Equal(t, prm, got)
	}
}

func TestGetSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ name, path, found, want string }{
		{"misspelt key", "valve.bleed.aera", `valve.bleed has no "aera"`, "valve.bleed.area"},
		{"misspelt block", "valve.bled.area", `valve has no "bled"`, "valve.bleed"},
		{"misspelt part", "vlave.bleed.area", `no part is named "vlave"`, "valve.bleed.area"},
		{"no such part", "boiler.fire", `no part is named "boiler"`, "one of the parts gas, site, air"},
		{"no such key", "vessel.colour", `vessel has no "colour"`, "one of vessel.volume, vessel.pressure or vessel.temperature"},
		{"key of a block", "valve.leak-area", `valve has no "leak-area"`, "valve.seat.leak-area or valve.pilot.leak-area"},
		{"absent block", "valve.dump-line.area", "valve has no dump-line in this plant", "a plant whose valve has one"},
		{"absent block alone", "valve.guide", "valve has no guide in this plant", "a plant whose valve has one"},
		{"a block", "valve.bleed", "not one parameter but several", "one of valve.bleed.area or valve.bleed.discharge-coefficient"},
		{"a part", "sensor", "not one parameter but several", "one of sensor.on, sensor.lag or sensor.sensing-line"},
		{"beyond a parameter", "valve.bleed.area.size", "valve.bleed.area is a parameter", "valve.bleed.area"},
		{"misspelt part and key", "vlave.bleed.aera", `no part is named "vlave"`, "valve"},
		{"a line break", "vessels.\nvolume", `no part is named "vessels"`, "vessel"},
		{"a line break behind the part", "vessel.\nvolume", `vessel has no "\nvolume"`, "vessel.volume"},
		{"nothing", "", `no part is named ""`, "one of the parts"},
		{"a point alone", ".", `no part is named ""`, "one of the parts"},
		{"a point too many", "valve.bleed.", `valve.bleed has no ""`, "one of valve.bleed.area"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := tried().Get(c.path)
			var e *PathError
			require.ErrorAs(t, err, &e)
			assert.Equal(t, c.path, e.Path)
			assert.Contains(t, e.Found, c.found)
			assert.Contains(t, e.Want, c.want)
			assert.Len(t, strings.Split(err.Error(), "\n"), 1)
			_, err = tried().With(c.path, Value{})
			assert.Equal(t, e, err, "With says the same")
		})
	}
}

// differing lists the paths of p whose values are others in q.
func differing(p, q *Plant) []string {
	var out []string
	for _, prm := range p.Params() {
		if other, err := q.Get(prm.Path); err != nil || other.Value != prm.Value {
			out = append(out, prm.Path)
		}
	}
	return out
}

func TestWith(t *testing.T) {
	for _, c := range []struct {
		name, path string
		val        Value
	}{
		{"a number", "vessel.volume", Value{Number: 7}},
		{"inside a block", "valve.bleed.area", Value{Number: 0}},
		{"inside a block that may lack", "line.block-valve.opening", Value{Number: 0.25}},
		{"a word", "relay.selector.position", Value{Word: "off"}},
		{"a word inside a block", "valve.disc.friction-law", Value{Word: "sticking"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			before := tried()
			after, err := before.With(c.path, c.val)
			require.NoError(t, err)
			got, err := after.Get(c.path)
			require.NoError(t, err)
			assert.Equal(t, c.val, got.Value)
			assert.Equal(t, []string{c.path}, differing(before, after))
			assert.Equal(t, tried(), before, "the original keeps its values")

			part, _, _ := strings.Cut(c.path, ".")
			for i, q := range before.Parts {
				if q.Name == part {
					assert.NotSame(t, q.Spec, after.Parts[i].Spec)
				} else {
					assert.Same(t, q.Spec, after.Parts[i].Spec, "%s is shared", q.Name)
				}
			}
		})
	}
}

func TestWithChangesAReference(t *testing.T) {
	p := tried()
	p.Parts = append(p.Parts, Part{"vessel-2", "vessel", &Vessel{Volume: 1, Pressure: 2e5, Temperature: 300}})
	q, err := p.With("inflow.into", Value{Word: "vessel-2"})
	require.NoError(t, err)
	in, _ := Spec[Inflow](q, "inflow")
	assert.Equal(t, "vessel-2", in.Into)
}

func TestWithRefuses(t *testing.T) {
	for _, c := range []struct {
		name, path  string
		val         Value
		found, want string
	}{
		{"below the range", "valve.bleed.area", Value{Number: -1e-6}, "-1 mm2", "at least 0 mm2 and at most 1 m2"},
		{"above the range", "line.block-valve.opening", Value{Number: 1.5}, "1.5", "at least 0 and at most 1"},
		{"at an open end", "vessel.volume", Value{Number: 0}, "0 L", "more than 0 L"},
		{"not a number", "vessel.volume", Value{Number: math.NaN()}, "NaN", "more than 0 L"},
		{"unknown word", "relay.selector.position", Value{Word: "on"}, `"on"`, "auto, open or off"},
		{"number for a word", "relay.selector.position", Value{Number: 1}, `""`, "auto, open or off"},
		{"no such part", "inflow.into", Value{Word: "boiler"}, `no part is named "boiler"`, "a vessel or drum: vessel"},
		{"part of another kind", "inflow.into", Value{Word: "air"}, "air is a surroundings", "a vessel or drum: vessel"},
		{"no name", "inflow.into", Value{}, `""`, "the name of a vessel"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := tried().With(c.path, c.val)
			assert.Nil(t, p)
			var e *ValueError
			require.ErrorAs(t, err, &e)
			assert.Equal(t, c.path, e.Path)
			assert.Contains(t, e.Found, c.found)
			assert.Contains(t, e.Want, c.want)
		})
	}
}

// A chain of changes, each somewhere and within its range: only what was
// named differs, and no earlier plant has changed.
func TestWithNeverChangesTheOriginal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := tried()
		chain := []*Plant{p}
		touched := map[string]bool{}
		for range rapid.IntRange(1, 6).Draw(t, "changes") {
			params := p.Params()
			prm := params[rapid.IntRange(0, len(params)-1).Draw(t, "which")]
			val := prm.Value
			switch {
			case prm.Enum != nil:
				val.Word = rapid.SampledFrom(prm.Enum).Draw(t, "word")
			case prm.Numeric():
				v := rapid.Float64Range(prm.Range.Lo, prm.Range.Hi).Draw(t, "number")
				if !prm.Range.Contains(v) { // an open end
					v = (prm.Range.Lo + prm.Range.Hi) / 2
				}
				val.Number = v
			}
			next, err := p.With(prm.Path, val)
			require.NoError(t, err)
			p = next
			chain = append(chain, p)
			touched[prm.Path] = true
		}
		require.Equal(t, tried(), chain[0])
		for _, path := range differing(chain[0], p) {
			require.True(t, touched[path], path)
		}
	})
}

func TestParseValue(t *testing.T) {
	for _, c := range []struct {
		path, text string
		want       Value
	}{
		{"valve.bleed.area", "6mm2", Value{Number: 6e-6}},
		{"switch.set", "160 psig", Value{Number: 1204486.1669069377}},
		{"switch.drift", "-0.2 bar", Value{Number: -0.2e5}},
		{"line.block-valve.opening", "15 %", Value{Number: 0.15}},
		{"relay.selector.position", " open ", Value{Word: "open"}},
		{"inflow.into", "vessel-7", Value{Word: "vessel-7"}}, // whether it exists is not asked here
	} {
		prm, err := tried().Get(c.path)
		require.NoError(t, err)
		got, err := ParseValue(prm, c.text)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, got)
	}
}

func TestParseValueRefuses(t *testing.T) {
	get := func(path string) Param {
		prm, err := tried().Get(path)
		require.NoError(t, err)
		return prm
	}
	var quantity *unit.Error
	_, err := ParseValue(get("valve.bleed.area"), "6 mm")
	require.ErrorAs(t, err, &quantity)
	assert.Contains(t, quantity.Found, "is a length")

	for _, c := range []struct{ path, text, want string }{
		{"valve.bleed.area", "-6 mm2", "at least 0 mm2"},
		{"switch.set", "0 Pa abs", "more than 0 bar abs"},
		{"relay.selector.position", "Open", "auto, open or off"},
		{"inflow.into", "the vessel", "the name of a vessel"},
	} {
		_, err := ParseValue(get(c.path), c.text)
		var e *ValueError
		require.ErrorAs(t, err, &e, c.text)
		assert.Equal(t, c.path, e.Path)
		assert.Contains(t, e.Want, c.want)
	}
}

// What FormatValue shows of any parameter, ParseValue takes.
func TestFormatValueComesBack(t *testing.T) {
	for _, prm := range tried().Params() {
		text := FormatValue(prm)
		got, err := ParseValue(prm, text)
		require.NoError(t, err, "%s %s", prm.Path, text)
		assert.Equal(t, prm.Value.Word, got.Word)
		assert.InDelta(t, prm.Value.Number, got.Number, 1e-5*math.Abs(prm.Value.Number), text)
	}
}

func TestNear(t *testing.T) {
	words := []string{"area", "opening", "block-valve", "discharge-coefficient", "block", "blend"}
	for _, c := range []struct {
		word string
		want []string
	}{
		{"aera", []string{"area"}},
		{"openning", []string{"opening"}},
		{"blockvalve", []string{"block-valve", "block"}},
		{"discharge", []string{"discharge-coefficient"}},
		{"bloc", []string{"block", "block-valve"}},
		{"area", []string{"area"}},
		{"x", nil},
		{"", nil},
		{strings.Repeat("area", 40), nil},
	} {
		assert.Equal(t, c.want, Near(c.word, words), c.word)
	}
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "abc", 0}, {"abc", "abd", 1}, {"abc", "acb", 1},
		{"abc", "ab", 1}, {"kitten", "sitting", 3}, {"ca", "abc", 3},
	} {
		assert.Equal(t, c.want, distance(c.a, c.b), "%s %s", c.a, c.b)
		assert.Equal(t, c.want, distance(c.b, c.a), "%s %s", c.b, c.a)
	}
}
