package report

import (
	"math"

	"underdisc/model/plant"
	"underdisc/sim"
	"underdisc/viz/words"
)

// outside is what a person at the plant reads, hears or feels of a valve without
// opening it: all that is told while a fault is hidden.
type outside struct {
	t               float64
	vessel, outlet  float64 // Pa absolute
	fitted          bool    // with sensor, switch and relay
	sensed          float64 // Pa absolute
	made, relayOn   bool
	current, supply float64 // A, V
	tail            tail
	joint           bool    // something leaves at the joint of the chamber's cover
	wall            float64 // of the dump line, K; NaN where there is none
	tailWall        float64 // of the tailpipe, K; NaN where there is none
	block           float64 // opening of the block valve; NaN where there is none
	selector        string  // empty where there is none
}

// tail is what is heard at the end of the tailpipe.
type tail int

const (
	still  = tail(words.Still)
	hisses = tail(words.Hisses)
	blows  = tail(words.Blows)
)

// outsideOf looks at a valve from outside.
func outsideOf(m *plant.Model, s *plant.Snapshot, valve int) outside {
	v, on := &s.Valves[valve], &m.Valves[valve]
	o := outside{t: s.T, vessel: v.Vessel, outlet: v.Outlet, fitted: v.Control.Fitted, sensed: v.Control.Reading,
		made: v.Control.Made, relayOn: v.Control.RelayOn, current: v.Coil.Current, supply: v.Coil.Supply,
		wall: math.NaN(), tailWall: math.NaN(), block: math.NaN()}
	does, _ := words.TailOf(v)
	o.tail, o.joint = tail(does), words.LeaksAtCover(v)
	if v.DumpWall.Fitted {
		o.wall = v.DumpWall.T
	}
	if v.OutletWall.Fitted {
		o.tailWall = v.OutletWall.T
	}
	if v.Block.Fitted { // its stem is seen
		o.block = v.Block.Opening
	}
	if on.Relay >= 0 {
		if r, ok := plant.Spec[plant.Relay](m.Plant, m.Net.Relays[on.Relay].Name); ok && r.Selector != nil {
			o.selector = r.Selector.Position
		}
	}
	return o
}

// sign is something that was seen or heard, with the state at its moment.
type sign struct {
	event, part string
	outside
}

// apart is how long the tailpipe must be silent, s, for a blow to have ended: to
// the ear what comes faster is one.
const apart = 0.1

// signs are what was seen and heard of a valve, in order: switch and relay as
// they changed over, and the tailpipe to the nearest look.
func (rec *Record) signs(valve int) ([]sign, error) {
	var out []sign
	p := rec.parts(valve)
	events := rec.Run.Sim.Events()
	next := 0
	upTo := func(t float64) {
		for ; next < len(events) && events[next].T <= t; next++ {
			if e := &events[next]; p.seen(e) {
				_, after := rec.Run.AtEvent(e)
				out = append(out, sign{e.Name, e.Part, outsideOf(rec.Run.Model(e.Interval), after, valve)})
			}
		}
	}
	pipe := rec.Run.Model(0).Valves[valve].Spec.Outlet
	until := rec.Until()
	const looks, most = 0.02, 200000
	step := math.Max(looks, until/most)
	blew, last, quiet := false, outside{}, 0.0
	for k := 0; ; k++ {
		t := math.Min(float64(k)*step, until)
		s, m, err := rec.Run.At(t)
		if err != nil {
			return nil, err
		}
		o := outsideOf(m, s, valve)
		if o.tail == blows {
			if !blew {
				upTo(t)
				out = append(out, sign{"blows", pipe, o})
				blew = true
			}
			quiet = -1
		} else if blew {
			if quiet < 0 {
				quiet, last = t, o
			}
			if t-quiet >= apart {
				upTo(last.t)
				out = append(out, sign{"stops-blowing", pipe, last})
				blew = false
			}
		}
		if t >= until {
			upTo(until)
			return out, nil
		}
	}
}

// seen tells whether an event shows outside: at the switch, or at the relay,
// whose lamp burns as long as the coil has its voltage.
func (p parts) seen(e *sim.Event) bool {
	return e.Part == p.control && p.control != "" || e.Part == p.coil
}
