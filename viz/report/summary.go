package report

import (
	"math"
	"strings"

	"underdisc/model/fault"
	"underdisc/model/unit"
)

// Summary is a run in one object, for programs. Keys may be added to it later,
// never changed. Its units stand in its keys.
type Summary struct {
	Scenario string             `json:"scenario"`
	Until    float64            `json:"until_s"`
	Faults   []SummaryFault     `json:"faults"`
	Settings []SummarySetting   `json:"settings"`
	Events   []SummaryEvent     `json:"events"`
	Valves   []SummaryValve     `json:"valves"`
	Springs  []SummarySpring    `json:"spring_valves,omitempty"`
	Boiler   *SummaryBoiler     `json:"boiler,omitempty"` // of a plant that has one
	Final    map[string]float64 `json:"final"`            // every state by part, quantity and unit: vessel.mass_kg
	Ledger   SummaryLedger      `json:"ledger"`
	Solver   SummarySolver      `json:"solver"`
	Unmet    []string           `json:"not_shown,omitempty"` // what the scenario says must be seen, and was not
	Version  string             `json:"version"`
	Caution  string             `json:"caution"`
}

// SummarySetting is a parameter that was given another value than the scenario
// has, from the start; values as people read them.
type SummarySetting struct {
	Path  string `json:"path"`
	Value string `json:"value"`
	Was   string `json:"was"`
}

// SummaryFault is one use of a fault: the parameter that its severity sets,
// and to what.
type SummaryFault struct {
	Name    string  `json:"name"`
	Part    string  `json:"part"`
	Path    string  `json:"path"`
	Value   any     `json:"value"` // a number, or the word that the fault sets
	Unit    string  `json:"unit"`
	At      float64 `json:"at_s"`
	Typical bool    `json:"typical"` // no severity was given
}

// SummaryEvent is one event.
type SummaryEvent struct {
	T    float64 `json:"t_s"`
	Name string  `json:"name"`
	Part string  `json:"part"`
}

// SummaryValve is what one valve did.
type SummaryValve struct {
	Name        string        `json:"name"`
	Lifts       []SummaryLift `json:"lifts"`
	SeatedAtEnd bool          `json:"seated_at_end"`
	Wear        *float64      `json:"wear_relative,omitempty"` // beside spring-loaded valves
	Leaks       []SummaryLeak `json:"leaks,omitempty"`         // more than a trace, while shut
	Steam       *SummarySteam `json:"steam,omitempty"`         // of a steam plant
}

// SummarySteam is what a valve of a steam plant holds at the end, and how warm
// its metal is.
type SummarySteam struct {
	Holds map[string]SummaryHolds `json:"holds"`
	Walls map[string]float64      `json:"walls_degC"`
	// How warm those walls were in the run, by the same names.
	Reaches map[string]SummaryWall `json:"wall_reaches"`
}

// SummaryWall is how warm a wall was. Null is what the run does not have: a lift, a
// reseat.
type SummaryWall struct {
	Coldest   float64  `json:"coldest_degC"`
	ColdestAt float64  `json:"coldest_at_s"`
	Warmest   float64  `json:"warmest_degC"`
	WarmestAt float64  `json:"warmest_at_s"`
	Before    *float64 `json:"before_first_lift_degC"`
	Peak      *float64 `json:"peak_after_last_reseat_degC"`
	PeakAfter *float64 `json:"peak_after_last_reseat_s"` // since the reseat
}

// SummaryLeak is what passed a seat while it was shut.
type SummaryLeak struct {
	Past  string  `json:"past"` // seat, pilot
	Most  float64 `json:"most_kg_per_h"`
	From  float64 `json:"from_s"`
	Until float64 `json:"until_s"`
	Total float64 `json:"total_kg"`
	AtEnd bool    `json:"at_end"`
}

// SummaryHolds is what one volume holds.
type SummaryHolds struct {
	Temperature float64 `json:"temperature_degC"`
	Quality     float64 `json:"quality"` // share of the mass that is not water
	Air         float64 `json:"air"`     // share of the mass
	Water       float64 `json:"water_mL"`
	Volume      float64 `json:"volume_mL"`
}

// SummaryLift is one lift. Pressures are the vessel's.
type SummaryLift struct {
	T        float64  `json:"t_s"`
	Lift     float64  `json:"lift_bar_abs"`
	Reseat   *float64 `json:"reseat_bar_abs"`   // null: it has not reseated
	Blowdown *float64 `json:"blowdown_percent"` // of the opening pressure, gauge; null: there is none
	// What the selector did to it: a blowdown does not apply then.
	Selector *SummaryStroke `json:"selector,omitempty"`
}

// SummaryStroke is what a hand at the selector did to a lift.
type SummaryStroke struct {
	Position string   `json:"position"`
	At       float64  `json:"at_s"`
	Held     *float64 `json:"held_s"` // null: to the end of the run
}

