package report

import (
	"encoding/json"
	"io"

	"underdisc/model/explain"
	"underdisc/model/unit"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

// WhySummary is the answer in one object, for programs. Keys may be added to it
// later, never changed. Quantities are in the unit that stands beside them or
// in their key. Of a run with a hidden fault it has the answer from outside
// alone.
type WhySummary struct {
	Scenario string      `json:"scenario"`
	At       float64     `json:"at_s"`
	Sealed   bool        `json:"sealed"`
	Note     string      `json:"note,omitempty"`
	Valves   []WhyValve  `json:"valves"`
	Springs  []WhySpring `json:"spring_valves,omitempty"`
	Others   []WhyOther  `json:"others,omitempty"` // what the plant has beside: ask for them by name
	Version  string      `json:"version"`
	Caution  string      `json:"caution"`
}

// WhyValve is the answer of one valve. Pressures absolute. Null is what there is
// none of.
type WhyValve struct {
	Name     string   `json:"name"`
	Asks     string   `json:"asks"`
	Answer   []string `json:"answer"`
	*WhyPage          // not of a run with a hidden fault
}

// WhyPage is what explain.Page has.
type WhyPage struct {
	Question string `json:"question"`
	State    string `json:"state"`
	Asked    bool   `json:"asked_open"`
	Link     string `json:"link"`
	Reason   string `json:"reason"`
	Stays    bool   `json:"stays"`

	Below          float64  `json:"chamber_bar_abs"`
	Leaves         float64  `json:"leaves_bar_abs"`
	LiftBelow      float64  `json:"lift_below_bar_abs"`
	DropAbove      float64  `json:"drop_above_bar_abs"`
	Steady         *float64 `json:"chamber_steady_bar_abs"`
	Above          float64  `json:"body_bar_abs"`
	Vessel         float64  `json:"vessel_bar_abs"`
	Outlet         float64  `json:"outlet_bar_abs"`
	UntilThreshold *float64 `json:"until_threshold_s"`
	Stroke         *float64 `json:"stroke_back_s"`
	ToSeat         *float64 `json:"to_seat_s"`
	Ratio          *float64 `json:"leak_to_bleed"`
	RatioSeats     *float64 `json:"leak_to_bleed_seats"`
	RatioHolds     *float64 `json:"leak_to_bleed_holds"`

	Links []WhyLink    `json:"links"`
	Frees []WhyFree    `json:"frees"`
	Cycle *WhyCycleRun `json:"cycle,omitempty"`
	Next  []string     `json:"next"`
	Steps string       `json:"next_steps"`
}

// WhyLink is one link.
type WhyLink struct {
	Link      string   `json:"link"`
	Fitted    bool     `json:"fitted"`
	Asked     bool     `json:"asked"`
	Stands    bool     `json:"stands_as_asked"`
	Holds     bool     `json:"holds"`
	Quantity  string   `json:"quantity"`
	Now       *float64 `json:"now"`
	Threshold *float64 `json:"threshold"`
	Unit      string   `json:"unit"`
}

// WhyFree is a change that frees the valve.
type WhyFree struct {
	Link     string   `json:"link"`
	Quantity string   `json:"quantity"`
	Path     string   `json:"path,omitempty"`
	Side     string   `json:"side,omitempty"` // at-least, at-most
	Now      *float64 `json:"now,omitempty"`
	Needed   *float64 `json:"needed,omitempty"`
	Unit     string   `json:"unit,omitempty"`
	From     string   `json:"from,omitempty"` // of a position
	To       string   `json:"to,omitempty"`
	By       string   `json:"by"`
	Remedy   bool     `json:"remedy"` // of false: what the arithmetic would need, not a remedy
	In       *float64 `json:"in_s,omitempty"`
}

// WhyCycleRun is what the run has shown of repeated lifts.
type WhyCycleRun struct {
	Lifts            int      `json:"lifts"`
	Period           *float64 `json:"period_s"`
	Deadband         float64  `json:"deadband_bar"`
	FallRate         *float64 `json:"fall_rate_bar_per_s"`
	ClosingDelay     *float64 `json:"closing_delay_s"`
	ShortestBlowdown *float64 `json:"shortest_blowdown_bar"`
	AskedOpen        *float64 `json:"asked_open_s"`
	NeededDeadband   *float64 `json:"needed_deadband_bar"`
}

// WriteJSON writes the answer as one JSON object.
func (y *Why) WriteJSON(w io.Writer, version string) error {
	sc := y.Run.Scenario
	out := WhySummary{Scenario: sc.Name, At: y.At, Sealed: sc.Sealed(), Valves: []WhyValve{}, Version: version, Caution: caution}
	if sc.Sealed() {
		out.Note = sealedNote
	}
	piloted, spring := y.chosen()
	for _, i := range piloted {
		why, pg, err := view.WhyAt(y.Run, y.At, i, y.Units)
		if err != nil {
			return err
		}
		out.Valves = append(out.Valves, whyValve(y.Run.Present().Valves[i].Name, why, pg))
	}
	if spring >= 0 {
		sv, err := y.springSummary(spring)
		if err != nil {
			return err
		}
		out.Springs = append(out.Springs, sv)
	}
	var err error
	if out.Others, err = y.others(piloted, spring); err != nil {
		return err
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(out)
}

// optional is nil where there is no number; scale converts it.
func optional(o explain.Opt, scale float64) *float64 {
	if !o.Known {
		return nil
	}
	return finite(o.Value * scale)
}

func whyValve(name string, why *scene.Why, pg *explain.Page) WhyValve {
	v := WhyValve{Name: name, Asks: why.Question, Answer: why.Answer}
	if pg == nil {
		return v
	}
	f := &pg.Facts
	p := &WhyPage{Question: pg.Question.String(), State: f.State.String(), Asked: f.Asked, Link: f.Why.Link.String(), Reason: f.Why.Reason.String(), Stays: f.Why.Stays,
		Below: f.Chamber.Pressure * bar, Leaves: pg.Leaves * bar, LiftBelow: f.Thresholds.LiftBelow * bar, DropAbove: f.Thresholds.DropAbove * bar,
		Steady: optional(f.Chamber.Steady, bar), Above: pg.Above * bar, Vessel: pg.Vessel * bar, Outlet: pg.Outlet * bar,
		UntilThreshold: optional(pg.Seat.Chamber, 1), Stroke: optional(pg.Seat.Stroke, 1), ToSeat: optional(pg.Seat.Total, 1),
		Ratio: optional(pg.Ratio.Now, 1), RatioSeats: optional(pg.Ratio.Seats, 1), RatioHolds: optional(pg.Ratio.Holds, 1),
		Links: []WhyLink{}, Frees: []WhyFree{}}
	for _, r := range pg.Links {
		p.Links = append(p.Links, WhyLink{Link: r.Link.String(), Fitted: r.Fitted, Asked: r.Asked, Stands: r.Stands, Holds: r.Holds,
			Quantity: r.Quantity.String(), Now: finite(r.Now), Threshold: optional(r.Threshold, 1), Unit: unit.SI(r.Quantity.Dim())})
	}
	for i := range pg.Frees {
		p.Frees = append(p.Frees, whyFree(&pg.Frees[i]))
	}
	if n := &pg.Cycle; n.Lifts > 0 {
		p.Cycle = &WhyCycleRun{Lifts: n.Lifts, Period: optional(n.Period, 1), Deadband: n.Deadband * bar, FallRate: optional(n.FallRate, bar),
			ClosingDelay: optional(n.ClosingDelay, 1), ShortestBlowdown: optional(n.ShortestBlowdown, bar), AskedOpen: optional(n.AskedOpen, 1),
			NeededDeadband: optional(n.NeededDeadband, bar)}
	}
	p.Next, p.Steps = []string{}, why.Next
	for _, c := range pg.Next {
		p.Next = append(p.Next, c.String())
	}
	v.WhyPage = p
	return v
}

func whyFree(f *explain.Free) WhyFree {
	w := WhyFree{Link: f.Link.String(), Quantity: f.Quantity.String(), Path: f.Path, From: f.NowWord, To: f.NeededWord, By: f.By.String(), Remedy: f.Remedy, In: optional(f.In, 1)}
	if f.NeededWord != "" {
		return w
	}
	w.Needed, w.Unit, w.Side = finite(f.Needed), unit.SI(f.Quantity.Dim()), "at-least"
	if f.Below {
		w.Side = "at-most"
	}
	if f.Quantity == explain.Wait {
		w.Side = ""
		return w
	}
	w.Now = finite(f.Now)
	return w
}
