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
		w.Frees = append(w.Frees, freed(&pg.Frees[i], u))
	}
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
		out = append(out, "It cycles because of "+link+". "+Sentence(f, s.st, s.u))
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
	if len(pg.Frees) > 0 && pg.Question != explain.Rests && !(coming && pg.Seat.Total.Known) {
		out = append(out, nearest(pg, s.u))
	}
	return out
}

// nearest says the first change that would free it.
func nearest(pg *explain.Page, u scene.Units) string {
	f := &pg.Frees[0]
	w := freed(f, u)
	if f.Quantity == explain.Wait {
		return "As things go now that changes in " + w.Needed + "."
	}
	if f.NeededWord == "" && f.Below && f.Now <= f.Needed {
		return freeTitle(pg.Question) + ": " + w.What + ", " + w.Needed + " at all times, now " + w.Now + "."
	}
	return freeTitle(pg.Question) + ": " + w.What + ", " + w.Needed + " instead of " + w.Now + "."
}

// freeTitle is what the changes are, by the question.
func freeTitle(q explain.Question) string {
	switch q {
	case explain.Cycles:
		return "What would end it"
	case explain.Rests:
		return "What would move it"
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
	w.Stands = "as asked"
	if !r.Stands {
		w.Stands = "not as asked"
	}
	w.What, w.Now = words.Quantity(r.Quantity), shown(r.Quantity, r.Now, s.u)
	if r.Threshold.Known {
		w.Threshold = shown(r.Quantity, r.Threshold.Value, s.u)
	}
	return w
}

// freed is a change in words.
func freed(f *explain.Free, u scene.Units) scene.WhyFree {
	w := scene.WhyFree{What: words.Quantity(f.Quantity), By: words.Reach(f.By), Now: f.NowWord, Needed: f.NeededWord}
	switch {
	case f.NeededWord != "":
		return w
	case f.Quantity == explain.Wait:
		w.Needed = shown(f.Quantity, f.Needed, u)
		return w
	}
	w.Now, w.Needed = shown(f.Quantity, f.Now, u), shown(f.Quantity, f.Needed, u)
	side := "at least "
	if f.Below {
		side = "at most "
	}
	w.Needed = side + w.Needed
	return w
}
