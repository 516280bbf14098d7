package view_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
	"underdisc/viz/words"
)

// held is a valve that does not do as it should, made by parameters alone.
type held struct {
	scenario string
	set      []string
	at       float64
	link     explain.Link
	reason   explain.Reason
	// says are the numbers that the sentence must have, from the snapshot.
	says func(st *plant.ValveState, u scene.Units) []string
}

func pressures(of ...func(*plant.ValveState) float64) func(*plant.ValveState, scene.Units) []string {
	return func(st *plant.ValveState, u scene.Units) []string {
		var out []string
		for _, p := range of {
			out = append(out, u.PressureOf(p(st)))
		}
		return out
	}
}

func below(st *plant.ValveState) float64   { return st.Below }
func above(st *plant.ValveState) float64   { return st.Above }
func vessel(st *plant.ValveState) float64  { return st.Vessel }
func reading(st *plant.ValveState) float64 { return st.Control.Reading }
func tapped(st *plant.ValveState) float64  { return st.Control.Tapped }
func towards(st *plant.ValveState) float64 { return st.Control.Towards }
func set(st *plant.ValveState) float64     { return st.Control.Set }
func reset(st *plant.ValveState) float64   { return st.Control.Reset }

// opens and shuts are the disc's thresholds, from its forces.
func opens(st *plant.ValveState) float64 {
	d := &st.Disc
	return st.Below + (d.Net-d.Stick-d.BondShut)/d.GuideArea
}

func shuts(st *plant.ValveState) float64 {
	d := &st.Disc
	return st.Below + (d.Net+d.Stick+d.BondOpen)/d.GuideArea
}

func amperes(of ...func(*plant.ValveState) float64) func(*plant.ValveState, scene.Units) []string {
	return func(st *plant.ValveState, _ scene.Units) []string {
		var out []string
		for _, i := range of {
			out = append(out, scene.Current(i(st))+" A")
		}
		return out
	}
}

func current(st *plant.ValveState) float64 { return st.Coil.Current }
func pullIn(st *plant.ValveState) float64  { return st.Coil.PullIn }

func volts(st *plant.ValveState, _ scene.Units) []string {
	return []string{words.Voltage(st.Coil.Voltage)}
}

// lacking is the force that the plunger's bond has over what pulls at it.
func lacking(st *plant.ValveState, _ scene.Units) []string {
	p := &st.Pilot
	if p.Hold == plant.HeldOpen {
		return []string{scene.Force(p.BondOpen + p.Net)}
	}
	return []string{scene.Force(p.BondShut - p.Net)}
}

func holding(st *plant.ValveState, _ scene.Units) []string {
	net := st.Disc.Net
	if net < 0 {
		net = -net
	}
	return []string{scene.Force(net)}
}

func none(*plant.ValveState, scene.Units) []string { return nil }

const (
	plus   = "gas-bench-plus"
	steam  = "steam-bench"
	boiler = "boiler-plant"
)

