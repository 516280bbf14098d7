package view

import (
	"fmt"
	"strconv"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// WhyOf puts a page into words and numbers. u needs its Ambient; Ambient gives
// it.
func WhyOf(pg *explain.Page, st *plant.ValveState, u scene.Units) *scene.Why {
	s := sayer{&pg.Facts, st, u}
	w := &scene.Why{Question: words.Question(pg.Question), Answer: s.answer(pg), Ends: freeTitle(pg.Question), Numbers: numbersOf(pg, u)}
	for i := range pg.Links {
		w.Rows = append(w.Rows, s.row(&pg.Links[i]))
	}
	for i := range pg.Frees {
		f := &pg.Frees[i]
		said := freed(pg, f, u)
		if f.Remedy {
			w.Frees = append(w.Frees, said)
		} else {
			w.Sums = append(w.Sums, said)
		}
	}
	w.Next = words.Next(pg.Next)
	return w
}

// Ambient is the pressure that a valve discharges into in the end, Pa absolute.
func Ambient(m *plant.Model, valve int) float64 { return ambient(m, valve) }

// answer is the answer in one or two sentences: the link that holds, with its
// numbers, and what is nearest to freeing it.
func (s *sayer) answer(pg *explain.Page) []string {
	f := s.f
	link := words.Link(f.Why.Link)
	// Of a valve that cycles the sentence is on the cycle, not on the moment.
	var out []string
	coming := passing(f.Why.Reason) && !f.Why.Stays
	switch pg.Question {
	case explain.Cycles:
		if f.State == explain.Cycling {
			out = append(out, "It cycles because of "+link+". "+Sentence(f, s.st, s.u))
		} else {
			out = append(out, fmt.Sprintf("It has lifted %d times in %s; it does so because of %s: %s.", pg.Cycle.Seen, scene.Span(pg.Cycle.Span.Value), link, s.again()))
		}
	case explain.WontReseat:
		switch t := pg.Seat.Total; {
		case t.Known && f.Why.Link == explain.Chamber && !pg.Facts.Following && f.Why.Reason == explain.ChamberFilling:
			out = append(out, fmt.Sprintf("It is on its way to its seat, about %s away: %s.", scene.Span(t.Value), s.holds()))
		case t.Known && f.Why.Reason == explain.DiscMoving:
			out = append(out, fmt.Sprintf("It is on its way to its seat, about %s away.", scene.Span(t.Value)))
		case coming:
			out = append(out, fmt.Sprintf("It has not reseated yet, and %s acts: %s.", link, s.holds()))
		default:
			out = append(out, "It does not reseat because of "+link+": "+s.holds()+".")
		}
	case explain.WontLift:
		if coming {
			out = append(out, fmt.Sprintf("It has not lifted yet, and %s acts: %s.", link, s.holds()))
		} else {
			out = append(out, "It does not lift because of "+link+": "+s.holds()+".")
		}
	default:
		out = append(out, Sentence(f, s.st, s.u))
		switch f.Why.Reason {
		case explain.BelowSet, explain.SelectorOff, explain.NotFitted:
			if f.Disc.Hold == plant.HeldShut {
				out = append(out, "It is not asked to lift: "+s.holds()+".")
			}
		}
	}
	if pg.Question != explain.Rests && !(coming && pg.Seat.Total.Known && f.Why.Reason != explain.FillsTooSlowly) {
		for i := range pg.Frees {
			if pg.Frees[i].Remedy {
				return append(out, nearest(pg, &pg.Frees[i], s.u))
			}
		}
	}
	return out
}

// again says why a valve has lifted so often that does as it is asked now.
func (s *sayer) again() string {
	c := *s.f
	c.Acts = s.f.Why
	return (&sayer{&c, s.st, s.u}).holds()
}

// nearest says the first change that takes the cause away, and who makes it.
func nearest(pg *explain.Page, f *explain.Free, u scene.Units) string {
	w := freed(pg, f, u)
	if f.Quantity == explain.Wait {
		return "As things go now that changes in " + w.Needed + "."
	}
	out := freeTitle(pg.Question) + ": " + w.Does + " (" + w.What + ", " + w.Needed
	if f.NeededWord == "" && f.Below && f.Now <= f.Needed {
		out += " at all times, now " + w.Now
	} else {
		out += " instead of " + w.Now
	}
	return out + "); " + w.By + "."
}

// freeTitle is what the changes are, by the question.
func freeTitle(q explain.Question) string {
	switch q {
	case explain.Cycles:
		return "What would end it"
	case explain.Rests:
		return "What would put it right"
	}
	return "What would free it"
}

// passing tells whether a reason is a delay that ends by itself.
func passing(r explain.Reason) bool {
	switch r {
	case explain.SensorLags, explain.PickUpDelay, explain.DropOutDelay, explain.CurrentRising, explain.CurrentDecaying, explain.PilotMoving,
		explain.ChamberEmptying, explain.WaterFlashes, explain.ChamberFilling, explain.FillsTooSlowly, explain.DiscMoving:
		return true
	}
	return false
}

func (s *sayer) row(r *explain.LinkRow) scene.WhyRow {
	w := scene.WhyRow{Link: strconv.Itoa(int(r.Link)) + " " + r.Link.String(), Holds: r.Holds}
	if !r.Fitted {
		w.Stands = "not fitted"
		return w
	}
	pair := map[explain.Link][2]string{
		explain.Switch: {"open", "made"}, explain.Relay: {"off", "on"}, explain.Coil: {"dead", "live"},
		explain.Pilot: {"shut", "open"}, explain.Chamber: {"full", "empty"}, explain.Disc: {"shut", "open"},
	}[r.Link]
	w.Asked = pair[0]
	if r.Asked {
		w.Asked = pair[1]
	}
	if r.Link == explain.Relay && r.Asked != s.f.Asked {
		w.Asked += ", by the switch"
	}
	w.Stands = "as asked"
	if !r.Stands {
		w.Stands = "not as asked"
	}
	w.What, w.Now = words.Quantity(r.Quantity), shown(r.Quantity, r.Now, s.u)
	if r.Threshold.Known {
		w.Threshold = shown(r.Quantity, r.Threshold.Value, s.u)
		if r.Quantity == explain.ChamberPressure && r.Threshold.Value <= 0 {
			w.Threshold = "no pressure would do"
		}
	}
	switch { // it stands shut and is not tight: its lift says nothing
	case r.Holds && r.Link == explain.Pilot && s.f.Why.Reason == explain.PilotLeaks:
		w.What, w.Now, w.Threshold = "flow through the shut pilot", s.u.Flow(s.st.PilotFlow), ""
	case r.Holds && r.Link == explain.Disc && s.f.Why.Reason == explain.SeatLeaks:
		w.What, w.Now, w.Threshold = "flow past the shut seat", s.u.Flow(s.st.Seat), ""
	}
	return w
}

// freed is a change in words.
func freed(pg *explain.Page, f *explain.Free, u scene.Units) scene.WhyFree {
	w := scene.WhyFree{What: words.Quantity(f.Quantity), By: words.Reach(f.By), Now: f.NowWord, Needed: f.NeededWord}
	if f.Remedy {
		w.Does = words.Remedy(f.Quantity)
	}
	switch {
	case f.NeededWord != "":
		return w
	case f.Quantity == explain.Wait:
		w.Needed = shown(f.Quantity, f.Needed, u)
		if pg.Facts.Why.Reason == explain.FillsTooSlowly {
			w.Needed = "at least " + w.Needed // the flows slow down as the body falls
		}
		return w
	case f.By == explain.Itself && f.In.Known:
		w.By += ", in about " + scene.Span(f.In.Value) + " as it goes now"
	case f.By == explain.NoWait:
		w.By = words.IfEver(f.Quantity)
	case !f.Remedy && f.By != explain.Itself:
		w.By = words.NotDone
	}
	w.Now, w.Needed = shown(f.Quantity, f.Now, u), shown(f.Quantity, f.Needed, u)
	side := "at least "
	if f.Below {
		side = "at most "
	}
	w.Needed = side + w.Needed
	return w
}
