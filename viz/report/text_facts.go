package report

import (
	"bytes"
	"fmt"
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/sim"
	"underdisc/viz/words"
)

// explain asks what a valve does at a snapshot, and why.
func (rec *Record) explain(m *plant.Model, s *plant.Snapshot, v *ValveRecord) explain.Facts {
	return explain.Valve(m, s, v.Index, explain.PastOf(m, rec.Run.Sim.Events(), s.T, v.Index))
}

// changed is by how many percent of blowdown a later lift must differ from the
// first to be explained as well.
const changed = 1.0

// writeInstants explains the valve where its first lift turns, where the last
// that reseated does if that went otherwise, and at the end.
func (rec *Record) writeInstants(b *bytes.Buffer, v *ValveRecord) {
	if len(v.Lifts) > 0 {
		rec.writeTurns(b, v, 0)
	}
	for i := len(v.Lifts) - 1; i > 0; i-- {
		now, ok := v.Lifts[i].Blowdown()
		if !ok {
			continue
		}
		if first, _ := v.Lifts[0].Blowdown(); math.Abs(now-first) > changed {
			rec.writeTurns(b, v, i)
		}
		break
	}
	f := rec.explain(rec.Run.Present(), rec.Run.Now(), v)
	writeFacts(b, "At the end", &f)
}

// writeTurns explains the valve where one lift turns.
func (rec *Record) writeTurns(b *bytes.Buffer, v *ValveRecord, lift int) {
	for _, k := range []struct {
		turn   turn
		title  string
		before bool // look at the moment just before it
	}{
		{leavesSeat, "just before the disc lifts", true},
		{fullOpen, "full open", false},
		{leavesStop, "just before the disc leaves its stop", true},
		{touches, "just before the disc touches its seat again", true},
	} {
		i, ok := v.Lifts[lift].turns[k.turn]
		if !ok {
			continue
		}
		e := &rec.Run.Sim.Events()[i]
		s, past := rec.around(i, k.before)
		f := explain.Valve(rec.Run.Model(e.Interval), s, v.Index, explain.PastOf(rec.Run.Model(e.Interval), past, s.T, v.Index))
		writeFacts(b, fmt.Sprintf("Lift %d, %s (%s)", lift+1, k.title, words.Clock(e.T)), &f)
	}
}

// around is the snapshot on one side of an event, and the record up to there.
func (rec *Record) around(event int, before bool) (*plant.Snapshot, []sim.Event) {
	events := rec.Run.Sim.Events()
	was, is := rec.Run.AtEvent(&events[event])
	if before {
		return was, events[:event]
	}
	return is, events[:event+1]
}

func writeFacts(b *bytes.Buffer, title string, f *explain.Facts) {
	fmt.Fprintf(b, "  %s\n", title)
	for _, sentence := range words.Explain(f) {
		paragraph(b, "  ", sentence)
	}
}

func (rec *Record) writeLedger(b *bytes.Buffer) {
	a := rec.audit
	fmt.Fprintf(b, "  %-10s %22s %22s\n", "", "by integrated states", "by recorded flows")
	for _, r := range []struct {
		name            string
		byState, byFlow float64
	}{
		{"mass", a.MassByState(), a.MassByFlow()},
		{"energy", a.EnergyByState(), a.EnergyByFlow()},
		{"disc work", a.DiscWorkByState(), a.DiscWorkByForce()},
	} {
		fmt.Fprintf(b, "  %-10s %22s %22s\n", r.name, share(r.byState), share(r.byFlow))
	}
	if worst := max(a.MassByFlow(), a.EnergyByFlow(), a.DiscWorkByForce()); !(worst < looseBooks) {
		paragraph(b, "", fmt.Sprintf("The recorded flows do not close better than %s: take this run's flows with care, "+
			"and try a smaller --rtol.", share(worst)))
	}
}

// looseBooks is the residual by recorded flows above which the report warns.
const looseBooks = 1e-4

func share(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "not known"
	}
	return fmt.Sprintf("%.1e", v)
}

func (rec *Record) writeSolver(b *bytes.Buffer) {
	s, st := rec.solver(), rec.Run.Sim.Stats()
	fmt.Fprintf(b, "  %d steps (%d explicit, %d implicit), %d rejected\n", s.Steps, st.Explicit, s.Steps-st.Explicit, s.Rejected)
	fmt.Fprintf(b, "  %d evaluations of the equations, %d of their Jacobian\n", s.Derivatives, s.Jacobians)
	fmt.Fprintf(b, "  %s on the clock, %.0f times as fast as the valve itself\n", words.Gap(s.Wall), s.TimesRealTime)
}
