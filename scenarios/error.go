package scenarios

import (
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
	"unicode"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/model/unit"
)

// Error is one thing wrong with a scenario file.
type Error struct {
	File         string
	Line, Column int    // from 1; zero when the file as a whole is wrong
	Key          string // path of the key, such as valve.seat.diameter, or empty
	Found        string // what stands there
	Want         string // what would be right
	Err          error  // the cause, where there is one
}

// Error gives one line: file, line and column, key, what was found, what
// would be right.
func (e *Error) Error() string {
	var b strings.Builder
	if e.File != "" {
		b.WriteString(e.File)
		b.WriteByte(':')
	}
	if e.Line > 0 {
		fmt.Fprintf(&b, "%d:%d:", e.Line, e.Column)
	}
	if b.Len() > 0 {
		b.WriteByte(' ')
	}
	if e.Key != "" {
		b.WriteString(e.Key)
		b.WriteString(": ")
	}
	found := e.Found
	if rest, ok := strings.CutPrefix(found, "no part is named "); ok { // a sentence of its own, elsewhere
		found = "no part named " + rest
	}
	b.WriteString("found " + found + ", want " + e.Want)
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) { // from a key or a path in quotes
			return ' '
		}
		return r
	}, b.String())
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// place is a position in a file.
type place struct {
	file      string
	line, col int
}

// wrong makes the error for something at a place.
func (p place) wrong(key, found, want string) error {
	return &Error{File: p.file, Line: p.line, Column: p.col, Key: cut(key), Found: found, Want: want}
}

// quote shows text of the file in an error.
func quote(s string) string { return strconv.Quote(cut(s)) }

// cut keeps an error readable when the text that it shows is long.
func cut(s string) string {
	const most = 80
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "..."
	}
	return s
}

// oneOf lists words that would be right.
func oneOf(words []string) string {
	switch len(words) {
	case 0:
		return "nothing"
	case 1:
		return words[0]
	}
	return "one of " + strings.Join(words, ", ")
}

// wantNear lists words that would be right, and which of them a misspelt word
// most likely means.
func wantNear(word string, words []string) string {
	want := oneOf(words)
	if near := plant.Near(word, words); near != nil && len(words) > 1 {
		want += "; nearest is " + near[0]
	}
	return want
}

// wantScenario says where the names of scenarios are, which are too many to list,
// and which of them a misspelt one most likely means.
func wantScenario(name string) string {
	const all = "underdisc list scenarios has all names"
	if near := plant.Near(name, Names()); near != nil {
		return "the name of a scenario (nearest is " + near[0] + "; " + all + ")"
	}
	return "the name of a scenario (" + all + ")"
}

// causedBy keeps the cause of an error made by wrong.
func causedBy(err, cause error) error {
	var e *Error
	if errors.As(err, &e) {
		e.Err = cause
	}
	return err
}

// explain turns an error of the model into one at a place of the file. text
// is what stands there.
func (p place) explain(key, text string, err error) error {
	found, want := quote(text)+" ("+err.Error()+")", "something else"
	var (
		quantity *unit.Error
		value    *plant.ValueError
		path     *plant.PathError
		befall   *fault.Error
		conflict *fault.ConflictError
		changed  *Error
	)
	switch {
	case errors.As(err, &quantity):
		found, want = inBrackets(quantity.Found), quantity.Want
	case errors.As(err, &value):
		found, want = because(text, value.Found), value.Want
	case errors.As(err, &path):
		found, want = because(text, path.Found), path.Want
	case errors.As(err, &befall):
		found, want = because(text, befall.Found), befall.Want
	case errors.As(err, &conflict):
		found = because(text, "which sets "+conflict.Path+" as "+conflict.First+" does")
		want = "one fault for each parameter"
	case errors.As(err, &changed):
		found, want = because(text, changed.Found), changed.Want
	}
	return causedBy(p.wrong(key, found, want), err)
}

// because puts a reason behind the text that it is about, unless it only
// repeats the text.
func because(text, reason string) string {
	if reason == quote(text) || text == "" {
		return reason
	}
	return quote(text) + " (" + reason + ")"
}

// inBrackets puts what follows a quoted text in brackets.
func inBrackets(found string) string {
	if text, err := strconv.QuotedPrefix(found); err == nil {
		if reason := strings.TrimSpace(found[len(text):]); reason != "" {
			return text + " (" + reason + ")"
		}
	}
	return found
}

// reason is the cause of a failure to read a file, without the path that the
// reader of the message already has.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}
