package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"

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
