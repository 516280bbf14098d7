package explain_test

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// spring is the first spring-loaded valve at a moment and the page about it.
func spring(t testing.TB, r *live.Run, at float64, folds explain.SpringFolds) (*plant.SpringState, explain.SpringPage) {
	t.Helper()
	s, m, err := r.At(at)
	require.NoError(t, err)
	pg := explain.SpringPageOf(m, s, 0, explain.SpringPastOf(m, r.Sim.Events(), at, 0), folds)
	agree(t, &s.Springs[0], &pg.Facts)
	return &s.Springs[0], pg
}

// agree holds the facts against the snapshot that they are about: the forces add up
// to its net force, however they are shared out.
func agree(t testing.TB, st *plant.SpringState, f *explain.SpringFacts) {
	t.Helper()
	o := &f.Forces
	sum := o.Seat + o.Flow() + o.Bellows + o.Faces + o.Lever - o.Spring - o.Weight
	assert.InDelta(t, st.Net, sum, 1e-6*(o.Spring+1), "forces")
	assert.InDelta(t, st.Net, o.Net, 1e-9)
	assert.Equal(t, []float64{st.Inlet, st.Lift, st.W, st.Wear}, []float64{f.Inlet, f.Lift, f.Flow, f.Wear})
	if st.W == 0 {
		assert.InDelta(t, 0, o.Flow(), 1e-6, "what does not flow adds nothing")
	}
}

func springAt(t testing.TB, r *live.Run, event string) float64 {
	t.Helper()
	for _, e := range r.Sim.Events() {
		if e.Name == event {
			return e.T
		}
	}
	require.Failf(t, "no such event", "%s", event)
	return 0
}

// TestSpringOwnRound follows the reference valve through one lift of its own: what is
// said at each stage, and that what is foretold comes true.
func TestSpringOwnRound(t *testing.T) {
	r := ran(t, described(t, "spring-reference"), 10)
	simmer, pop, reseat := springAt(t, r, "simmer"), springAt(t, r, "pop"), springAt(t, r, "reseat")
	at := func(time float64) *plant.SpringState {
		s, _, err := r.At(time)
		require.NoError(t, err)
		return &s.Springs[0]
	}

	st, pg := spring(t, r, 0.1, explain.SpringFolds{})
	f := &pg.Facts
	assert.Equal(t, explain.SpringTight, f.State)
	assert.Equal(t, explain.BelowParting, f.Why)
	assert.Equal(t, explain.WhyTight, pg.Question)
	// (P - pT) As = F0 + m g - Fc, closed form; and there the run's faces part.
	area := math.Pi / 4 * 0.0475 * 0.0475
	assert.InEpsilon(t, 1.01325*bar+(7044+4*9.81-142)/area, f.Parting.Pressure, 1e-9)
	assert.InEpsilon(t, at(simmer).Inlet, f.Parting.Pressure, 1e-5)
	assert.InDelta(t, f.Parting.Pressure-st.Inlet, f.Parting.Margin, 1e-6)
	require.True(t, f.In.Known)
	assert.InEpsilon(t, simmer-0.1, f.In.Value, 0.02)
	assert.Empty(t, pg.Next, "a valve that is shut as it should be asks for nothing")

	_, pg = spring(t, r, 0.5*(simmer+pop), explain.SpringFolds{Pop: explain.Opt{Value: at(pop).Inlet, Known: true}})
	f = &pg.Facts
	assert.Equal(t, explain.SpringSimmering, f.State)
	assert.Equal(t, explain.RingLetsOut, f.Why)
	require.True(t, f.In.Known)
	assert.InEpsilon(t, 0.5*(pop-simmer), f.In.Value, 0.02)
	assert.Equal(t, []explain.SpringCheck{explain.TellSimmers, explain.ClearOfExhaust, explain.BringDown, explain.CompareGauges}, pg.Next)

	full := springAt(t, r, "full-lift")
	_, pg = spring(t, r, full+0.1, explain.SpringFolds{})
	f = &pg.Facts
	assert.Equal(t, explain.SpringAtFullLift, f.State)
	assert.Equal(t, explain.FlowHolds, f.Why)
	assert.Positive(t, f.Forces.Stop)
	assert.InDelta(t, f.Forces.Net, f.Forces.Stop, 1e-6)
	assert.Less(t, f.Forces.Seat, f.Forces.Spring, "the pressure alone would not hold it")
	assert.Equal(t, explain.WhyOpen, pg.Question, "its pressure falls")

	// Reseat foretold: the pressure at which the run reseats, from half a second before.
	down := explain.SpringFolds{Reseat: explain.Opt{Value: at(reseat).Inlet, Known: true}}
	_, pg = spring(t, r, reseat-0.5, down)
	f = &pg.Facts
	assert.Equal(t, explain.SpringPartly, f.State)
	assert.Equal(t, explain.InBalance, f.Why)
	require.True(t, f.In.Known)
	assert.InDelta(t, 0.5, f.In.Value, 0.1)
	require.NotEmpty(t, pg.Frees)
	assert.Equal(t, explain.InletPressure, pg.Frees[0].Quantity)
	assert.InDelta(t, down.Reseat.Value, pg.Frees[0].Needed, 1e-6)

	_, pg = spring(t, r, 0.5*(pop+springAt(t, r, "full-lift-bounce")), explain.SpringFolds{})
	assert.Equal(t, explain.SpringLifting, pg.Facts.State)
	assert.Equal(t, explain.HuddleLifts, pg.Facts.Why)
	_, pg = spring(t, r, reseat-0.002, explain.SpringFolds{})
	assert.Equal(t, explain.SpringFalling, pg.Facts.State)
	assert.Equal(t, explain.SpringShuts, pg.Facts.Why)
}

