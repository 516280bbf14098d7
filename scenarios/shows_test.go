package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/unit"
)

func TestShows(t *testing.T) {
	s := load(t, `
shows:
  lifts: {at-least: 1, at-most: 3}
  state-at-end: [shut, leaking]
  link-at-end: pilot
  seated-at-end: false
  never: [coil-on]
  order: [switch-made, disc-lift]
  first:
    - {event: disc-lift, after: 2 s, before: 2500 ms}
    - {event: switch-made, before: 3 s}
  final:
    - {quantity: vessel.pressure, at-least: 11 bar abs, at-most: 12 bar abs}
    - {quantity: valve.dump-line.wall.temperature, at-least: 20 degC}
    - {quantity: valve.lift-share, at-most: 5 %}
`)
	n := func(v float64) *float64 { return &v }
	one, three, no := 1, 3, false
	assert.Equal(t, &Shows{
		Lifts:       &Count{AtLeast: &one, AtMost: &three},
		StateAtEnd:  []string{"shut", "leaking"},
		LinkAtEnd:   "pilot",
		SeatedAtEnd: &no,
		Never:       []string{"coil-on"},
		Order:       []string{"switch-made", "disc-lift"},
		First: []FirstEvent{
			{Event: "disc-lift", After: n(2), Before: n(2.5)},
			{Event: "switch-made", Before: n(3)},
		},
		Final: []Bound{
			{Quantity: "vessel.pressure", Dim: unit.Pressure, AtLeast: n(11e5), AtMost: n(12e5)},
			{Quantity: "valve.dump-line.wall.temperature", Dim: unit.Temperature, AtLeast: n(293.15)},
			{Quantity: "valve.lift-share", Dim: unit.Ratio, AtMost: n(0.05)},
		},
	}, s.Shows)
	assert.Nil(t, load(t, "").Shows)
}

func TestCountHolds(t *testing.T) {
	two, four := 2, 4
	for _, c := range []struct {
		name  string
		count Count
		holds []bool // for 1, 2, 3, 4, 5
	}{
		{"at least", Count{AtLeast: &two}, []bool{false, true, true, true, true}},
		{"at most", Count{AtMost: &four}, []bool{true, true, true, true, false}},
		{"both", Count{AtLeast: &two, AtMost: &four}, []bool{false, true, true, true, false}},
		{"exactly", Count{Exactly: &four}, []bool{false, false, false, true, false}},
	} {
		t.Run(c.name, func(t *testing.T) {
			for i, want := range c.holds {
				assert.Equal(t, want, c.count.Holds(i+1), "%d", i+1)
			}
		})
	}
}

