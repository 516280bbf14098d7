package view

import (
	"fmt"
	"math"
	"strings"

	"underdisc/model/explain"
	"underdisc/model/network"
	"underdisc/viz/scene"
)

// state is the state in a word, as it is told from outside.
func (o *outside) state() string { return [...]string{"quiet", "hissing", "blowing"}[o.tail] }

// sign is the state whose sign stands for it: of shut, leaking and open.
func (o *outside) sign() explain.State {
	return [...]explain.State{explain.Shut, explain.Leaking, explain.Open}[o.tail]
}

// sentence sets what is asked against what the tailpipe does; what leaves at the
// cover's joint comes before all else. It is at most 130
// characters long in any unit.
func (o *outside) sentence(u scene.Units) string {
	p := u.PressureOf
	unit := u.PressureName()
	asked := o.made
	switch {
	case o.selector == network.HoldOn:
		asked = true
	case o.selector == network.HoldOff:
		asked = false
	}
	against := asked != (o.tail == blows) // what the tailpipe does is not what is asked
	join := ", and "
	if against {
		join = ", yet "
	}
	switch {
	case o.joint && o.fitted && o.relayOn:
		return fmt.Sprintf("%s at the cover's joint; the relay is on, the coil draws %s A, and %s.", o.leaving(), scene.Current(o.current), o.pipe())
	case o.joint && math.Abs(o.current) < 0.005:
		return fmt.Sprintf("%s at the cover's joint; the coil is dead, and %s.", o.leaving(), o.pipe())
	case o.joint:
		return fmt.Sprintf("%s at the cover's joint; the coil draws %s A, and %s.", o.leaving(), scene.Current(o.current), o.pipe())
	case !o.fitted && o.voltage == 0:
		return "No relay feeds the coil" + join + o.pipe() + "."
	case asked && !o.relayOn:
		return o.asks() + ", the relay is still off, and " + o.pipe() + "."
	case asked && against:
		return fmt.Sprintf("The relay has been on%s and the coil draws %s A%s%s.", o.span(" for ", o.coilSince), scene.Current(o.current), join, o.pipe())
	case asked && o.selector == network.HoldOn:
		return fmt.Sprintf("The selector holds the relay on, the coil draws %s A, and %s.", scene.Current(o.current), o.pipe())
	case asked: // blows as asked
		return fmt.Sprintf("The coil draws %s A and %s; the sensor reads %s %s, the switch resets at %s.", scene.Current(o.current), o.pipe(), p(o.reading), unit, p(o.reset))
	case o.relayOn:
		return o.asks() + ", the relay is still on, and " + o.pipe() + "."
	case against || o.tail == hisses:
		if o.tail == hisses {
			join = ", yet "
		}
		if math.Abs(o.current) >= 0.005 {
			return fmt.Sprintf("The relay is off and the coil's current, %s A, dies away%s%s.", scene.Current(o.current), join, o.pipe())
		}
		return "The coil " + o.dead() + join + o.pipe() + "."
	case math.Abs(o.reading-o.vessel) > 0.02*o.vessel:
		return fmt.Sprintf("The sensor reads %s %s where the vessel has %s; the switch sets at %s, and %s.", p(o.reading), unit, p(o.vessel), p(o.set), o.pipe())
	}
	return fmt.Sprintf("The sensor reads %s %s and the switch sets at %s; %s.", p(o.reading), unit, p(o.set), o.pipe())
}

// leaving is what leaves, at the start of a sentence.
func (o *outside) leaving() string { return strings.ToUpper(o.fluid[:1]) + o.fluid[1:] }

// asks says what the relay is asked.
func (o *outside) asks() string {
	switch {
	case o.selector == network.HoldOn:
		return "The selector holds the relay on"
	case o.selector == network.HoldOff:
		return "The selector holds the relay off"
	case o.made:
		return "The switch has made"
	}
	return "The switch has reset"
}

// dead says that the coil has no supply, and for how long.
func (o *outside) dead() string {
	if !o.coilSince.Known {
		return "is dead"
	}
	return "has been dead" + o.span(" for ", o.coilSince)
}

// pipe says what the tailpipe does.
func (o *outside) pipe() string {
	long := ""
	if o.since >= 0 {
		long = " for " + scene.Span(o.since)
	}
	switch {
	case o.tail == hisses:
		return "a little " + o.fluid + " leaves through the tailpipe"
	case o.tail == still && long != "":
		return "the tailpipe has been quiet" + long
	case o.tail == still:
		return "nothing leaves through the tailpipe"
	case (o.made || o.relayOn) && long != "":
		return "the tailpipe has been blowing" + long
	case o.made || o.relayOn:
		return "the tailpipe blows"
	}
	return o.fluid + " still leaves through the tailpipe"
}

// span is the time since something, if that is known.
func (o *outside) span(lead string, since explain.Opt) string {
	if !since.Known {
		return ""
	}
	return lead + scene.Span(o.t-since.Value)
}
