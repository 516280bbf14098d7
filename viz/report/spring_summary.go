package report

import (
	"math"

	"underdisc/scenarios/live"
)

// SummarySpring is what one spring-loaded valve did. Its wear is a relative index
// whose constants are assumed.
type SummarySpring struct {
	Name        string              `json:"name"`
	Lifts       []SummarySpringLift `json:"lifts"`
	Simmers     []SummarySimmer     `json:"simmers"`
	TightAtEnd  bool                `json:"tight_at_end"`
	StateAtEnd  string              `json:"state_at_end"`
	Wear        float64             `json:"wear_relative"`
	Open        float64             `json:"open_s"`
	Surrounding float64             `json:"surroundings_bar_abs"`
}

// SummarySpringLift is one lift. Pressures at the inlet unless said; null is what has
// not happened or does not apply.
type SummarySpringLift struct {
	Simmer       *float64 `json:"simmer_bar_abs"`
	SimmerAt     *float64 `json:"simmer_s"`
	Pop          float64  `json:"pop_bar_abs"`
	PopVessel    float64  `json:"pop_vessel_bar_abs"`
	PopAt        float64  `json:"pop_s"`
	Lift         float64  `json:"highest_lift_mm"`
	Full         bool     `json:"full_lift"`
	FullAt       *float64 `json:"full_lift_s"`
	Most         *float64 `json:"highest_bar_abs"`
	MostVessel   *float64 `json:"highest_vessel_bar_abs"`
	Accumulation *float64 `json:"accumulation_percent"`
	Reseat       *float64 `json:"reseat_bar_abs"`
	ReseatVessel *float64 `json:"reseat_vessel_bar_abs"`
	ReseatAt     *float64 `json:"reseat_s"`
	TightAt      *float64 `json:"tight_s"`
	Blowdown     *float64 `json:"blowdown_percent"`
	Open         float64  `json:"open_s"`
	Hand         bool     `json:"by_hand"`
	Wear         *float64 `json:"wear_relative"`
	SeatImpact   *float64 `json:"hardest_seat_impact_J"`
	StopImpact   *float64 `json:"hardest_stop_impact_J"`
}

// SummarySimmer is a stretch in which its faces were parted and it had not lifted.
type SummarySimmer struct {
	From   float64 `json:"from_s"`
	Until  float64 `json:"until_s"`
	Inlet  float64 `json:"inlet_bar_abs"`
	Lifted bool    `json:"lifted"`
	AtEnd  bool    `json:"at_end"`
	Wear   float64 `json:"wear_relative"`
}

func (rec *Record) springSummaries() []SummarySpring {
	var out []SummarySpring
	for i := range rec.Springs {
		v := &rec.Springs[i]
		f := rec.explainSpring(rec.Run.Present(), rec.Run.Now(), v.Index)
		s := SummarySpring{Name: v.Name, Lifts: []SummarySpringLift{}, Simmers: []SummarySimmer{}, TightAtEnd: v.Tight, StateAtEnd: f.State.String(),
			Wear: v.Wear, Open: v.open(rec.Until()), Surrounding: springAir(rec.Run.Present(), v.Index) * bar}
		for k := range v.Lifts {
			s.Lifts = append(s.Lifts, summaryLift(&v.Lifts[k], rec.Until()))
		}
		for _, q := range v.Simmers {
			s.Simmers = append(s.Simmers, SummarySimmer{q.From, q.Until, q.Inlet * bar, q.Lifted, q.GoesOn, q.Wear})
		}
		out = append(out, s)
	}
	return out
}

func summaryLift(l *live.SpringLift, until float64) SummarySpringLift {
	s := SummarySpringLift{Simmer: finite(l.Simmer * bar), SimmerAt: finite(l.SimmerAt), Pop: l.Pop * bar, PopVessel: l.PopVessel * bar, PopAt: l.PopAt,
		Lift: l.Lift * milli, Full: !math.IsNaN(l.FullAt), FullAt: finite(l.FullAt), Most: finite(l.Most * bar), MostVessel: finite(l.MostVessel * bar),
		Reseat: finite(l.Reseat * bar), ReseatVessel: finite(l.ReseatVessel * bar), ReseatAt: finite(l.ReseatAt), TightAt: finite(l.TightAt),
		Open: l.Open(until), Hand: l.Hand, Wear: finite(l.Wear), SeatImpact: finite(l.SeatImpact), StopImpact: finite(l.StopImpact)}
	if x, ok := l.Accumulation(); ok {
		s.Accumulation = finite(x)
	}
	if x, ok := l.Blowdown(); ok {
		s.Blowdown = finite(x)
	}
	return s
}