// SummaryLedger holds the worst relative residual of each kind over the parts.
// Null is a residual that could not be computed, which closes nothing.
type SummaryLedger struct {
	MassByState   *float64 `json:"mass_by_state"`
	MassByFlow    *float64 `json:"mass_by_flow"`
	EnergyByState *float64 `json:"energy_by_state"`
	EnergyByFlow  *float64 `json:"energy_by_flow"`
	WorkByState   *float64 `json:"disc_work_by_state"`
	WorkByForce   *float64 `json:"disc_work_by_force"`
}

// SummarySolver is the work of the engine.
type SummarySolver struct {
	Steps         int     `json:"steps"`
	Rejected      int     `json:"rejected"`
	Derivatives   int     `json:"derivative_calls"`
	Jacobians     int     `json:"jacobians"`
	Wall          float64 `json:"wall_s"` // the solver's alone
	TimesRealTime float64 `json:"times_real_time"`
}

// Summary makes the object.
func (rec *Record) Summary(version string) *Summary {
	run, audit := rec.Run, rec.audit
	out := &Summary{
		Scenario: run.Scenario.Name, Until: rec.Until(), Version: version, Caution: caution, Unmet: rec.Unmet,
		Faults: []SummaryFault{}, Settings: []SummarySetting{}, Events: []SummaryEvent{}, Valves: []SummaryValve{}, // [] and not null
		Final: map[string]float64{},
		Ledger: SummaryLedger{
			MassByState: finite(audit.MassByState()), MassByFlow: finite(audit.MassByFlow()),
			EnergyByState: finite(audit.EnergyByState()), EnergyByFlow: finite(audit.EnergyByFlow()),
			WorkByState: finite(audit.DiscWorkByState()), WorkByForce: finite(audit.DiscWorkByForce()),
		},
		Solver: rec.solver(),
	}
	for _, f := range rec.Faults {
		c := f.Changes[0]
		out.Faults = append(out.Faults, SummaryFault{Name: f.Name, Part: f.Part, Path: c.Path,
			Value: valueOf(c), Unit: unit.SI(c.Dim), At: f.At, Typical: f.Typical})
	}
	for _, s := range rec.Sets {
		out.Settings = append(out.Settings, SummarySetting{s.Path, s.To, s.From})
	}
	for _, e := range run.Sim.Events() {
		out.Events = append(out.Events, SummaryEvent{e.T, e.Name, e.Part})
	}
	for _, v := range rec.Valves {
		sv := SummaryValve{Name: v.Name, Lifts: []SummaryLift{}, SeatedAtEnd: v.Seated}
		for _, l := range v.Lifts {
			sl := SummaryLift{T: l.T, Lift: l.Pressure * bar}
			if l.Reseated {
				sl.Reseat = finite(l.Reseat * bar)
			}
			if b, ok := l.Blowdown(); ok {
				sl.Blowdown = finite(b)
			}
			if h := l.Hand; h != nil {
				sl.Selector = &SummaryStroke{Position: h.Position, At: h.At}
				if h.Ended {
					sl.Selector.Held = finite(h.Held)
				}
			}
			sv.Lifts = append(sv.Lifts, sl)
		}
		if v.watched != nil {
			for _, l := range v.watched.leaks {
				sv.Leaks = append(sv.Leaks, SummaryLeak{l.Past, 3600 * l.Most, l.From, l.Until, l.Total, l.AtEnd})
			}
		}
		if rec.steam() {
			sv.Steam = rec.steamAtEnd(v.Index)
		}
		if len(rec.Springs) > 0 {
			sv.Wear = finite(run.Now().Valves[v.Index].Wear)
		}
		out.Valves = append(out.Valves, sv)
	}
	if !run.Scenario.Sealed() {
		out.Springs = rec.springSummaries()
	}
	net := run.Present().Net
	units := net.Units()
	for i, name := range net.Layout().Vars {
		out.Final[name+"_"+strings.ReplaceAll(units[i], "/", "_per_")] = run.Sim.State().Y[i]
	}
	return out
}

func (rec *Record) solver() SummarySolver {
	st := rec.Run.Sim.Stats()
	wall := max(rec.Wall.Seconds(), 1e-9) // a clock may be too coarse for a short run
	return SummarySolver{Steps: st.Steps, Rejected: st.Rejected, Derivatives: st.Derivatives, Jacobians: st.Jacobians,
		Wall: wall, TimesRealTime: rec.Until() / wall}
}

// finite is nil for what is not a number.
func finite(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// valueOf is what a fault sets: a number in SI, or a word.
func valueOf(c fault.Change) any {
	if c.To.Word != "" {
		return c.To.Word
	}
	return c.To.Number
}
