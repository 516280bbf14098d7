package scenarios

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// openEmbeddedOnly is open without the disk.
func openEmbeddedOnly(name string) (string, []byte, error) {
	if isPath(name) {
		return name, nil, errors.New("no disk here")
	}
	return openEmbedded(name)
}

// sound tells what is wrong with what the loader made of a file: it must be a
// sound scenario, or an error with its place.
func sound(s *Scenario, err error) error {
	if err != nil {
		var e *Error
		switch {
		case s != nil:
			return fmt.Errorf("both a scenario and the error %v", err)
		case !errors.As(err, &e):
			return fmt.Errorf("error of the type %T: %v", err, err)
		case e.File == "" || e.Found == "" || e.Want == "":
			return fmt.Errorf("error that lacks something: %#v", e)
		case (e.Line < 1 || e.Column < 1) && !strings.Contains(e.Want, "a smaller file"):
			return fmt.Errorf("error without a place: %v", err)
		case strings.ContainsAny(err.Error(), "\n\r\x00"):
			return fmt.Errorf("error of several lines: %q", err)
		}
		return nil
	}
	if issues := s.Plant.Check(); len(issues) > 0 {
		return fmt.Errorf("plant with issues: %v", issues)
	}
	for _, prm := range s.Plant.Params() {
		if prm.Numeric() && !finite(prm.Value.Number) {
			return fmt.Errorf("%s is %g", prm.Path, prm.Value.Number)
		}
	}
	if s.Name == "" || s.Title == "" || !(s.Until > 0) || !finite(s.Until) {
		return fmt.Errorf("scenario %q %q until %g", s.Name, s.Title, s.Until)
	}
	last, end := 0.0, s.Until
	if s.Log != nil { // what had been planned and was not reached stays
		end = max(end, s.Log.Planned)
	}
	for _, c := range s.Commands {
		if !(c.At >= last && c.At <= end) || !finite(c.Value.Number) {
			return fmt.Errorf("command %+v after %g", c, last)
		}
		last = c.At
	}
	for _, f := range s.Faults {
		if !(f.At >= 0 && f.At <= end) || f.Severity != nil && !finite(*f.Severity) {
			return fmt.Errorf("fault %+v", f)
		}
	}
	if s.Shows != nil {
		for _, b := range s.Shows.Final {
			for _, v := range []*float64{b.AtLeast, b.AtMost} {
				if v != nil && !finite(*v) {
					return fmt.Errorf("bound %+v", b)
				}
			}
		}
	}
	stages, err := s.Stages()
	if err != nil {
		return fmt.Errorf("stages: %w", err)
	}
	again, err := Parse("again.yaml", []byte(s.Text()), nil)
	if err != nil && !strings.Contains(err.Error(), "smaller file") {
		return fmt.Errorf("what was written anew: %w", err)
	}
	if err == nil && !reflect.DeepEqual(s.Plant, again.Plant) {
		return fmt.Errorf("another plant when written anew")
	}
	for _, stage := range stages {
		if issues := stage.Plant.CheckRunning(); len(issues) > 0 {
			return fmt.Errorf("plant with issues from %g s: %v", stage.From, issues)
		}
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// rich is a valid file with every kind of entry.
const rich = `name: rich
title: Every kind of entry
about: |
  Several lines,
  of text.
include: gas-bench
until: 30 s
plant:
  line: {block-valve: {area: 50 cm2, discharge-coefficient: 0.9, opening: 80 %}}
  relay:
    selector: {position: auto}
    supply: 110 V
faults:
  - {fault: bleed-plugged, severity: 1 mm2, at: 3 s, on: valve}
commands:
  - {at: 5 s, set: inflow.mass-flow, to: 0 kg/s}
  - {at: 2 s, set: relay.selector.position, to: "open"}
shows:
  lifts: {at-least: 1}
  state-at-end: [shut, leaking]
  first:
    - {event: disc-lift, after: 1 s, before: 10 s}
  final:
    - {quantity: vessel.pressure, at-most: 12 bar abs}
`

// richLog is a log with every kind of entry.
const richLog = `name: rich-log
title: A log
include: gas-bench-plus
until: 30 s
faults: [{fault: dump-restricted, at: 29 s}]
hidden: "AREftdhFjIK09XAeE5L4uf4kwYAOKj5OYAfNtXzUcUjo1Ghp565KWIocN2QF-HWAaV5nfZzwF832vHSWb1oq8NtWsvncuICN7SdVua1YqsBScyVd2rlCXeY-sFjpQPBpOji5atBS_dBv_tRfRNlRJLY6a7DoaXe5lO6qKg2QMWzXPVQfw-ZKp4JZFQ4rt5idHG3IpM7dpj4YD_l9dHitKQ__M4nAFpxBj32d-z1IteyPZNIx-WvjdIvxVWYHNXYUSf-WSGr6S4s5Kxfs5hnIW8zgfOOmZubEzGMe7MUdmqlk2PMc71EvPGL9N0pVNSY7O-pgQUlAklf7QWOa8w"
log:
  format: 1
  tolerance: 1e-7
did:
  - {at: 1 s, set: inflow.mass-flow, to: 1.25 kg/s}
  - {at: 2 s, fault: pilot-leaks, severity: 6 mm2, on: valve}
  - {reached: 3.5 s}
  - {at: 4 s, set: relay.selector.position, to: "off"}
  - {hidden: "AX1U8bfF8KQJphFccrSuvBZNZ76G53hzR2AJWl4QjWqZbXdNGDjzNsy2WuIHhljhK-qHYd-dOHmabIqAct-GDhl9K1hlC-qF50gAmZgT6xR4Z4YnP3S967uNanmF7WHSg5j83Wf6uNDiV1-TrkIzH9RgPgW2Vs132kSnHAtkWoCcNrBrOlabainZYJhm-Q-dVcgaJBNqJHorqd7jNu3vVaNYKI_mo_HaFVcr8I6eG8i7ZuB1PrQKmDJT__7ludRtm6rqEL5-ETI_z9Ds3YG_mn9QeZZS2sr3h8MDkFcu1B6r_zzuIoW2Nl6yF6yFMmDND5I3AkZt3X0jbijwwQ"}
  - {reach`

func seeds(tb interface{ Fatal(...any) }) []string {
	out := []string{rich, richLog}
	for _, name := range Names() {
		_, data, err := openEmbedded(name)
		if err != nil {
			tb.Fatal(err)
		}
		out = append(out, string(data))
	}
	return out
}

// Any change to a valid file gives a sound scenario or an error with its place.
func TestMutatedFiles(t *testing.T) {
	files := seeds(t)
	for i, text := range files {
		if err := sound(Parse("t.yaml", []byte(text), openEmbeddedOnly)); err != nil {
			t.Fatalf("seed %d: %v", i, err)
		}
	}
	pieces := []string{
		"", " ", "\n", "\t", ":", ": ", "- ", "[", "]", "{", "}", ",", "#", "'", "\"", "&a", "*a", "!!str ", "<<: ", "? ", "---\n", "...\n", "|", ">", "%",
		"null", "~", "true", ".inf", ".nan", "-1", "0", "1e308", "1e999", "-0", "0x10", "1_000", "m3", " K", " bar", " bar abs", "é", "\x00", "\xff", "\r\n",
		"kind: vessel\n", "include: gas-bench\n", "faults:\n", "block-valve: null\n", "until: 1 s\n",
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom(files).Draw(t, "file")
		for range rapid.IntRange(1, 4).Draw(t, "mutations") {
			lines := strings.SplitAfter(text, "\n")
			switch rapid.SampledFrom([]string{"cut", "put", "drop line", "repeat line", "swap lines", "indent"}).Draw(t, "how") {
			case "cut":
				from := rapid.IntRange(0, len(text)).Draw(t, "from")
				n := rapid.IntRange(0, min(20, len(text)-from)).Draw(t, "bytes")
				text = text[:from] + text[from+n:]
			case "put":
				at := rapid.IntRange(0, len(text)).Draw(t, "at")
				text = text[:at] + rapid.SampledFrom(pieces).Draw(t, "piece") + text[at:]
			case "drop line":
				i := rapid.IntRange(0, len(lines)-1).Draw(t, "line")
				text = strings.Join(append(lines[:i:i], lines[i+1:]...), "")
			case "repeat line":
				i := rapid.IntRange(0, len(lines)-1).Draw(t, "line")
				text = strings.Join(append(lines[:i+1:i+1], lines[i:]...), "")
			case "swap lines":
				i := rapid.IntRange(0, len(lines)-1).Draw(t, "line")
				j := rapid.IntRange(0, len(lines)-1).Draw(t, "other")
				lines[i], lines[j] = lines[j], lines[i]
				text = strings.Join(lines, "")
			case "indent":
				i := rapid.IntRange(0, len(lines)-1).Draw(t, "line")
				lines[i] = strings.Repeat(" ", rapid.IntRange(1, 5).Draw(t, "by")) + lines[i]
				text = strings.Join(lines, "")
			}
		}
		if err := sound(Parse("t.yaml", []byte(text), openEmbeddedOnly)); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
	})
}

func FuzzLoad(f *testing.F) {
	for _, text := range seeds(f) {
		f.Add([]byte(text))
	}
	for _, b := range badFiles {
		f.Add([]byte(b.text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if err := sound(Parse("t.yaml", data, openEmbeddedOnly)); err != nil {
			t.Fatal(err)
		}
	})
}
