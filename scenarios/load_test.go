package scenarios

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
)

// bench holds the SI numbers of the reference configuration.
var bench = map[string]any{
	"gas.heat-capacity-ratio":           1.4,
	"gas.gas-constant":                  287.05,
	"gas.viscosity":                     1.85e-5,
	"site.gravity":                      9.81,
	"surroundings.pressure":             101325.0,
	"surroundings.temperature":          300.0,
	"vessel.volume":                     5.0,
	"vessel.pressure":                   11.5e5,
	"vessel.temperature":                300.0,
	"inflow.into":                       "vessel",
	"inflow.mass-flow":                  1.0,
	"inflow.temperature":                300.0,
	"line.from":                         "vessel",
	"line.to":                           "valve",
	"line.volume":                       10e-3,
	"line.area":                         5026.5e-6,
	"line.discharge-coefficient":        0.70,
	"valve.outlet":                      "tailpipe",
	"valve.seat.diameter":               50e-3,
	"valve.seat.discharge-coefficient":  0.85,
	"valve.seat.leak-area":              0.0,
	"valve.disc.guide-diameter":         70e-3,
	"valve.disc.mass":                   1.5,
	"valve.disc.travel":                 15e-3,
	"valve.disc.damping":                20.0,
	"valve.disc.friction":               20.0,
	"valve.disc.stick-friction":         20.0,
	"valve.disc.friction-law":           "smoothed",
	"valve.disc.friction-speed":         10e-3,
	"valve.disc.restitution":            0.3,
	"valve.disc.hold-speed":             1e-3,
	"valve.spring.rate":                 20e3,
	"valve.spring.preload":              200.0,
	"valve.chamber.volume":              0.3e-3,
	"valve.bleed.area":                  4e-6,
	"valve.bleed.discharge-coefficient": 0.8,
	"valve.pilot.area":                  80e-6,
	"valve.pilot.discharge-coefficient": 0.8,
	"valve.pilot.leak-area":             0.0,
	"valve.plunger.mass":                0.1,
	"valve.plunger.stroke":              3e-3,
	"valve.plunger.spring-rate":         2e3,
	"valve.plunger.preload":             20.0,
	"valve.plunger.damping":             20.0,
	"valve.plunger.restitution":         0.1,
	"valve.plunger.hold-speed":          10e-3,
	"valve.plunger.bond-shut":           0.0,
	"valve.plunger.bond-open":           0.0,
	"valve.coil.inductance":             2.0,
	"valve.coil.resistance":             50.0,
	"valve.coil.pull-factor":            160.0,
	"valve.coil.gap":                    3e-3,
	"valve.coil.inductance-law":         "constant",
	"valve.seat.face-pressure":          "small-drop",
	"tailpipe.to":                       "surroundings",
	"tailpipe.volume":                   24e-3,
	"tailpipe.area":                     7854e-6,
	"tailpipe.discharge-coefficient":    0.9,
	"sensor.on":                         "vessel",
	"sensor.lag":                        50e-3,
	"switch.sensor":                     "sensor",
	"switch.set":                        12.0e5,
	"switch.reset":                      11.3e5,
	"switch.drift":                      0.0,
	"relay.switch":                      "switch",
	"relay.valve":                       "valve",
	"relay.pick-up":                     10e-3,
	"relay.drop-out":                    10e-3,
	"relay.supply":                      125.0,
}

// values lists the parameters of a plant.
func values(p *plant.Plant) map[string]any {
	out := map[string]any{}
	for _, prm := range p.Params() {
		if prm.Numeric() {
			out[prm.Path] = prm.Value.Number
		} else {
			out[prm.Path] = prm.Value.Word
		}
	}
	return out
}

func TestGasBenchIsTheReference(t *testing.T) {
	s, err := Load("gas-bench")
	require.NoError(t, err)
	assert.Equal(t, bench, values(s.Plant))
	assert.Equal(t, 60.0, s.Until)
	assert.Empty(t, s.Faults)
	assert.Empty(t, s.Commands)
	require.NotNil(t, s.Shows)
	require.NotNil(t, s.Shows.Lifts)
	assert.True(t, s.Shows.Lifts.Holds(11))
	assert.False(t, s.Shows.Lifts.Holds(10))
	assert.False(t, s.Shows.Lifts.Holds(12))
	assert.Equal(t, []string{"built-in/gas-bench.yaml"}, s.Files)
}

