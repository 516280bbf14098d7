package report

import (
	"cmp"
	"fmt"
	"slices"

	"underdisc/model/unit"
)

// Stroke is what the selector did to a lift, which then ends where a hand ends it:
// a blowdown is the valve's own, and this lift has none.
type Stroke struct {
	Position string  // to which it was set: open, or off while the valve was open
	At       float64 // s
	Ended    bool    // it was set to something else
	Held     float64 // s; until it was set to something else, or until the end
}

// move is a setting of a selector.
type move struct {
	at       float64
	position string
}

// moves lists how the selector of a valve was set, the first as it stood at the
// start.
func (rec *Record) moves(valve int) []move {
	run := rec.Run
	relay := run.Model(0).Valves[valve].Relay
	if relay < 0 {
		return nil
	}
	path := run.Model(0).Net.Relays[relay].Name + ".selector.position"
	prm, err := run.Scenario.Plant.Get(path)
	if err != nil {
		return nil // it has none
	}
	var out []move
	for _, c := range run.Changes {
		if c.Path == path {
			out = append(out, move{c.At, c.To.Word})
		}
	}
	for _, c := range run.Scenario.Commands {
		if c.Path == path {
			out = append(out, move{c.At, c.Value.Word})
		}
	}
	out = append([]move{{0, prm.Value.Word}}, out...)
	slices.SortStableFunc(out, func(a, b move) int { return cmp.Compare(a.at, b.at) })
	return slices.DeleteFunc(out, func(m move) bool { return m.at > rec.Until() })
}

// stroke finds what the selector did to a lift; nil if nothing. It opened it if it
// stood on open as the disc left its seat. Otherwise it decides how the lift ends if
// it was set to open or off before the disc was back.
func (rec *Record) stroke(moves []move, l *Lift) *Stroke {
	of := func(i int) *Stroke {
		s := &Stroke{Position: moves[i].position, At: moves[i].at, Held: rec.Until() - moves[i].at}
		if i+1 < len(moves) {
			s.Ended, s.Held = true, moves[i+1].at-moves[i].at
		}
		return s
	}
	var out *Stroke
	for i, m := range moves {
		switch {
		case m.at <= l.T && m.position == "open":
			out = of(i)
		case m.at <= l.T:
			out = nil
		case l.Reseated && m.at > l.Seated:
			return out
		case out == nil && m.position != "auto":
			out = of(i)
		}
	}
	return out
}

// opened tells whether the selector opened the valve, and not only held or shut it.
func (s *Stroke) opened(l *Lift) bool { return s.Position == "open" && s.At <= l.T }

// words say what the selector did, as a part of a sentence.
func (s *Stroke) words(l *Lift) string {
	at := unit.Format(s.At, unit.Time)
	does := "held open by the selector at "
	switch {
	case s.opened(l):
		does = "opened by the selector at "
	case s.Position == "off":
		return "shut by the selector at " + at
	}
	if !s.Ended {
		return does + at + ", held to the end of the run"
	}
	return fmt.Sprintf("%s%s, held %s", does, at, unit.Format(s.Held, unit.Time))
}
