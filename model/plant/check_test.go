package plant

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestCheckFindsNothingWrongWithTheBench(t *testing.T) {
	assert.Empty(t, tried().Check())
	assert.Empty(t, tried().CheckRunning())
}

// set changes one number of the plant that tests use.
func set(path string, v float64) func(*Plant) *Plant {
	return func(p *Plant) *Plant {
		q, err := p.With(path, Value{Number: v})
		if err != nil {
			panic(err)
		}
		return q
	}
}

// without takes a part away; and puts one in.
func without(name string) func(*Plant) *Plant {
	return func(p *Plant) *Plant {
		q := &Plant{}
		for _, part := range p.Parts {
			if part.Name != name {
				q.Parts = append(q.Parts, part)
			}
		}
		return q
	}
}

func and(name, kind string, spec any) func(*Plant) *Plant {
	return func(p *Plant) *Plant {
		return &Plant{Parts: append(p.Parts[:len(p.Parts):len(p.Parts)], Part{name, kind, spec})}
	}
}

func TestCheck(t *testing.T) {
	secondLine := &Line{From: "vessel", To: "valve", Volume: 1, Area: 1, Coefficient: 1}
	secondRelay := &Relay{Switch: "switch", Valve: "valve", Supply: 24}
	for _, c := range []struct {
		name   string
		change func(*Plant) *Plant
		path   string
		found  string
		want   string
	}{
		{"seat larger than guide", set("valve.seat.diameter", 0.08), "valve.seat.diameter", "80 mm, which leaves no ring", "less than 70 mm"},
		{"seat as large as guide", set("valve.seat.diameter", 0.07), "valve.seat.diameter", "70 mm, which leaves no ring", "less than 70 mm"},
		{"reset above set", set("switch.reset", 13e5), "switch.reset", "13 bar abs, not below the set pressure", "less than 12 bar abs"},
		{"reset at set", set("switch.reset", 12e5), "switch.reset", "12 bar abs, not below", "less than 12 bar abs"},
		{"drift below a vacuum", set("switch.drift", -11.3e5), "switch.drift", "-11.3 bar", "more than -11.3 bar"},
		{"chamber swallowed", set("valve.chamber.volume", 57e-6), "valve.chamber.volume", "57 cm3, all of which", "more than 57.7268 cm3"},
		{"sticks less than it slides", set("valve.disc.stick-friction", 19), "valve.disc.stick-friction", "19 N, less than", "at least 20 N"},
		{"travel beyond the seat", set("valve.disc.travel", 0.051), "valve.disc.travel", "51 mm", "at most 50 mm"},
		{"stroke beyond the pilot", set("valve.plunger.stroke", 0.0102), "valve.plunger.stroke", "10.2 mm", "at most 10.0925 mm"},
		{"vessel below its outlet", set("vessel.pressure", 1e5), "vessel.pressure", "1 bar abs, below the pressure at the outlet of valve", "at least 1.01325 bar abs, as in air"},

		{"no gas", without("gas"), "ideal-gas", "not in this plant", "one part of the kind ideal-gas"},
		{"no site", without("site"), "site", "not in this plant", "one part of the kind site"},
		{"two gases", and("nitrogen", "ideal-gas", &Gas{1.4, 296.8, 18e-6}), "nitrogen", "a second ideal-gas beside gas", "just one ideal-gas"},
		{"no line to the valve", without("line"), "valve", "fed by no line", `a line whose key "to" names valve`},
		{"two lines to the valve", and("line-2", "line", secondLine), "line-2.to", "valve, which line feeds already", "one line to each valve"},
		{"two relays on the valve", and("relay-2", "relay", secondRelay), "relay-2.valve", "valve, whose coil relay feeds already", "at most one relay"},
		{"no sensor", without("sensor"), "switch.sensor", `no part is named "sensor"`, "a sensor, which this plant lacks"},
		{"no surroundings", without("air"), "tailpipe.to", `no part is named "air"`, "a surroundings"},
		{"reference to another kind", and("inflow-2", "inflow", &Inflow{Into: "line", Temperature: 300}), "inflow-2.into", "line is a line", "a vessel or drum: vessel"},
		{"value out of range", and("tank", "vessel", &Vessel{Volume: -1, Pressure: 1e5, Temperature: 300}), "tank.volume", "-1 m3", "more than 0 L"},
		{"unknown word", and("relay-3", "relay", &Relay{Switch: "switch", Valve: "valve", Selector: &Selector{"on"}}), "relay-3.selector.position", `"on"`, "auto, open or off"},

		{"name not in kebab case", and("Vessel_2", "vessel", &Vessel{1, 2e5, 300}), "Vessel_2", `named "Vessel_2"`, "a name in lower case"},
		{"no name", and("", "vessel", &Vessel{1, 2e5, 300}), "part 12", `named ""`, "a name in lower case"},
		{"name twice", and("vessel", "vessel", &Vessel{1, 2e5, 300}), "vessel", "the name of two parts", "a name of its own"},
		{"unknown kind", and("boiler", "boiler", &Vessel{1, 2e5, 300}), "boiler", `of the unknown kind "boiler"`, "ideal-gas, thermal-gas, water, site"},
		{"structure of another kind", and("boiler", "vessel", &Gas{1.4, 287, 1e-5}), "boiler", "a vessel without its parameters", "structure"},
		{"no structure", and("boiler", "vessel", nil), "boiler", "a vessel without its parameters", "structure"},
		{"nil structure", and("boiler", "piloted-valve", (*PilotedValve)(nil)), "boiler", "a piloted-valve without its parameters", "structure"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := c.change(tried())
			var found *Issue
			for _, issue := range p.Check() {
				assert.NotEmpty(t, issue.Want)
				if issue.Path == c.path && found == nil {
					found = &issue
				}
			}
			require.NotNil(t, found, "no issue at %s in %v", c.path, p.Check())
			assert.Contains(t, found.Found, c.found)
			assert.Contains(t, found.Want, c.want)
		})
	}
}

