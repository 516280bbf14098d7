package scenarios

import (
	"encoding/base64"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/model/fault"
	"underdisc/model/plant"
)

func hiding(t require.TestingT, code string, faults ...fault.Entry) *Scenario {
	s, err := Load("gas-bench-plus")
	require.NoError(t, err)
	require.NoError(t, s.Hide(code, faults...))
	return s
}

func TestReveal(t *testing.T) {
	s := hiding(t, " Red  Lamp", fault.Entry{Name: "pilot-leaks", At: 2})
	s = again(t, s)
	assert.True(t, s.Sealed())
	for _, wrong := range []string{"", " ", "red", "redlamp", "pilot-leaks"} {
		assert.False(t, s.Hidden.Reveal(wrong), wrong)
	}
	assert.True(t, s.Sealed())
	assert.True(t, s.Hidden.Reveal("red lamp"))
	assert.False(t, s.Sealed())
	assert.True(t, again(t, s).Sealed(), "a file of it hides it again")

	s = again(t, hiding(t, "", fault.Entry{Name: "pilot-leaks"}))
	assert.False(t, s.Hidden.Reveal(""), "there is no code")
	var none *Hidden
	assert.False(t, none.Reveal("x") || none.Answer("pilot-leaks"))
}

func TestAnswer(t *testing.T) {
	s := again(t, hiding(t, "word", fault.Entry{Name: "pilot-leaks"}, fault.Entry{Name: "spring-weak"}))
	assert.False(t, s.Hidden.Answer("bleed-plugged"))
	assert.True(t, s.Hidden.Answer(" pilot-leaks "))
	assert.True(t, s.Hidden.Answer("pilot-leaks"), "once more")
	assert.True(t, s.Sealed(), "there is another one")
	assert.True(t, s.Hidden.Answer("spring-weak"))
	assert.False(t, s.Sealed())
}

// Faults that are hidden one after the other each keep their code, and a copy
// made before knows nothing of them.
func TestHiddenOneByOne(t *testing.T) {
	s := hiding(t, "first", fault.Entry{Name: "pilot-leaks"})
	before := *s
	require.True(t, before.Hidden.Reveal("first"))
	s.Record(Action{Fault: &fault.Entry{Name: "spring-weak", At: 3}, Hidden: true, Code: "second"})
	assert.False(t, before.Sealed())
	assert.Len(t, before.Hidden.Faults, 1)
	assert.True(t, s.Sealed(), "a new one")
	assert.False(t, s.Hidden.Reveal("third"))
	s = again(t, s)
	assert.True(t, s.Hidden.Reveal("second"))
	assert.True(t, s.Sealed(), "the first code is missing")
	assert.True(t, s.Hidden.Reveal("first"))
	assert.False(t, s.Sealed())

	s = &Scenario{Plant: s.Plant, Hidden: &Hidden{Faults: []fault.Entry{{Name: "coil-open"}}}}
	assert.Len(t, s.Hidden.texts(), 1, "faults that came without a seal get one")
}

// Whatever is hidden, the text shows neither name nor number, plainly or as
// base64, its length tells nothing, and it reads back bit for bit.
func TestConcealed(t *testing.T) {
	length := 0
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(fault.All()).Draw(t, "fault")
		severity := rapid.Float64().Draw(t, "severity")
		e := fault.Entry{Name: f.Name, Severity: &severity, Part: "valve", At: rapid.Float64Range(0, 60).Draw(t, "at")}
		code := rapid.StringMatching(`[a-z]{4,12}`).Draw(t, "code")
		text, err := conceal(newSeal(code), []fault.Entry{e})
		require.NoError(t, err)
		plain, err := base64.RawURLEncoding.DecodeString(text)
		require.NoError(t, err)
		for _, in := range []string{text, string(plain)} {
			for _, word := range []string{f.Name, f.Name[:5], code, "valve", fmt.Sprint(severity), `"n"`} {
				if len(word) > 3 {
					require.NotContains(t, in, word)
				}
			}
		}
		got, l, err := uncover(text)
		require.NoError(t, err)
		require.Equal(t, []fault.Entry{e}, got)
		require.Equal(t, l.check, checkOf(l.salt, code))
		if length == 0 {
			length = len(text)
		}
		require.Len(t, text, length)
	})
	a, _ := conceal(newSeal("w"), []fault.Entry{{Name: "pilot-leaks"}})
	b, _ := conceal(newSeal("w"), []fault.Entry{{Name: "pilot-leaks"}})
	assert.NotEqual(t, a[8:], b[8:])
	_, err := conceal(newSeal("w"), nil)
	assert.Error(t, err)
}