// TestSpringWontReseat: an inflow as large as what it passes holds it open. Turning
// the upper ring, or setting the spring, as far as is said lets it leave its stop; a little
// less does not.
func TestSpringWontReseat(t *testing.T) {
	// At full lift it passes 9 kg/s.
	r := ran(t, described(t, "spring-reference", "inflow.mass-flow=10 kg/s"), 6)
	_, pg := spring(t, r, 5, explain.SpringFolds{})
	assert.Equal(t, explain.WhyWontReseat, pg.Question)
	assert.Equal(t, explain.SpringAtFullLift, pg.Facts.State)
	assert.Contains(t, pg.Next, explain.RingsByLicensed)
	paths := map[string]float64{}
	for _, q := range pg.Frees {
		paths[q.Path] = q.Needed
		assert.Equal(t, q.Quantity != explain.SpringSetting, q.Remedy)
	}
	require.Contains(t, paths, "safety.upper-ring.exit-height")
	require.Contains(t, paths, "safety.spring.preload")
	for path, needed := range paths {
		for _, c := range []struct {
			share  float64
			leaves bool
		}{{0.98, false}, {1.02, true}} {
			sc := described(t, "spring-reference", "inflow.mass-flow=10 kg/s")
			prm, err := sc.Plant.Get(path)
			require.NoError(t, err)
			// The share is of the way from where it stands.
			now := prm.Value.Number
			prm.Value = plant.Value{Number: now + c.share*(needed-now)}
			sc.Commands = append(sc.Commands, scenarios.Command{At: 5, Path: path, Value: prm.Value})
			r := ran(t, sc, 5.02)
			left := false
			for _, e := range r.Sim.Events() {
				left = left || e.T >= 5 && e.Name == "leaves-stop"
			}
			assert.Equal(t, c.leaves, left, "%s at %g of the way", path, c.share)
		}
	}
}

// TestSpringHeld: what a nut, debris, a gag and a lever do is told from each other.
func TestSpringHeld(t *testing.T) {
	for _, c := range []struct {
		name   string
		set    []string
		at     float64
		state  explain.SpringStand
		why    explain.SpringReason
		asks   explain.SpringQuestion
		frees  string
		checks []explain.SpringCheck
	}{
		{"nut", []string{"safety.lever.nut-holds=0.2 mm"}, 0.5, explain.SpringHeldOff, explain.NutHolds, explain.WhyHeldOff, "safety.lever.nut-holds",
			[]explain.SpringCheck{explain.TellPasses, explain.ClearOfExhaust, explain.FreePlay, explain.OthersInService}},
		{"debris", []string{"safety.seat.debris.size=0.1 mm"}, 0.5, explain.SpringHeldOff, explain.DebrisHolds, explain.WhyHeldOff, "safety.seat.debris.size",
			[]explain.SpringCheck{explain.TellPasses, explain.ClearOfExhaust, explain.FreePlay, explain.LiftToFlush, explain.OthersInService}},
		{"gag", []string{"safety.gag.leaves-lift=0.01 mm"}, 0.5, explain.SpringGagged, explain.GagHolds, explain.WhyCannotLift, "safety.gag.leaves-lift",
			[]explain.SpringCheck{explain.TellCannotLift, explain.OthersInService, explain.LookForGag, explain.BringDown}},
		{"lever", []string{"safety.lever.pull=1", "vessel.pressure=31 bar abs", "inflow.mass-flow=0 kg/s"}, 1.5, explain.SpringByLever, explain.LeverHolds, explain.WhyOpen, "",
			[]explain.SpringCheck{explain.TellLifted, explain.ClearOfExhaust, explain.LetGo}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := ran(t, described(t, "spring-reference", c.set...), 2)
			st, pg := spring(t, r, c.at, explain.SpringFolds{})
			assert.Equal(t, c.state.String(), pg.Facts.State.String())
			assert.Equal(t, c.why.String(), pg.Facts.Why.String())
			assert.Equal(t, c.asks, pg.Question)
			assert.Equal(t, c.checks, pg.Next)
			require.NotEmpty(t, pg.Frees)
			assert.Equal(t, c.frees, pg.Frees[0].Path)
			if c.state == explain.SpringHeldOff {
				assert.Positive(t, st.W, "it passes")
				assert.Equal(t, st.HeldOff, pg.Frees[0].Now)
			}
		})
	}
}

