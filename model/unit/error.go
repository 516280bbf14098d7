package unit

import (
	"strconv"
	"strings"
)

// Error says what is wrong with the text of a quantity.
type Error struct {
	Found string // the text, quoted, and what is wrong with it
	Want  string // what would be right
}

func (e *Error) Error() string { return e.Found + "; want " + e.Want }

// longest text that is read or quoted; no quantity needs as much.
const longest = 120

func quote(text string) string {
	if len(text) > longest {
		text = strings.ToValidUTF8(text[:longest], "") + "..."
	}
	return strconv.Quote(text)
}

// want describes a right quantity: "an area such as 4 mm2 (in mm2, cm2, m2)".
func (e *entry) want() string {
	if e.dim == Ratio {
		return "a plain number such as " + e.example + ", or one in %"
	}
	names := make([]string, len(e.units))
	for i := range e.units {
		names[i] = e.units[i].name
	}
	return e.brief() + " (in " + strings.Join(names, ", ") + ")"
}

func (e *entry) brief() string { return e.noun + " such as " + e.example }
