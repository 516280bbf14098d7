package report

import (
	"encoding/json"
	"io"
	"math"
)

// SealedSummary is a run with a hidden fault in one object, for programs: what
// Summary has of it that a person at the plant reads, hears or feels. What the solver did is left out: its steps are those of the
// inside.
type SealedSummary struct {
	Scenario string           `json:"scenario"`
	Until    float64          `json:"until_s"`
	Sealed   bool             `json:"sealed"` // true
	Note     string           `json:"note"`
	Faults   []SummaryFault   `json:"faults"` // those that are not hidden
	Settings []SummarySetting `json:"settings"`
	Events   []SealedEvent    `json:"events"`
	Valves   []SealedValve    `json:"valves"`
	Springs  []SealedSpring   `json:"spring_valves,omitempty"`
	Boiler   *SummaryBoiler   `json:"boiler,omitempty"` // of a plant that has one
	Version  string           `json:"version"`
	Caution  string           `json:"caution"`
}

// SealedEvent is something that was seen or heard.
type SealedEvent struct {
	T      float64 `json:"t_s"`
	Name   string  `json:"name"`
	Part   string  `json:"part"`
	Vessel float64 `json:"vessel_bar_abs"`
}

// SealedValve is what shows of one valve at the end. Null is what it lacks.
type SealedValve struct {
	Name     string   `json:"name"`
	Blows    int      `json:"blows"` // how often the tailpipe blew
	Tailpipe string   `json:"tailpipe_at_end"`
	Vessel   float64  `json:"vessel_bar_abs"`
	Sensed   *float64 `json:"sensed_bar_abs"`
	Joint    bool     `json:"blows_at_cover_joint"`
	Outlet   float64  `json:"outlet_bar_abs"`
	Made     *bool    `json:"switch_made"`
	RelayOn  *bool    `json:"relay_on"`
	Current  float64  `json:"coil_current_A"`
	Supply   *float64 `json:"supply_V"`
	Wall     *float64 `json:"dump_wall_degC"`
	Block    *float64 `json:"block_valve_open"`
	Selector *string  `json:"selector"`
	TailWall *float64 `json:"tailpipe_wall_degC,omitempty"`
}

// sealedSummary makes the object.
func (rec *Record) sealedSummary(version string) *SealedSummary {
	open := rec.Summary(version)
	out := &SealedSummary{Scenario: open.Scenario, Until: open.Until, Sealed: true, Note: sealedNote, Faults: open.Faults, Settings: open.Settings,
		Events: []SealedEvent{}, Valves: []SealedValve{}, Version: version, Caution: caution}
	for i := range rec.Valves {
		v := &rec.Valves[i]
		o := rec.outsideAtEnd(v)
		sv := SealedValve{Name: v.Name, Tailpipe: o.tail.String(), Vessel: o.vessel * bar, Joint: o.joint, Outlet: o.outlet * bar, Current: o.current,
			Wall: finite(o.wall - 273.15), TailWall: finite(o.tailWall - 273.15), Block: finite(o.block)}
		if o.fitted {
			sv.Sensed, sv.Supply, sv.Made, sv.RelayOn = finite(o.sensed*bar), finite(o.supply), &o.made, &o.relayOn
		}
		if o.selector != "" {
			sv.Selector = &o.selector
		}
		for _, s := range v.signs {
			if s.event == "blows" {
				sv.Blows++
			}
			out.Events = append(out.Events, SealedEvent{math.Round(s.t*1e6) / 1e6, s.event, s.part, s.vessel * bar})
		}
		out.Valves = append(out.Valves, sv)
	}
	out.Springs = rec.sealedSprings()
	return out
}

// WriteSummary writes the summary as people and programs can read it.
func (rec *Record) WriteSummary(w io.Writer, version string) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	hidden := rec.Run.Scenario.Sealed()
	boiler, err := rec.boilerSummary(hidden)
	if err != nil {
		return err
	}
	if hidden {
		out := rec.sealedSummary(version)
		out.Boiler = boiler
		return e.Encode(out)
	}
	out := rec.Summary(version)
	out.Boiler = boiler
	return e.Encode(out)
}