// One error for whatever is wrong with a hidden fault, with its place; and a
// damaged text is told from one that does not fit.
func TestBadHidden(t *testing.T) {
	sealed := func(faults ...fault.Entry) string {
		text, err := conceal(newSeal("word"), faults)
		require.NoError(t, err)
		return "\"" + text + "\""
	}
	minus := -1.0
	above := 12.5e5
	const misfit = "a fault that does not fit the rest of this file"
	for _, b := range []bad{
		{name: "not a text", text: "hidden: {a: b}\n", line: 4, col: 9, key: "hidden", found: "a group of keys", want: "underdisc hide"},
		{name: "nothing", text: "hidden:\n", line: 4, col: 1, key: "hidden", found: "nothing"},
		{name: "in the list", text: "hidden:\n  - " + sealed(fault.Entry{Name: "pilot-leaks"}) + "\n  - [a]\n", line: 6, col: 5, key: "hidden", found: "a list"},
		{name: "no such text", text: "hidden: AbC\n", line: 4, col: 9, key: "hidden", found: `"AbC" (is not what hides a fault, or is damaged)`},
		{name: "damaged", text: "hidden: " + strings.Replace(sealed(fault.Entry{Name: "pilot-leaks"}), "A", "B", 1) + "\n", line: 4, col: 9, key: "hidden", found: "damaged"},
		{name: "no such fault", text: "hidden: " + sealed(fault.Entry{Name: "pilot-leeks"}) + "\n", line: 4, col: 9, key: "hidden", found: misfit},
		{name: "no such part", text: "hidden: " + sealed(fault.Entry{Name: "pilot-leaks", Part: "north"}) + "\n", line: 4, col: 9, key: "hidden", found: misfit},
		{name: "what the plant lacks", text: "hidden: " + sealed(fault.Entry{Name: "dump-restricted"}) + "\n", line: 4, col: 9, key: "hidden", found: misfit},
		{name: "severity", text: "hidden: " + sealed(fault.Entry{Name: "pilot-leaks", Severity: &minus}) + "\n", line: 4, col: 9, key: "hidden", found: misfit},
		{name: "severity against the plant", text: "hidden: " + sealed(fault.Entry{Name: "deadband-narrow", Severity: &above}) + "\n", line: 4, col: 9, key: "hidden", found: misfit},
		{name: "after the end", text: "hidden: " + sealed(fault.Entry{Name: "pilot-leaks", At: 61}) + "\n", line: 4, col: 9, key: "hidden", found: misfit},
		{name: "two on one parameter", text: "hidden: [" + sealed(fault.Entry{Name: "bleed-plugged"}) + ", " + sealed(fault.Entry{Name: "bleed-enlarged"}) + "]\n", line: 4, col: 10, key: "hidden", found: misfit},
		{name: "against an open one", text: "faults: [{fault: bleed-plugged}]\nhidden: " + sealed(fault.Entry{Name: "bleed-enlarged"}) + "\n", line: 5, col: 9, key: "hidden", found: misfit},
		{name: "against a command", text: "commands: [{at: 2 s, set: switch.set, to: 11.4 bar abs}]\nhidden: " + sealed(fault.Entry{Name: "deadband-narrow", At: 3}) + "\n", line: 5, col: 9, key: "hidden", found: misfit},
		{name: "a command against it", text: "commands: [{at: 2 s, set: switch.set, to: 11.4 bar abs}]\nhidden: " + sealed(fault.Entry{Name: "deadband-narrow"}) + "\n", line: 5, col: 9, key: "hidden", found: misfit},
	} {
		b.text = on(b.text)
		t.Run(b.name, func(t *testing.T) {
			b.check(t)
			_, err := Parse("t.yaml", []byte(b.text), open)
			for _, word := range []string{"pilot-leaks", "deadband", "bleed", "reset", "11.9", "north"} {
				assert.NotContains(t, err.Error(), word)
			}
		})
	}
}