func TestGasBenchPlusIsTheBenchWithMore(t *testing.T) {
	s, err := Load("gas-bench-plus")
	require.NoError(t, err)
	want := map[string]any{
		"line.block-valve.area":                    7854e-6,
		"line.block-valve.discharge-coefficient":   0.9,
		"line.block-valve.opening":                 1.0,
		"valve.disc.friction-law":                  "sticking",
		"valve.disc.stick-friction":                30.0,
		"valve.bleed.area":                         3.3e-6,
		"valve.guide.clearance":                    18e-6,
		"valve.guide.length":                       30e-3,
		"valve.dump-line.volume":                   0.15e-3,
		"valve.dump-line.area":                     100e-6,
		"valve.dump-line.discharge-coefficient":    0.8,
		"valve.dump-line.wall.heat-capacity":       430.0,
		"valve.dump-line.wall.inside-conductance":  5.7,
		"valve.dump-line.wall.outside-conductance": 0.5,
		"relay.selector.position":                  "auto",
	}
	for path, v := range bench {
		if _, changed := want[path]; !changed {
			want[path] = v
		}
	}
	assert.Equal(t, want, values(s.Plant))
	assert.Equal(t, 60.0, s.Until)
	assert.Equal(t, "gas-bench-plus", s.Name)
	assert.Equal(t, []string{"built-in/gas-bench-plus.yaml", "built-in/gas-bench.yaml"}, s.Files)
	require.NotNil(t, s.Shows.Lifts)
	assert.True(t, s.Shows.Lifts.Holds(11))
}

func TestEveryEmbeddedScenarioLoads(t *testing.T) {
	names := Names()
	require.Contains(t, names, "gas-bench")
	require.IsIncreasing(t, names)
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			s, err := Load(name)
			require.NoError(t, err)
			assert.Equal(t, name, s.Name, "a file is named for its scenario")
			assert.NotEmpty(t, s.About)
			assert.Empty(t, s.Plant.Check())
			for _, f := range s.Files {
				assert.True(t, strings.HasPrefix(f, builtIn), "%s stands outside the program", f)
			}
		})
	}
}

// write puts files into a new folder and returns it.
func write(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	return dir
}

const head = "name: t\ntitle: t\n"

func TestIncludes(t *testing.T) {
	dir := write(t, map[string]string{
		"a.yaml":         head + "include: sub/b.yaml\nplant: {vessel: {volume: 7 m3}}\n",
		"sub/b.yaml":     "include: ./c.yaml\nuntil: 5 s\nplant: {vessel: {volume: 6 m3, pressure: 11.6 bar abs}}\n",
		"sub/c.yaml":     "include: gas-bench\nname: c\nplant: {vessel: {temperature: 310 K}, line: {block-valve: {area: 1 cm2, discharge-coefficient: 1, opening: 50 %}}}\n",
		"gas-bench.yaml": head + "include: gas-bench\n",
		"removed.yaml":   head + "include: ./sub/c.yaml\nplant: {line: {block-valve: null}}\n",
	})
	t.Run("the outermost file wins key by key", func(t *testing.T) {
		s, err := Load(filepath.Join(dir, "a.yaml"))
		require.NoError(t, err)
		v := values(s.Plant)
		assert.Equal(t, 7.0, v["vessel.volume"])
		assert.Equal(t, 11.6e5, v["vessel.pressure"])
		assert.Equal(t, 310.0, v["vessel.temperature"])
		assert.Equal(t, 0.5, v["line.block-valve.opening"])
		assert.Equal(t, 5.0, s.Until)
		assert.Equal(t, "t", s.Name)
		assert.Equal(t, []string{
			filepath.Join(dir, "a.yaml"), filepath.Join(dir, "sub", "b.yaml"), filepath.Join(dir, "sub", "c.yaml"), "built-in/gas-bench.yaml",
		}, s.Files)
	})
	t.Run("parts keep the order of the base", func(t *testing.T) {
		s, err := Load(filepath.Join(dir, "a.yaml"))
		require.NoError(t, err)
		base, err := Load("gas-bench")
		require.NoError(t, err)
		for i, part := range base.Plant.Parts {
			assert.Equal(t, part.Name, s.Plant.Parts[i].Name)
		}
	})
	t.Run("null takes a block away", func(t *testing.T) {
		s, err := Load(filepath.Join(dir, "removed.yaml"))
		require.NoError(t, err)
		line, ok := plant.Spec[plant.Line](s.Plant, "line")
		require.True(t, ok)
		assert.Nil(t, line.BlockValve)
	})
	t.Run("what the base shows is not taken over", func(t *testing.T) {
		s, err := Load(filepath.Join(dir, "removed.yaml"))
		require.NoError(t, err)
		assert.Nil(t, s.Shows)
		assert.Empty(t, s.About)
	})
	t.Run("a file may be called like the base it includes", func(t *testing.T) {
		s, err := Load(filepath.Join(dir, "gas-bench.yaml"))
		require.NoError(t, err)
		assert.Equal(t, bench, values(s.Plant))
	})
}