var heldOpen = map[string]held{
	"pilot leaks, gas":       {plus, []string{"valve.pilot.leak-area=6 mm2"}, 5, explain.Pilot, explain.PilotLeaks, pressures(below, shuts)},
	"pilot leaks, steam":     {steam, []string{"valve.pilot.leak-area=3 mm2"}, 30, explain.Pilot, explain.PilotLeaks, pressures(below, shuts)},
	"pilot leaks, plant":     {boiler, []string{"valve.pilot.leak-area=3 mm2"}, 80, explain.Pilot, explain.PilotLeaks, pressures(below, shuts)},
	"bleed plugged, gas":     {plus, []string{"valve.bleed.area=0 mm2"}, 4.5, explain.Chamber, explain.FillsTooSlowly, pressures(below, shuts)},
	"nothing fills, steam":   {steam, []string{"valve.bleed.area=0 mm2", "valve.guide.clearance=0 um"}, 20, explain.Chamber, explain.NoInflow, pressures(below, shuts)},
	"plunger bonded, gas":    {plus, []string{"valve.plunger.bond-open=200 N"}, 5, explain.Pilot, explain.PilotBonded, lacking},
	"plunger bonded, steam":  {steam, []string{"valve.plunger.bond-open=200 N"}, 20, explain.Pilot, explain.PilotBonded, lacking},
	"disc sticks, gas":       {plus, []string{"valve.disc.stick-friction=1300 N", "valve.disc.friction=1300 N"}, 6, explain.Disc, explain.DiscStuck, holding},
	"disc bonded, plant":     {boiler, []string{"valve.disc.bond.open=20 kN"}, 80, explain.Disc, explain.DiscStuck, holding},
	"selector open, gas":     {plus, []string{"relay.selector.position=open"}, 3, explain.Relay, explain.SelectorOpen, none},
	"switch stuck, plant":    {boiler, []string{"switch.contact.state=stuck-made"}, 75, explain.Switch, explain.StuckMade, pressures(reading, reset)},
	"trapped, plant":         {boiler, []string{"sensor.sensing-line.fall-lag=1e6 s"}, 85, explain.Switch, explain.ReadingStays, pressures(reading, tapped)},
	"reads high, plant":      {boiler, []string{"sensor.sensing-line.error=2.5 bar"}, 80, explain.Switch, explain.ReadsOff, pressures(towards, tapped)},
	"contact welded, plant":  {boiler, []string{"relay.circuit.contact=welded"}, 2, explain.Relay, explain.ContactWelded, amperes(current)},
	"two earths, plant":      {boiler, []string{"relay.circuit.earth=two"}, 2, explain.Coil, explain.EarthsFeed, amperes(current)},
	"cover leaks, plant":     {boiler, []string{"valve.chamber.cover.leak-area=4 mm2"}, 80, explain.Chamber, explain.CoverLeaks, pressures(below, shuts)},
	"no spring, no pressure": {plus, []string{"valve.spring.preload=0 N", "valve.spring.rate=0 N/mm", "valve.disc.stick-friction=1 N", "valve.disc.friction=1 N", "vessel.pressure=1.02 bar abs", "inflow.mass-flow=0 kg/s", "surroundings.pressure=1.02 bar abs"}, 2, explain.Disc, explain.SpringTooWeak, none},
}