func TestBadShows(t *testing.T) {
	for _, b := range []bad{
		{name: "a word", text: "shows: eleven\n", line: 4, col: 8, key: "shows", found: `"eleven"`, want: "lifts"},
		{name: "nothing in it", text: "shows: {}\n", line: 4, col: 8, key: "shows", found: "nothing", want: "lifts"},
		{name: "unknown key", text: "shows: {lift: 5}\n", line: 4, col: 9, key: "shows.lift", want: "nearest is lifts"},
		{name: "count is a number", text: "shows: {lifts: 5}\n", line: 4, col: 16, key: "shows.lifts", found: `"5"`, want: "exactly"},
		{name: "count of nothing", text: "shows: {lifts: {}}\n", line: 4, col: 16, key: "shows.lifts", found: "no bound", want: "at-least"},
		{name: "count below zero", text: "shows: {lifts: {exactly: -1}}\n", line: 4, col: 26, key: "shows.lifts.exactly", found: `"-1"`, want: "whole number"},
		{name: "count of a half", text: "shows: {lifts: {exactly: 1.5}}\n", line: 4, col: 26, key: "shows.lifts.exactly", found: `"1.5"`, want: "whole number"},
		{name: "exactly and at most", text: "shows: {lifts: {exactly: 1, at-most: 2}}\n", line: 4, col: 9, key: "shows.lifts", found: "beside another", want: "exactly alone"},
		{name: "count upside down", text: "shows: {lifts: {at-least: 3, at-most: 2}}\n", line: 4, col: 39, key: "shows.lifts.at-most", found: `"2"`, want: "no less than at-least, which is 3"},
		{name: "unknown state", text: "shows: {state-at-end: [opened]}\n", line: 4, col: 24, key: "shows.state-at-end", found: `"opened"`, want: "nearest is open"},
		{name: "state is no list", text: "shows: {state-at-end: shut}\n", line: 4, col: 23, key: "shows.state-at-end", found: `"shut"`, want: "a list"},
		{name: "unknown link", text: "shows: {link-at-end: valve}\n", line: 4, col: 22, key: "shows.link-at-end", found: `"valve"`, want: "one of switch, relay, coil, pilot, chamber, disc"},
		{name: "seated maybe", text: "shows: {seated-at-end: maybe}\n", line: 4, col: 24, key: "shows.seated-at-end", found: `"maybe"`, want: "true, false"},
		{name: "unknown event", text: "shows: {never: [coil-off, disc-lifts]}\n", line: 4, col: 27, key: "shows.never", found: `"disc-lifts"`, want: "nearest is disc-lift"},
		{name: "event twice", text: "shows: {never: [coil-off, coil-off]}\n", line: 4, col: 27, key: "shows.never", found: "a second time", want: "once"},
		{name: "order of one", text: "shows: {order: [coil-on]}\n", line: 4, col: 16, key: "shows.order", found: "one event", want: "two or more"},
		{name: "never and yet first", text: "shows:\n  first: [{event: coil-on, after: 1 s}]\n  never: [coil-on]\n", line: 6, col: 11, key: "shows.never", found: "order or first", want: "not asked for"},
		{name: "never and yet in order", text: "shows:\n  order: [coil-on, coil-off]\n  never: [disc-lift, coil-off]\n", line: 6, col: 22, key: "shows.never", found: `"coil-off"`, want: "not asked for"},
		{name: "first without a time", text: "shows:\n  first: [{event: coil-on}]\n", line: 5, col: 11, key: "shows.first", found: "no bound", want: "after, before or both"},
		{name: "first upside down", text: "shows:\n  first: [{event: coil-on, after: 2 s, before: 1 s}]\n", line: 5, col: 48, key: "shows.first.before", found: `"1 s"`, want: "no less than after, which is 2 s"},
		{name: "first after the run", text: "until: 2 s\nshows:\n  first: [{event: coil-on, before: 3 s}]\n", line: 6, col: 36, key: "shows.first.before", found: `"3 s"`, want: "at most 2 s"},
		{name: "first of none", text: "shows: {first: []}\n", line: 4, col: 16, key: "shows.first", found: "an empty list", want: "one item"},
		{name: "quantity of one word", text: "shows: {final: [{quantity: pressure, at-least: 1 bar abs}]}\n", line: 4, col: 28, key: "shows.final.quantity", found: `"pressure"`, want: "vessel.pressure"},
		{name: "quantity without bound", text: "shows: {final: [{quantity: vessel.pressure}]}\n", line: 4, col: 17, key: "shows.final", found: "no bound", want: "at-least"},
		{name: "bound with no known unit", text: "shows: {final: [{quantity: vessel.pressure, at-least: 1 atm}]}\n", line: 4, col: 55, key: "shows.final.at-least", found: `"1 atm"`, want: "with its unit"},
		{name: "bounds of two dimensions", text: "shows: {final: [{quantity: vessel.pressure, at-least: 1 bar abs, at-most: 2 bar}]}\n", line: 4, col: 75, key: "shows.final.at-most", found: `"2 bar"`, want: "bar abs"},
		{name: "bounds upside down", text: "shows: {final: [{quantity: vessel.pressure, at-least: 3 bar abs, at-most: 2 bar abs}]}\n", line: 4, col: 75, key: "shows.final.at-most", found: `"2 bar abs"`, want: "no less than at-least, which is 3 bar abs"},
	} {
		b.text = on(b.text)
		t.Run(b.name, b.check)
	}
}

