package report

import (
	"slices"
	"strings"
	"time"

	"underdisc/model/fault"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/sim"
)

// Record is a finished run with what a report of any kind asks of it.
type Record struct {
	Run     *live.Run
	Wall    time.Duration // that the solver took
	Valves  []ValveRecord
	Springs []SpringRecord
	Faults  []Fault
	// Altered: the run was given faults, values or an end that its scenario
	// does not have, so that the scenario's own title and text do not tell it.
	Altered bool
	Sets    []Set // what was given another value than the scenario has, from the start
	// Unmet is what the scenario says must be seen, and was not, a message each.
	Unmet []string

	audit *network.Audit
	folds foldCache
}

// Fault is one use of a fault: the parameter that its severity sets first.
type Fault struct {
	Name    string
	Part    string
	Changes []fault.Change
	At      float64
	SetIn   bool // the run reached it
	Typical bool // no severity was given
	Hidden  bool // it was hidden, and has been revealed
}

// kind says before the name what it is.
func (f Fault) kind() string {
	if f.Hidden {
		return "hidden fault "
	}
	return "fault "
}

// Set is a parameter with its value in the scenario and the one that it had in
// the run, as people read them.
type Set struct{ Path, From, To string }

// ValveRecord is what one valve did.
type ValveRecord struct {
	Name   string
	Index  int // in plant.Model.Valves and plant.Snapshot.Valves
	Lifts  []Lift
	Cycles []Cycle
	Seated bool   // at the end
	signs  []sign // what was seen and heard, of a run with a hidden fault

	watched *watched // nil in a run with a hidden fault
}

// Lift is one lift of the disc. Pressures are the vessel's, absolute [Pa].
type Lift struct {
	T, Pressure  float64 // the disc leaves its seat
	Reseated     bool    // it is held there again
	Reseat       float64
	Seated       float64 // s, when it is held there
	Hand         *Stroke // what the selector did to it; nil: nothing
	Surroundings float64
	turns        map[turn]int // events of the run, by their place in the record
}

// turn is a moment at which a lift turns.
type turn int

const (
	leavesSeat turn = iota
	fullOpen        // first held at its stop
	leavesStop      // left it for the last time
	touches         // first touches its seat again, bounces or not
)

// Blowdown is in percent of the opening pressure, gauge; false where there is
// none: the disc has not reseated, it lifted without pressure under it, or a hand
// at the selector opened or shut it.
func (l Lift) Blowdown() (percent float64, ok bool) {
	if !l.Reseated || l.Hand != nil || !(l.Pressure > l.Surroundings) {
		return 0, false
	}
	return 100 * (l.Pressure - l.Reseat) / (l.Pressure - l.Surroundings), true
}

// NewRecord reads a finished run, which must have kept its history, and closes
// its books.
func NewRecord(run *live.Run, wall time.Duration) (*Record, error) {
	audit, err := network.AuditRun(run.History, run.Sim.Events(), run.Sim.Systems(), run.Model(0).Net.Start(), *run.Sim.State())
	if err != nil {
		return nil, err
	}
	rec := &Record{Run: run, Wall: wall, audit: audit, folds: foldCache{}}
	end := run.Now()
	for i, v := range end.Valves {
		rec.Valves = append(rec.Valves, ValveRecord{
			Name: v.Name, Index: i, Seated: v.Disc.Hold == plant.HeldShut,
			Lifts: rec.lifts(i), Cycles: rec.cycles(i),
		})
	}
	changes, hidden, err := changesOf(run)
	if err != nil {
		return nil, err
	}
	for _, c := range changes {
		part, _, _ := strings.Cut(c.Path, ".")
		if k := len(rec.Faults) - 1; k >= 0 && rec.Faults[k].Name == c.Fault && rec.Faults[k].Part == part && rec.Faults[k].At == c.At {
			rec.Faults[k].Changes = append(rec.Faults[k].Changes, c)
			continue
		}
		rec.Faults = append(rec.Faults, Fault{Name: c.Fault, Part: part, Changes: []fault.Change{c}, At: c.At,
			SetIn: c.At <= rec.Until(), Typical: c.Typical, Hidden: hidden[c.Fault]})
	}
	for i := range rec.Valves {
		if v := &rec.Valves[i]; run.Scenario.Sealed() {
			v.signs, err = rec.signs(i)
		} else {
			v.watched, err = rec.watch(v)
		}
		if err != nil {
			return nil, err
		}
	}
	return rec, rec.newSprings()
}

