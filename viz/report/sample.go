package report

import (
	"context"
	"math"
	"slices"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/sim"
	"underdisc/viz/paper"
)

// span is a stretch of the run.
type span struct{ from, to float64 }

// pass walks once along the run and gives a snapshot at the end of every step,
// at both ends of every change of the plant, and at even distances in between;
// within the given stretches at so many more that a picture of them is smooth.
// inTable is false for those extra ones. Times never fall.
func (rec *Record) pass(ctx context.Context, closeUps []span, do func(s *plant.Snapshot, inTable bool) error) error {
	run := rec.Run
	until := rec.Until()
	if !(until > 0) {
		return do(run.Now(), true)
	}
	const evenPoints, closePoints = 2400, 1500 // more than a picture has columns
	even := paper.Step(until / evenPoints)
	y := make([]float64, len(run.Sim.State().Y))
	var times []float64
	interval := -1
	return run.History.Each(func(g *sim.Segment) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		table := map[float64]bool{g.T1: true}
		times = append(times[:0], g.T1)
		add := func(t float64, inTable bool) {
			times = append(times, t)
			table[t] = table[t] || inTable
		}
		if g.Interval != interval {
			interval = g.Interval
			add(g.T0, true)
		}
		between(g.T0, g.T1, even, func(t float64) { add(t, true) })
		for _, c := range closeUps {
			step := (c.to - c.from) / closePoints
			between(max(g.T0, c.from), min(g.T1, c.to), step, func(t float64) { add(t, false) })
		}
		slices.Sort(times)
		m := run.Model(g.Interval)
		for _, t := range slices.Compact(times) {
			g.Eval(t, y)
			if err := do(m.Snapshot(t, y, g.Modes, g.Timers), table[t]); err != nil {
				return err
			}
		}
		return nil
	})
}

// between calls do for the multiples of step inside from..to, ends excluded.
func between(from, to, step float64, do func(float64)) {
	for k := math.Floor(from/step) + 1; k*step < to; k++ {
		do(k * step)
	}
}

// column is one quantity of a valve, as tables and pictures show it.
type column struct {
	name  string // with its unit
	value func(v *plant.ValveState, th *explain.Thresholds) float64
}

const (
	bar   = 1e-5 // of a pascal
	milli = 1e3  // of a metre
)

// columns are those of the trace, in order. The thresholds are those of a disc
// on its seat and at its stop: below the first it lifts, above the second it
// leaves the stop.
var columns = []column{
	{"vessel_bar_abs", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Vessel * bar }},
	{"above_bar_abs", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Above * bar }},
	{"below_bar_abs", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Below * bar }},
	{"outlet_bar_abs", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Outlet * bar }},
	{"lift_below_bar_abs", func(_ *plant.ValveState, th *explain.Thresholds) float64 { return th.LiftBelow * bar }},
	{"drop_above_bar_abs", func(_ *plant.ValveState, th *explain.Thresholds) float64 { return th.DropAbove * bar }},
	{"disc_lift_mm", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Disc.Lift * milli }},
	{"pilot_lift_mm", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Pilot.Lift * milli }},
	{"coil_current_A", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Coil.Current }},
	{"line_flow_kg_per_s", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Line }},
	{"seat_flow_kg_per_s", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Seat }},
	{"bleed_flow_kg_per_s", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Bleed }},
	{"guide_flow_kg_per_s", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.Guide }},
	{"pilot_flow_kg_per_s", func(v *plant.ValveState, _ *explain.Thresholds) float64 { return v.PilotFlow }},
}