// TestSpringGagPressed: above its pop a gagged valve presses against the gag, with
// what would open it.
func TestSpringGagPressed(t *testing.T) {
	r := ran(t, described(t, "spring-reference", "safety.gag.leaves-lift=0.01 mm"), 8)
	_, pg := spring(t, r, 8, explain.SpringFolds{})
	f := &pg.Facts
	assert.Equal(t, explain.SpringGagged, f.State)
	assert.Greater(t, f.Inlet, f.Parting.Pressure)
	assert.Positive(t, f.Forces.Stop)
	assert.InDelta(t, f.Forces.Net, f.Forces.Stop, 1)
}

// TestSpringHand: a pull a little above what is said parts the faces, a little below
// does not.
func TestSpringHand(t *testing.T) {
	at := []string{"vessel.pressure=31.01325 bar abs", "inflow.mass-flow=0 kg/s"}
	r := ran(t, described(t, "spring-reference", at...), 0.1)
	_, pg := spring(t, r, 0.1, explain.SpringFolds{})
	h := pg.Facts.Hand
	// 10:1 lever: (F0 + m g - Fc - (p - pT) As)/10, As = 1772 mm2, 30 bar.
	assert.InDelta(t, 162.5, h.ToLift, 0.2)
	assert.InDelta(t, 694.1, h.ToLift0, 0.2)
	assert.True(t, h.Can())
	assert.True(t, pg.Facts.Flushes(), "30 bar of 39 are more than three quarters")
	for _, c := range []struct {
		pull  float64
		parts bool
	}{{0.98, false}, {1.02, true}} {
		sc := described(t, "spring-reference", at...)
		r := ran(t, sc, 3, command{1, "safety.lever.pull", pullText(c.pull * h.ToLift / h.Most)})
		parted := false
		for _, e := range r.Sim.Events() {
			parted = parted || e.Name == "simmer"
		}
		assert.Equal(t, c.parts, parted, "%g of it", c.pull)
	}
	low := ran(t, described(t, "spring-reference", "vessel.pressure=20 bar abs", "inflow.mass-flow=0 kg/s"), 0.1)
	_, pg = spring(t, low, 0.1, explain.SpringFolds{})
	assert.False(t, pg.Facts.Flushes())
	assert.False(t, pg.Facts.Hand.Can())
}

// TestSpringDrags: a guide that drags parts the faces later and lets them meet again
// sooner, each by what is said; and friction is said to hold it.
func TestSpringDrags(t *testing.T) {
	set := []string{"safety.disc.friction=150 N", "safety.disc.stick-friction=200 N", "inflow.mass-flow=0.5 kg/s"}
	r := ran(t, described(t, "spring-reference", set...), 40)
	simmer := springAt(t, r, "simmer")
	_, pg := spring(t, r, 0.1, explain.SpringFolds{})
	area := math.Pi / 4 * 0.0475 * 0.0475
	assert.InEpsilon(t, 150/area, pg.Facts.Parting.Friction, 1e-9)
	s, _, err := r.At(simmer)
	require.NoError(t, err)
	// It moves by starts: the last may take it past the point by what sticks more.
	assert.InDelta(t, pg.Facts.Parting.Pressure, s.Springs[0].Inlet, 60/area)
	_, pg = spring(t, r, simmer+0.5, explain.SpringFolds{})
	assert.Equal(t, explain.SpringSimmering, pg.Facts.State)
	assert.Equal(t, explain.FrictionHolds, pg.Facts.Why)
	require.NotEmpty(t, pg.Frees)
	assert.InDelta(t, pg.Facts.Parting.Pressure-300/area, pg.Frees[0].Needed, 1)
	plain := ran(t, described(t, "spring-reference", "inflow.mass-flow=0.5 kg/s"), 12)
	assert.Less(t, springAt(t, plain, "simmer"), simmer)
}

