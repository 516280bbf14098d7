package fault

import (
	"errors"
	"fmt"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/unit"
)

// ParseEntry reads name[:part][=severity][@time], as on the command line:
// "pilot-leaks", "pilot-leaks=6mm2@2s", "bleed-plugged:north-valve@10 s".
// "selector-left=off". The severity is the new value of the parameter that the
// fault sets: a number in a unit of its dimension and within its range, or one
// of its words; the time is when it sets in.
func ParseEntry(p *plant.Plant, text string) (Entry, error) {
	name, at, timed := text, "", false
	if i := strings.LastIndexByte(text, '@'); i >= 0 {
		name, at, timed = text[:i], text[i+1:], true
	}
	name, severity, severe := strings.Cut(name, "=")
	name, part, parted := strings.Cut(name, ":")
	e := Entry{Name: strings.TrimSpace(name), Part: strings.TrimSpace(part)}
	f, err := lookUp(e.Name)
	if err != nil {
		return Entry{}, err
	}
	if parted && e.Part == "" {
		return Entry{}, &Error{f.Name, "no part follows the colon", f.candidates(p)}
	}
	on, err := f.befalls(p, e.Part)
	if err != nil {
		return Entry{}, err
	}
	if severe {
		prm, err := p.Get(on + "." + f.Param)
		if err != nil {
			return Entry{}, err
		}
		val, err := plant.ParseValue(prm, severity)
		if err != nil {
			return Entry{}, f.blame("severity", err)
		}
		e = e.With(prm, val)
	}
	if timed {
		if e.At, err = unit.Parse(at, unit.Time); err != nil {
			return Entry{}, f.blame("time", err)
		}
		if e.At < 0 {
			return Entry{}, &Error{f.Name, "it sets in at " + unit.Format(e.At, unit.Time), "a time of 0 s or later"}
		}
	}
	return e, nil
}

// With returns the entry with a value of its parameter as its severity.
func (e Entry) With(prm plant.Param, v plant.Value) Entry {
	e.Severity, e.Word = nil, v.Word
	if prm.Numeric() {
		e.Severity = &v.Number
	}
	return e
}

// blame turns an error about a value into one about the fault's entry.
func (f Fault) blame(what string, err error) error {
	var quantity *unit.Error
	var value *plant.ValueError
	switch {
	case errors.As(err, &quantity):
		return &Error{f.Name, what + " " + quantity.Found, quantity.Want}
	case errors.As(err, &value):
		return &Error{f.Name, what + " " + value.Found + " is out of range", value.Want}
	}
	return fmt.Errorf("fault %s: %s: %w", f.Name, what, err)
}