// changesOf is what the faults of a run set, and which of them were hidden and
// have been revealed.
func changesOf(run *live.Run) (changes []fault.Change, hidden map[string]bool, err error) {
	hidden = map[string]bool{}
	if run.Scenario.Sealed() || run.Scenario.Hidden == nil {
		return run.Changes, hidden, nil
	}
	for _, e := range run.Scenario.Hidden.Faults {
		hidden[e.Name] = true
	}
	stages, err := run.Scenario.Stages()
	for _, s := range stages {
		changes = append(changes, s.Changes...)
	}
	return changes, hidden, err
}

// Until is the time at which the run ended.
func (rec *Record) Until() float64 { return rec.Run.Sim.State().T }

// parts are the names under which events of a valve go on record.
type parts struct{ disc, pilot, coil, control string }

func (rec *Record) parts(valve int) parts {
	m := rec.Run.Present()
	v := &m.Valves[valve]
	p := parts{disc: m.Net.Movers[v.Disc].Name, pilot: m.Net.Movers[v.Pilot].Name, coil: m.Net.Coils[v.Coil].Name}
	if v.Switch >= 0 {
		p.control = m.Net.Switches[v.Switch].Name
	}
	return p
}

func (p parts) has(name string) bool {
	return name != "" && slices.Contains([]string{p.disc, p.pilot, p.coil, p.control}, name)
}

// lifts follows the disc of a valve.
func (rec *Record) lifts(valve int) []Lift {
	var out []Lift
	name := rec.parts(valve).disc
	for i := range rec.Run.Sim.Events() {
		e := &rec.Run.Sim.Events()[i]
		if e.Part != name {
			continue
		}
		vessel := func() float64 {
			_, after := rec.Run.AtEvent(e)
			return after.Valves[valve].Vessel
		}
		if e.Name == "disc-lift" {
			out = append(out, Lift{T: e.T, Pressure: vessel(), Surroundings: surroundings(rec.Run.Model(e.Interval), valve),
				turns: map[turn]int{leavesSeat: i}})
			continue
		}
		if len(out) == 0 {
			continue
		}
		l := &out[len(out)-1]
		_, touching := l.turns[touches]
		_, opened := l.turns[fullOpen]
		switch e.Name {
		case "disc-full-open":
			if !opened {
				l.turns[fullOpen] = i
			}
			delete(l.turns, touches)
		case "disc-leaves-stop":
			l.turns[leavesStop] = i
			delete(l.turns, touches)
		case "disc-bounce":
			// Which of its ends it bounces off, its speed afterwards tells.
			if _, after := rec.Run.AtEvent(e); !touching && after.Valves[valve].Disc.Speed > 0 {
				l.turns[touches] = i
			}
		case "disc-seated":
			if !touching {
				l.turns[touches] = i
			}
			l.Reseated, l.Reseat, l.Seated = true, vessel(), e.T
		}
	}
	moves := rec.moves(valve)
	for i := range out {
		out[i].Hand = rec.stroke(moves, &out[i])
	}
	return out
}

// surroundings is the pressure that a valve discharges into in the end.
func surroundings(m *plant.Model, valve int) float64 {
	_, air, ok := m.Plant.Around(m.Valves[valve].Spec.Outlet)
	if !ok {
		return 0
	}
	return air.Pressure
}

// events of one valve and of what drives it, in order.
func (rec *Record) events(valve int) []sim.Event {
	p := rec.parts(valve)
	var out []sim.Event
	for _, e := range rec.Run.Sim.Events() {
		if p.has(e.Part) {
			out = append(out, e)
		}
	}
	return out
}
