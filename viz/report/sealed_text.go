package report

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"underdisc/model/unit"
	"underdisc/viz/words"
)

// sealedNote is what every output of a run with a hidden fault says of it.
const sealedNote = "Something is hidden in this plant. Until it is revealed this tells only what a person at the plant reads, " +
	"hears or feels without opening the valve."

// sealedText writes the report of a run with a hidden fault.
func (rec *Record) sealedText(w io.Writer) error {
	var b bytes.Buffer
	rec.writeHead(&b)
	section(&b, "hidden")
	paragraph(&b, "", sealedNote+" The word it was hidden with reveals it: --code WORD.")
	section(&b, "settings, faults and commands")
	rec.writeChanges(&b)
	for i := range rec.Valves {
		v := &rec.Valves[i]
		name := ""
		if len(rec.Valves)+len(rec.Springs) > 1 {
			name = v.Name + ": "
		}
		section(&b, name+"in short")
		paragraph(&b, "", rec.sealedShort(v))
		section(&b, name+"what was seen and heard, in order")
		writeSigns(&b, v.signs, rec.setIn())
		section(&b, name+"at the end")
		writeReadings(&b, rec.outsideAtEnd(v))
	}
	rec.writeSealedSprings(&b)
	if err := rec.writeBoiler(&b, true); err != nil {
		return err
	}
	section(&b, "caution")
	paragraph(&b, "", caution)
	_, err := b.WriteTo(w)
	return err
}

// atTheJoint is what is seen and heard where the cover of the chamber leaks.
const atTheJoint = "a wisp blows out"

func (rec *Record) outsideAtEnd(v *ValveRecord) outside {
	return outsideOf(rec.Run.Present(), rec.Run.Now(), v.Index)
}

// sealedShort says a valve's run in a few sentences, from outside.
func (rec *Record) sealedShort(v *ValveRecord) string {
	over := unit.Format(rec.Until(), unit.Time)
	out, n := "", 0
	for i, s := range v.signs {
		if s.event != "blows" {
			continue
		}
		if n++; n > 1 {
			continue
		}
		out = fmt.Sprintf(" It first began at %s in the vessel", words.Pressure(s.vessel))
		for _, later := range v.signs[i:] {
			if later.event == "stops-blowing" {
				out += fmt.Sprintf(" and stopped at %s", words.Pressure(later.vessel))
				break
			}
		}
		out += "."
	}
	if n == 0 {
		out = fmt.Sprintf("The tailpipe did not blow in %s.", over)
	} else {
		out = fmt.Sprintf("The tailpipe blew %s in %s.", words.Times(n), over) + out
	}
	o := rec.outsideAtEnd(v)
	if o.joint {
		out += " " + strings.ToUpper(atTheJoint[:1]) + atTheJoint[1:] + " at the cover's joint."
	}
	return out + fmt.Sprintf(" At the end the tailpipe %s, with %s in the vessel.", o.tail, words.Pressure(o.vessel))
}

func (t tail) String() string { return [...]string{"is still", "hisses", "blows"}[t] }

// said is a sign in words.
func (s sign) said() string {
	switch s.event {
	case "blows":
		return "the tailpipe blows"
	case "stops-blowing":
		return "it stops blowing"
	}
	return words.Event(s.event)
}

// time is when it was, as finely as it is known: the ear is slower than a relay.
func (s sign) time() string {
	if s.event == "blows" || s.event == "stops-blowing" {
		return fmt.Sprintf("%.1f s", s.t)
	}
	return fmt.Sprintf("%.3f s", s.t)
}

// How many signs are printed: these from the start, and these at the end.
const (
	signsAtStart = 40
	signsAtEnd   = 12
)

func writeSigns(b *bytes.Buffer, signs []sign, changes []happening) {
	if len(signs) == 0 {
		fmt.Fprintln(b, "  nothing: neither switch nor relay changed over, and the tailpipe did not blow")
	} else {
		fmt.Fprintf(b, "  %-22s %12s  %s\n", "", "at", "pressure in the vessel")
	}
	for i, s := range signs {
		for len(changes) > 0 && changes[0].at <= s.t {
			writeChange(b, changes[0])
			changes = changes[1:]
		}
		if left := len(signs) - signsAtStart - signsAtEnd; left > 0 && i >= signsAtStart && i < signsAtStart+left {
			if i == signsAtStart {
				fmt.Fprintf(b, "  %d more; events.csv has them (run with --out)\n", left)
			}
			continue
		}
		fmt.Fprintf(b, "  %-22s %12s  %s\n", s.said(), s.time(), words.Pressure(s.vessel))
	}
	for _, c := range changes {
		writeChange(b, c)
	}
}

func writeReadings(b *bytes.Buffer, o outside) {
	row := func(name, value string) { fmt.Fprintf(b, "  %-34s %s\n", name, value) }
	row("pressure in the vessel", words.Pressure(o.vessel))
	if o.fitted {
		row("pressure at the sensor", words.Pressure(o.sensed))
		row("switch", either(o.made, "made", "not made"))
		row("relay", either(o.relayOn, "on, its lamp burns", "off, its lamp is dark"))
		row("supply", words.Voltage(o.supply))
	}
	row("coil current", words.Current(o.current))
	row("tailpipe", o.tail.String())
	if o.joint {
		row("cover", atTheJoint+" at its joint")
	}
	row("pressure in the tailpipe", words.Pressure(o.outlet))
	if !math.IsNaN(o.wall) {
		row("wall of the dump line", fmt.Sprintf("%.0f degC", o.wall-273.15))
	}
	if !math.IsNaN(o.tailWall) {
		row("wall of the tailpipe", fmt.Sprintf("%.0f degC", o.tailWall-273.15))
	}
	if !math.IsNaN(o.block) {
		row("block valve", strings.TrimSpace(fmt.Sprintf("%.0f %% open", 100*o.block)))
	}
	if o.selector != "" {
		row("selector", o.selector)
	}
}

func either(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}