var heldShut = map[string]held{
	"supply low, gas":       {plus, []string{"relay.supply=40 V"}, 5, explain.Coil, explain.CurrentTooLow, amperes(current, pullIn)},
	"supply low, steam":     {steam, []string{"relay.supply=40 V"}, 20, explain.Coil, explain.CurrentTooLow, amperes(current, pullIn)},
	"plunger bonded, gas":   {plus, []string{"valve.plunger.bond-shut=500 N"}, 5, explain.Pilot, explain.PilotBonded, lacking},
	"plunger bonded, plant": {boiler, []string{"valve.plunger.bond-shut=500 N"}, 75, explain.Pilot, explain.PilotBonded, lacking},
	"bleed enlarged, gas":   {plus, []string{"valve.bleed.area=60 mm2"}, 5, explain.Chamber, explain.BleedOutruns, pressures(below, opens)},
	"guide worn, plant":     {boiler, []string{"valve.guide.clearance=150 um"}, 75, explain.Chamber, explain.GuideOutruns, pressures(below, opens)},
	"dump line, gas":        {plus, []string{"valve.dump-line.area=4 mm2"}, 5, explain.Chamber, explain.DumpBacksUp, pressures(below, opens)},
	"disc stuck, gas":       {plus, []string{"valve.disc.stick-friction=4000 N"}, 5, explain.Disc, explain.DiscStuck, holding},
	"disc bonded, plant":    {boiler, []string{"valve.disc.bond.shut=20 kN"}, 75, explain.Disc, explain.DiscStuck, holding},
	"block valve, gas":      {plus, []string{"line.block-valve.opening=0"}, 6, explain.Disc, explain.BodyIsolated, pressures(above, vessel)},
	"sensed in the body":    {plus, []string{"line.block-valve.opening=0", "sensor.on=valve"}, 5, explain.Switch, explain.SensedElsewhere, pressures(vessel, tapped, set)},
	"selector off, steam":   {steam, []string{"relay.selector.position=off"}, 20, explain.Relay, explain.SelectorOff, none},
	"sensor lags, gas":      {plus, []string{"sensor.lag=2 s"}, 3, explain.Switch, explain.SensorLags, pressures(reading, tapped)},
	"switch stuck, plant":   {boiler, []string{"switch.contact.state=stuck-open"}, 75, explain.Switch, explain.StuckOpen, pressures(reading, set)},
	"root shut, plant":      {boiler, []string{"sensor.sensing-line.root-opening=0"}, 75, explain.Switch, explain.ReadingStays, pressures(reading, tapped)},
	"leg lost, plant":       {boiler, []string{"sensor.sensing-line.water-leg=-30 m"}, 75, explain.Switch, explain.ReadsOff, pressures(towards, tapped)},
	"contact open, plant":   {boiler, []string{"relay.circuit.contact=open"}, 75, explain.Relay, explain.ContactOpen, volts},
	"fuse out, plant":       {boiler, []string{"relay.circuit.fuse.state=out"}, 75, explain.Coil, explain.FuseGone, volts},
	"hot coil, plant":       {boiler, []string{"valve.coil.winding.around=200 degC"}, 75, explain.Coil, explain.CoilHot, amperes(current, pullIn)},
	"stroke short, plant":   {boiler, []string{"valve.plunger.adjustment.lost-stroke=2 mm"}, 75, explain.Pilot, explain.StrokeShort, pressures(below, opens)},
	"water, plant":          {boiler, []string{"valve.chamber.condensate.share=0.5"}, 70.45, explain.Chamber, explain.WaterFlashes, pressures(below, opens)},
}

// What holds a valve is named truly, whatever set it so, and its numbers are the
// snapshot's.
func TestWhyNamesTheLink(t *testing.T) {
	for question, cases := range map[explain.Question]map[string]held{explain.WontReseat: heldOpen, explain.WontLift: heldShut} {
		for name, c := range cases {
			t.Run(question.String()+", "+name, func(t *testing.T) {
				r := whyRun(t, c.scenario, c.at, c.set...)
				for _, u := range []scene.Units{{}, {Pressure: scene.PSI, Gauge: true}} {
					why, pg, err := view.WhyAt(r, c.at, 0, u)
					require.NoError(t, err)
					st := &r.Now().Valves[0]
					u.Ambient = view.Ambient(r.Present(), 0)
					assert.Equal(t, question.String(), pg.Question.String())
					assert.Equal(t, c.link.String(), pg.Facts.Why.Link.String())
					assert.Equal(t, c.reason.String(), pg.Facts.Why.Reason.String())
					assert.Contains(t, why.Answer[0], words.Link(c.link))
					for _, n := range c.says(st, u) {
						assert.Contains(t, why.Answer[0], n)
					}
					assert.NotEmpty(t, pg.Frees, "what would free it")
					holds := 0
					for i, row := range why.Rows {
						if row.Holds {
							holds++
							assert.Equal(t, c.link, pg.Links[i].Link)
							assert.Equal(t, "not as asked", row.Stands, "the link that holds does not do its part: %s", row.Link)
						}
					}
					assert.Equal(t, 1, holds)
					assert.LessOrEqual(t, len([]rune(view.Sentence(&pg.Facts, st, u))), 130, "the picture's sentence")
					assert.NotContains(t, why.Answer[0]+why.Answer[len(why.Answer)-1], "NaN")
				}
			})
		}
	}
}

// whyRun runs a scenario with parameters set, as far as a moment.
func whyRun(t *testing.T, scenario string, until float64, set ...string) *live.Run {
	t.Helper()
	sc, err := scenarios.Load(scenario)
	require.NoError(t, err)
	sc.Plant, err = scenarios.Set(sc.Plant, set...)
	require.NoError(t, err)
	sc.Until = until
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}