// One mistake makes one issue.
func TestCheckSaysOneThingOnce(t *testing.T) {
	for _, change := range []func(*Plant) *Plant{
		set("valve.seat.diameter", 0.08), set("switch.reset", 13e5), set("vessel.pressure", 1e5), without("gas"),
		without("line"), without("air"),
	} {
		assert.Len(t, change(tried()).Check(), 1)
	}
	both := set("switch.reset", 13e5)(set("valve.seat.diameter", 0.08)(tried()))
	assert.Len(t, both.Check(), 2, "and two make two")
}

func TestCheckOnTheEdge(t *testing.T) {
	// Each of these is just allowed.
	for name, change := range map[string]func(*Plant) *Plant{
		"pressures equal":  set("vessel.pressure", 101325),
		"frictions equal":  set("valve.disc.stick-friction", 20),
		"travel as wide":   func(p *Plant) *Plant { return set("valve.chamber.volume", 1e-3)(set("valve.disc.travel", 0.05)(p)) },
		"chamber just big": set("valve.chamber.volume", 57.73e-6),
	} {
		assert.Empty(t, change(tried()).Check(), name)
	}
}

func TestCheckRunningLeavesOutTheStart(t *testing.T) {
	p := set("air.pressure", 12e5)(tried()) // above the vessel: others discharge into the header
	require.Len(t, p.Check(), 1)
	assert.Equal(t, "vessel.pressure", p.Check()[0].Path)
	assert.Empty(t, p.CheckRunning())

	q := set("switch.reset", 13e5)(p)
	require.Len(t, q.CheckRunning(), 1)
	assert.Equal(t, "switch.reset: 13 bar abs, not below the set pressure; want less than 12 bar abs", q.CheckRunning()[0].String())
}

func TestCheckOfNothing(t *testing.T) {
	issues := (&Plant{}).Check()
	require.Len(t, issues, 2)
	assert.Equal(t, "ideal-gas", issues[0].Path)
	assert.Equal(t, "site", issues[1].Path)
}

func TestKebab(t *testing.T) {
	for _, s := range []string{"a", "valve", "valve-2", "block-valve", "v2"} {
		assert.True(t, kebab(s), s)
	}
	for _, s := range []string{"", "-", "a-", "-a", "a--b", "A", "2a", "a_b", "a b", "ä", "a.b"} {
		assert.False(t, kebab(s), s)
	}
}
