package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
)

// A severity may be a word: read, written, hidden and read back.
func TestSeverityOfAWord(t *testing.T) {
	const head = "name: words\ntitle: Words\nabout: Words.\ninclude: boiler-plant\nuntil: 60 s\ncommands: []\n"
	s, err := Parse("t.yaml", []byte(head+"faults:\n  - {fault: selector-left, severity: off, at: 2 s}\n  - {fault: earths-two}\n"), open)
	require.NoError(t, err)
	want := []fault.Entry{{Name: "selector-left", Word: "off", At: 2}, {Name: "earths-two"}}
	assert.Equal(t, want, s.Faults)
	assert.Equal(t, want, again(t, s).Faults)

	text, err := conceal(newSeal("word"), want)
	require.NoError(t, err)
	got, _, err := uncover(text)
	require.NoError(t, err)
	assert.Equal(t, want, got)
	assert.NotContains(t, text, "off")

	for _, b := range []struct{ severity, found, want string }{
		{"3 mm2", `"3 mm2"`, "auto, open, off"},
		{"of", `"of"`, "off"},
		{"[off]", "a list", "auto, open, off"},
	} {
		_, err := Parse("t.yaml", []byte(head+"faults:\n  - {fault: selector-left, severity: "+b.severity+"}\n"), open)
		var e *Error
		require.ErrorAs(t, err, &e, b.severity)
		assert.Equal(t, "faults.severity", e.Key)
		assert.Equal(t, 8, e.Line)
		assert.Contains(t, e.Found, b.found)
		assert.Contains(t, e.Want, b.want)
	}
	_, err = Parse("t.yaml", []byte(head+"faults:\n  - {fault: pilot-leaks, severity: much}\n"), open)
	assert.ErrorContains(t, err, "an area such as")

	// One that does not fit is refused without saying which.
	bad, err := conceal(newSeal("word"), []fault.Entry{{Name: "selector-left", Word: "sideways"}})
	require.NoError(t, err)
	_, err = Parse("t.yaml", []byte(head+"hidden: \""+bad+"\"\n"), open)
	require.ErrorContains(t, err, "does not fit")
	assert.NotContains(t, err.Error(), "selector")
}
