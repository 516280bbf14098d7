package live_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// strokedOnce strokes the valve from 5 to 7.5 s on a drum so large that its
// pressure stays.
func strokedOnce(t *testing.T, until float64, set ...string) *live.Run {
	t.Helper()
	sc := boilerWith(t, until, append(set, "drum.volume=1000 m3")...)
	for at, to := range map[float64]string{5: "open", 7.5: "auto"} {
		sc.Record(scenarios.Action{Command: &scenarios.Command{At: at, Path: "relay.selector.position", Value: plant.Value{Word: to}}})
	}
	return finished(t, sc)
}

// TestPilotSlow: with so much damping that its mass does not count, the plunger
// falls as
//
//	c ds/dt = pull(i, s) - (Fp0 + kp s) - Ap (pB - pD) (1 - s/smax),
//
// integrated with current and pressures as the run has them: the coil lets go of
// it slowly, and while it falls the chamber fills again and pushes.
func TestPilotSlow(t *testing.T) {
	t.Parallel()
	sc := boilerWith(t, 1)
	valve, _ := plant.Spec[plant.PilotedValve](sc.Plant, "valve")
	pl, k := valve.Plunger, valve.Coil
	var table string
	for _, c := range []float64{500, 1000, 2000, 5000} {
		r := strokedOnce(t, 60, fmt.Sprintf("valve.plunger.damping=%g N s/m", c))
		drop := happened(r, "pilot-drop")[0]
		simulated := happened(r, "pilot-shut")[0] - drop
		const dt = 2e-4
		derived, s := 0.0, pl.Stroke
		for ; s > 0 && derived < 5; derived += dt {
			snap, _, err := r.At(drop + derived)
			require.NoError(t, err)
			v := &snap.Valves[0]
			gap := 1 + (pl.Stroke-s)/k.Gap
			pull := k.PullFactor * v.Coil.Current * v.Coil.Current / (gap * gap)
			s += dt / c * (pull - pl.Preload - pl.SpringRate*s - valve.Pilot.Area*(v.Below-v.Dump)*(1-s/pl.Stroke))
		}
		late := happened(r, "disc-seated")[0] - 7.5
		table += fmt.Sprintf("\n  %4.0f N s/m: pilot falls in %.3f s, derived %.3f (%+.1f %%); seated %.3f s after the release", c, simulated, derived, 100*(simulated/derived-1), late)
		assert.InEpsilon(t, derived, simulated, 0.05)
		assert.Greater(t, late, simulated)
	}
	t.Log(table)
}

// TestBleedPluggedRefill: with the bore shut the chamber fills through the guide
// alone, from dumped to where the disc leaves its stop:
//
//	dm/dt = W_guide(pA, pB), dU/dt = W_guide h_A,
//
// against a run whose chamber has no metal. The guide's flow goes with the cube of
// its clearance, and so does the delay's inverse, nearly.
func TestBleedPluggedRefill(t *testing.T) {
	t.Parallel()
	var table string
	for _, um := range []float64{20, 14, 10, 7} {
		r := strokedOnce(t, 120, "valve.bleed.area=0 mm2", fmt.Sprintf("valve.guide.clearance=%g um", um),
			"valve.chamber.wall.inside-conductance=0 W/K", "valve.chamber.wall.wet-film.conductance=0 W/K")
		shut, leaves := happened(r, "pilot-shut")[0], happened(r, "disc-leaves-stop")
		require.NotEmpty(t, leaves)
		s, m, err := r.At(shut)
		require.NoError(t, err)
		v := m.Valves[0]
		look := s.Look.Nodes
		var body, chamber fluid.State
		m.At(look[v.Body].V/look[v.Body].Mass, look[v.Body].U/look[v.Body].Mass, &body)
		gap := flow.NewClearance(m.Void.(fluid.Viscous), v.Spec.Disc.GuideDiameter, v.Spec.Guide.Clearance, v.Spec.Guide.Length).Turbulent()
		st := &s.Valves[0]
		goal := (st.Above*(st.Disc.GuideArea-st.Disc.SeatArea+st.Disc.FullPhi*st.Disc.SeatArea) + st.Outlet*(1-st.Disc.FullPhi)*st.Disc.SeatArea -
			st.Disc.Preload - st.Disc.Rate*st.Disc.Travel + st.Disc.Weight + st.Disc.Stick) / st.Disc.GuideArea
		size, mass, u := look[v.Chamber].V, look[v.Chamber].Mass, look[v.Chamber].U
		derived := 0.0
		for dt := 1e-3 * (leaves[0] - shut); ; derived += dt {
			m.At(size/mass, u/mass, &chamber)
			if chamber.P >= goal {
				break
			}
			w := gap.Flux(&body, chamber.P)
			mass, u = mass+w*dt, u+w*body.H*dt
		}
		simulated := leaves[0] - shut
		table += fmt.Sprintf("\n  guide %2.0f um: leaves its stop %.3f s after the pilot has shut, derived %.3f (%+.1f %%)", um, simulated, derived, 100*(simulated/derived-1))
		assert.InEpsilon(t, derived, simulated, 0.05)
	}
	t.Log(table)
}

// TestBackPressureTakesLift: with the pilot open the chamber empties into the
// outlet, and the disc is held at its stop only while
//
//	(pA - pT)(Ag - As + phi As) > F0 + k x - m g + (pB - pT) Ag,
//
// all as they are. The header is so narrow here that the valve's own flow raises
// its outlet; the limit is looked for in that header's area.
func TestBackPressureTakesLift(t *testing.T) {
	t.Parallel()
	run := func(mm2 float64) *live.Run {
		sc := boilerWith(t, 12, "drum.volume=1000 m3", fmt.Sprintf("header.area=%g mm2", mm2), "header.volume=20 L")
		sc.Record(scenarios.Action{Command: &scenarios.Command{At: 1, Path: "relay.selector.position", Value: plant.Value{Word: "open"}}})
		return finished(t, sc)
	}
	stays := func(r *live.Run) bool { return r.Now().Valves[0].Disc.Hold == plant.HeldOpen }
	limit := bisect(200, 20000, 12, func(mm2 float64) bool { return stays(run(mm2)) })
	at := run(1.01 * limit)
	require.True(t, stays(at))
	v := &at.Now().Valves[0]
	d := &v.Disc
	// The margin at the limit, as a share of what the spring asks for.
	pushes := (v.Above - v.Outlet) * (d.GuideArea - d.SeatArea + d.Phi*d.SeatArea)
	holds := d.Preload + d.Rate*d.Travel - d.Weight + (v.Below-v.Outlet)*d.GuideArea
	t.Logf("full lift is lost with a header below %.0f mm2: pA %.2f, pT %.2f, pB %.2f bar; pushes %.0f N, holds %.0f N, friction %.0f N", limit, v.Above/1e5, v.Outlet/1e5, v.Below/1e5, pushes, holds, d.Stick)
	assert.InDelta(t, holds-d.Stick, pushes, 15, "N")
}