// While a fault is hidden, what could find it out by being refused is refused
// beforehand, and alike whatever is hidden.
func TestAllows(t *testing.T) {
	s := hiding(t, "word", fault.Entry{Name: "bleed-plugged"})
	command := func(path string) Action { return Action{Command: &Command{At: 1, Path: path}} }
	for _, path := range []string{"inflow.mass-flow", "line.block-valve.opening", "relay.selector.position"} {
		assert.NoError(t, s.Allows(command(path)))
	}
	refused := s.Allows(command("valve.bleed.area"))
	assert.ErrorContains(t, refused, "until the fault is revealed")
	assert.Equal(t, refused, s.Allows(command("valve.spring.rate")))
	assert.Equal(t, refused, s.Allows(command("no.such")))
	for _, f := range fault.All() {
		assert.Equal(t, refused, s.Allows(Action{Fault: &fault.Entry{Name: f.Name}}))
		assert.NoError(t, s.Allows(Action{Fault: &fault.Entry{Name: f.Name}, Hidden: true}))
	}
	require.True(t, s.Hidden.Reveal("word"))
	assert.NoError(t, s.Allows(command("valve.bleed.area")))
}

// Some faults are what a hand left behind: a block valve shut, a fuse out. A
// hand may set that right while it is still hidden, and nothing is refused.
func TestAHandSetsRightWhatIsHidden(t *testing.T) {
	plain, err := Load("boiler-plant")
	require.NoError(t, err)
	set := 0
	for _, f := range fault.Possible(plain.Plant) {
		part := f.Befalls(plain.Plant)[0]
		path := part + "." + f.Param
		if !plain.ByHand(path) {
			continue
		}
		set++
		s := *plain
		require.NoError(t, s.Hide("word", fault.Entry{Name: f.Name, Part: part}))
		sound, err := s.Plant.Get(path)
		require.NoError(t, err)
		c := Command{At: 5, Path: path, Value: sound.Value}
		require.NoError(t, s.Allows(Action{Command: &c}))
		s.Commands = append(s.Commands, c)
		stages, err := s.Stages()
		require.NoError(t, err, f.Name)
		wrong, _ := stages[0].Plant.Get(path)
		assert.NotEqual(t, sound.Value, wrong.Value, f.Name)
		right, _ := stages[1].Plant.Get(path)
		assert.Equal(t, sound.Value, right.Value, f.Name)
	}
	assert.GreaterOrEqual(t, set, 6)
}

// Stages show hidden faults only once they are revealed; the plants have them.
func TestStagesOfHidden(t *testing.T) {
	s := hiding(t, "word", fault.Entry{Name: "bleed-plugged", At: 2})
	s.Commands = []Command{{At: 1, Path: "inflow.mass-flow", Value: plant.Value{Number: 2}}}
	stages, err := s.Stages()
	require.NoError(t, err)
	require.Len(t, stages, 3)
	assert.Empty(t, stages[2].Faults)
	assert.Empty(t, stages[2].Changes)
	prm, err := stages[2].Plant.Get("valve.bleed.area")
	require.NoError(t, err)
	assert.Zero(t, prm.Value.Number)
	require.True(t, s.Hidden.Reveal("word"))
	stages, err = s.Stages()
	require.NoError(t, err)
	assert.Equal(t, "bleed-plugged", stages[2].Faults[0].Name)
	assert.Equal(t, "valve.bleed.area", stages[2].Changes[0].Path)
}