func TestListsTakeThePlaceOfTheBase(t *testing.T) {
	dir := write(t, map[string]string{
		"base.yaml":  head + "include: gas-bench\ncommands: [{at: 1 s, set: inflow.mass-flow, to: 2 kg/s}]\n",
		"keeps.yaml": head + "include: ./base.yaml\n",
		"other.yaml": head + "include: ./base.yaml\ncommands: [{at: 2 s, set: relay.supply, to: 0 V}]\n",
		"none.yaml":  head + "include: ./base.yaml\ncommands: []\n",
	})
	for name, want := range map[string][]Command{
		"keeps.yaml": {{1, "inflow.mass-flow", plant.Value{Number: 2}}},
		"other.yaml": {{2, "relay.supply", plant.Value{}}},
		"none.yaml":  nil,
	} {
		t.Run(name, func(t *testing.T) {
			s, err := Load(filepath.Join(dir, name))
			require.NoError(t, err)
			assert.Equal(t, want, s.Commands)
		})
	}
}

func TestLoadOfWhatIsNotThere(t *testing.T) {
	_, err := Load("gas-benhc")
	var e *Error
	require.ErrorAs(t, err, &e)
	assert.ErrorIs(t, err, fs.ErrNotExist)
	assert.Equal(t, "gas-benhc", e.File)
	assert.Zero(t, e.Line)
	assert.Contains(t, e.Want, "nearest is gas-bench")

	_, err = Load(t.TempDir())
	require.ErrorAs(t, err, &e)
	assert.Contains(t, e.Found, "cannot be read")
}

func TestSpellingsOfYAMLThatAreWelcome(t *testing.T) {
	for name, text := range map[string]string{
		"lines end in CR LF":        strings.ReplaceAll(head+"include: gas-bench\nuntil: 3 s\n", "\n", "\r\n"),
		"byte order mark":           "\xef\xbb\xbf" + head + "include: gas-bench\nuntil: 3 s\n",
		"document start":            "---\n" + head + "include: gas-bench\nuntil: 3 s\n",
		"everything in braces":      "{name: t, title: t, include: gas-bench, until: 3 s}",
		"quotes":                    "\"name\": 't'\n'title': \"t\"\ninclude: \"gas-bench\"\nuntil: '3 s'\n",
		"value on the next line":    "name: t\ntitle: t\ninclude: gas-bench\nuntil:\n  3 s\n",
		"number and unit in a fold": "name: t\ntitle: t\ninclude: gas-bench\nuntil: 3\n  s\n",
	} {
		t.Run(name, func(t *testing.T) {
			s, err := Parse("t.yaml", []byte(text), open)
			require.NoError(t, err)
			assert.Equal(t, 3.0, s.Until)
		})
	}
}
