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

// writeInstants explains the valve at full open and just before it reseats, in
// its first lift, and at the end.
func (rec *Record) writeInstants(b *bytes.Buffer, v *ValveRecord) error {
	for _, event := range []struct {
		name   string
		title  string
		before bool // look at the moment just before it
	}{
		{"disc-lift", "just before the first lift", true},
		{"disc-full-open", "first full open", false},
		{"disc-leaves-stop", "just before it first leaves the stop", true},
		{"disc-seated", "just before it first reseats", true},
	} {
		e, ok := rec.firstEvent(v, event.name)
		if !ok {
			continue
		}
		s, past := rec.around(e, event.before)
		m := rec.Run.Model(e.Interval)
		f := explain.Valve(m, s, v.Index, explain.PastOf(m, past, s.T, v.Index))
		writeFacts(b, fmt.Sprintf("%s, at %s", event.title, words.Clock(e.T)), &f)
	}
	f := rec.explain(rec.Run.Present(), rec.Run.Now(), v)
	writeFacts(b, "at the end", &f)
	return nil
}

// firstEvent of that name of the valve's disc.
func (rec *Record) firstEvent(v *ValveRecord, name string) (*sim.Event, bool) {
	disc := rec.parts(v.Index).disc
	for i := range rec.Run.Sim.Events() {
		if e := &rec.Run.Sim.Events()[i]; e.Part == disc && e.Name == name {
			return e, true
		}
	}
	return nil, false
}

// around is the snapshot on one side of an event, and the record up to there.
func (rec *Record) around(e *sim.Event, before bool) (*plant.Snapshot, []sim.Event) {
	events := rec.Run.Sim.Events()
	was, is := rec.Run.AtEvent(e)
	for i := range events {
		if &events[i] == e {
			if before {
				return was, events[:i]
			}
			return is, events[:i+1]
		}
	}
	return is, events
}

func writeFacts(b *bytes.Buffer, title string, f *explain.Facts) {
	fmt.Fprintf(b, "  %s\n", words.Capital(title))
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
}

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