// springy is a plant with a piloted valve and a spring-loaded one.
const springy = "include: boiler-plant-safeties\n"

func TestShowsOfValves(t *testing.T) {
	s, err := Parse("a.yaml", []byte("name: a\ntitle: A\n"+springy+`commands: []
shows:
  never: [pop:safety-2]
  order: [load-moves, pop:safety-1]
  first:
    - {event: "simmer:safety-1", after: 2 s}
  state-at-end: [tight, shut]
  valves:
    - {valve: valve, lifts: {exactly: 0}, seated-at-end: true, state-at-end: [shut]}
    - {valve: safety-1, pops: {at-least: 42 bar abs}, blowdown: {at-least: 2 %, at-most: 4 %}, accumulation: {at-most: 6 %}, state-at-end: [tight]}
`), open)
	require.NoError(t, err)
	n := func(v float64) *float64 { return &v }
	none, yes := 0, true
	assert.Equal(t, []OfValve{
		{Valve: "valve", Lifts: &Count{Exactly: &none}, SeatedAtEnd: &yes, StateAtEnd: []string{"shut"}},
		{Valve: "safety-1", StateAtEnd: []string{"tight"}, Pops: &Bounds{AtLeast: n(42e5)}, Blowdown: &Bounds{n(0.02), n(0.04)}, Accumulation: &Bounds{AtMost: n(0.06)}},
	}, s.Shows.Valves)
	assert.Equal(t, []string{"pop:safety-2"}, s.Shows.Never)
	name, part := EventOf(s.Shows.Order[1])
	assert.Equal(t, []string{"pop", "safety-1"}, []string{name, part})
	assert.Equal(t, "simmer:safety-1", s.Shows.First[0].Event)
}

func TestBadShowsOfValves(t *testing.T) {
	for _, c := range []struct{ name, text, key, found, want string }{
		{"no such part", "never: [pop:safety-3]", "shows.never", `"pop:safety-3"`, "nearest is safety-"},
		{"no such event of a part", "never: [pops:safety-1]", "shows.never", `"pops:safety-1"`, "nearest is pop"},
		{"first of no part", "first: [{event: 'pop:', after: 1 s}]", "shows.first.event", `"pop:"`, "after the colon"},
		{"never and yet of a part", "never: [pop]\n  order: [simmer, pop:safety-1]", "shows.never", `"pop"`, "not asked for"},
		{"no such valve", "valves: [{valve: drum, lifts: {exactly: 0}}]", "shows.valves.valve", `"drum"`, "one of valve, safety-1, safety-2"},
		{"nothing of a valve", "valves: [{valve: safety-1}]", "shows.valves", "nothing that it must show", "pops"},
		{"blowdown of a piloted valve", "valves: [{valve: valve, blowdown: {at-most: 4 %}}]", "shows.valves.blowdown", "no spring-loaded valve", "of a spring-loaded valve"},
		{"state of the other kind", "valves: [{valve: safety-1, state-at-end: [shut]}]", "shows.valves.state-at-end", `"shut"`, "tight"},
		{"pops in percent", "valves: [{valve: safety-1, pops: {at-most: 4 %}}]", "shows.valves.pops.at-most", `"4 %"`, "bar"},
		{"no bound", "valves: [{valve: safety-1, pops: {}}]", "shows.valves.pops", "no bound", "at-least"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse("a.yaml", []byte("name: a\ntitle: A\n"+springy+"shows:\n  "+c.text+"\n"), open)
			var e *Error
			require.ErrorAs(t, err, &e)
			assert.Equal(t, c.key, e.Key)
			assert.Contains(t, e.Found, c.found)
			assert.Contains(t, e.Want, c.want)
		})
	}
}