// TestSpringChatters: a vessel so small that each lift empties it far below.
func TestSpringChatters(t *testing.T) {
	r := ran(t, described(t, "spring-reference", "vessel.volume=0.3 m3"), 3)
	_, pg := spring(t, r, 3, explain.SpringFolds{})
	f := &pg.Facts
	assert.Equal(t, explain.SpringChattering, f.State)
	assert.Equal(t, explain.TooMuchValve, f.Why)
	assert.Equal(t, explain.TellChatters, pg.Next[0])
	var pops []float64
	for _, e := range r.Sim.Events() {
		if e.Name == "pop" {
			pops = append(pops, e.T)
		}
	}
	n := len(pops)
	assert.Equal(t, n, f.Pops)
	assert.InDelta(t, (pops[n-1]-pops[n-3])/2, f.Every.Value, 1e-9)
}

// TestSpringBeside: beside a piloted valve each is explained by itself, and the
// pressure that stands behind a valve that blows is shared out.
func TestSpringBeside(t *testing.T) {
	sc := described(t, "boiler-plant-safeties", "safety-1.spring.preload=4000 N")
	sc.Shows = nil
	r := ran(t, sc, 3)
	s, m, err := r.At(3)
	require.NoError(t, err)
	one := explain.Spring(m, s, 0, explain.SpringPastOf(m, r.Sim.Events(), 3, 0))
	two := explain.Spring(m, s, 1, explain.SpringPastOf(m, r.Sim.Events(), 3, 1))
	agree(t, &s.Springs[0], &one)
	agree(t, &s.Springs[1], &two)
	assert.Equal(t, []string{"safety-1", "safety-2"}, []string{one.Valve, two.Valve})
	assert.Contains(t, []explain.SpringStand{explain.SpringAtFullLift, explain.SpringPartly}, one.State)
	assert.Equal(t, explain.SpringTight, two.State)
	st := &s.Springs[0]
	assert.InDelta(t, 0, one.Back.Superimposed, 1)
	assert.InDelta(t, st.Outlet-st.Behind, one.Back.BuiltUp, 1)
	assert.Greater(t, one.Back.BuiltUp, 0.02*bar)
	assert.InDelta(t, one.Back.BuiltUp, one.Back.Raises, 1, "one for one on an unbalanced disc")
	v := explain.Valve(m, s, 0, explain.PastOf(m, r.Sim.Events(), 3, 0))
	assert.Equal(t, explain.Shut, v.State)
}

// TestSpringPastAsTheyCome: events one by one say what all at once do.
func TestSpringPastAsTheyCome(t *testing.T) {
	r := ran(t, described(t, "spring-reference"), 10)
	m := r.Present()
	p := explain.NewSpringPast(m, 0)
	for i := range r.Sim.Events() {
		p.Add(&r.Sim.Events()[i])
	}
	assert.Equal(t, explain.SpringPastOf(m, r.Sim.Events(), 10, 0), p)
	assert.Equal(t, 1, p.Pops)
}

// TestSpringStates: a scenario's words for the end are those of explain.
func TestSpringStates(t *testing.T) {
	var words []string
	for s := range explain.SpringStands {
		words = append(words, explain.SpringStand(s).String())
	}
	assert.Equal(t, words, scenarios.SpringStates())
}

func pullText(share float64) string { return strconv.FormatFloat(share, 'f', 6, 64) }

// TestSpringStarves: on a long inlet pipe it chatters though the vessel has lost
// nothing; the reason is told from that of a vessel that is too small.
func TestSpringStarves(t *testing.T) {
	sc := described(t, "spring-chatter")
	sc.Shows = nil
	r := ran(t, sc, 6)
	_, pg := spring(t, r, 6, explain.SpringFolds{})
	assert.Equal(t, explain.SpringChattering, pg.Facts.State)
	assert.Equal(t, explain.InletStarves, pg.Facts.Why)
	assert.Equal(t, explain.TellChatters, pg.Next[0])
}
