package report

import (
	"underdisc/model/explain"
	"underdisc/viz/words"
)

// WhySpring is the answer of a spring-loaded valve. Pressures absolute, forces in N,
// positive towards opening. Null is what there is none of.
type WhySpring struct {
	Name           string   `json:"name"`
	Asks           string   `json:"asks"`
	Answer         []string `json:"answer"`
	*WhySpringPage          // not of a run with a hidden fault
}

// WhySpringPage is what explain.SpringPage has.
type WhySpringPage struct {
	Question string `json:"question"`
	State    string `json:"state"`
	Reason   string `json:"reason"`

	Vessel    float64  `json:"vessel_bar_abs"`
	Inlet     float64  `json:"inlet_bar_abs"`
	InletRate float64  `json:"inlet_rate_bar_per_s"`
	Huddle    float64  `json:"huddle_bar_abs"`
	Under     float64  `json:"under_ring_bar_abs"`
	Outlet    float64  `json:"outlet_bar_abs"`
	Parts     float64  `json:"faces_part_at_bar_abs"`
	Pops      *float64 `json:"pops_at_bar_abs"`
	Reseats   *float64 `json:"reseats_at_bar_abs"`
	In        *float64 `json:"in_s"`

	Lift       float64  `json:"lift_mm"`
	FullTravel float64  `json:"full_lift_mm"`
	Travel     float64  `json:"lift_left_mm"` // as far as a gag leaves
	HeldOff    float64  `json:"held_off_seat_mm"`
	Flow       float64  `json:"flow_kg_per_s"`
	Hand       *float64 `json:"hand_N"`
	ToLift     *float64 `json:"hand_to_part_faces_N"`
	BackRaises float64  `json:"back_pressure_raises_bar"`
	Wear       float64  `json:"wear"`

	Forces map[string]float64 `json:"forces_N"`
	Frees  []WhySpringFree    `json:"frees"`
	Next   []string           `json:"next"`
	Steps  string             `json:"next_steps"`
}

// WhySpringFree is a change that would change what the valve does, in SI.
type WhySpringFree struct {
	Quantity string   `json:"quantity"`
	Path     string   `json:"path,omitempty"`
	Side     string   `json:"side"` // at-least, at-most
	Now      float64  `json:"now"`
	Needed   float64  `json:"needed"`
	Does     string   `json:"does"`
	By       string   `json:"by"`
	Remedy   bool     `json:"remedy"`
	In       *float64 `json:"in_s,omitempty"`
}

// springSummary is the answer of one spring-loaded valve.
func (y *Why) springSummary(spring int) (WhySpring, error) {
	pg, st, err := y.springPage(spring)
	if err != nil {
		return WhySpring{}, err
	}
	u := springUnits(y.Units, y.Run.Present(), spring)
	if y.Run.Scenario.Sealed() {
		return WhySpring{Name: st.Name, Asks: "What can be told from outside?", Answer: []string{words.SpringOutside(st, u)}}, nil
	}
	f := &pg.Facts
	p := &WhySpringPage{Question: pg.Question.String(), State: f.State.String(), Reason: f.Why.String(),
		Vessel: f.Vessel * bar, Inlet: f.Inlet * bar, InletRate: f.InletRate * bar, Huddle: st.Huddle * bar, Under: st.Under * bar, Outlet: st.Outlet * bar,
		Parts: f.Parting.Pressure * bar, Pops: optional(f.Folds.Pop, bar), Reseats: optional(f.Folds.Reseat, bar), In: optional(f.In, 1),
		Lift: f.Lift * milli, FullTravel: f.FullTravel * milli, Travel: f.Travel * milli, HeldOff: f.HeldOff * milli, Flow: f.Flow,
		BackRaises: f.Back.Raises * bar, Wear: f.Wear, Forces: springForces(&f.Forces), Frees: []WhySpringFree{}, Next: []string{}, Steps: words.SpringNext(pg.Next)}
	if f.Hand.Fitted {
		p.Hand, p.ToLift = finite(f.Hand.Now), finite(f.Hand.ToLift)
	}
	for i := range pg.Frees {
		q := &pg.Frees[i]
		side := "at-least"
		if q.Below {
			side = "at-most"
		}
		p.Frees = append(p.Frees, WhySpringFree{Quantity: q.Quantity.String(), Path: q.Path, Side: side, Now: q.Now, Needed: q.Needed,
			Does: q.Does.String(), By: q.By.String(), Remedy: q.Remedy, In: optional(q.In, 1)})
	}
	for _, c := range pg.Next {
		p.Next = append(p.Next, c.String())
	}
	return WhySpring{Name: st.Name, Asks: words.SpringQuestion(pg.Question), Answer: words.SpringAnswer(f, u), WhySpringPage: p}, nil
}

func springForces(o *explain.SpringForces) map[string]float64 {
	return map[string]float64{"seat": o.Seat, "momentum": o.Momentum, "huddle": o.Huddle, "upper_ring": o.Upper, "jet": o.Jet, "bellows": o.Bellows,
		"faces": o.Faces, "lever": o.Lever, "weight": -o.Weight, "spring": -o.Spring, "sum": o.Net, "stop": -o.Stop}
}
