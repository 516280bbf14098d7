package live_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// bisect finds where yes turns from false at no to true at is.
func bisect(no, is float64, steps int, yes func(float64) bool) float64 {
	for range steps {
		mid := math.Sqrt(no * is)
		if yes(mid) {
			is = mid
		} else {
			no = mid
		}
	}
	return math.Sqrt(no * is)
}

// steamAt is dry saturated steam.
func steamAt(t testing.TB, m *plant.Medium, p float64) (s fluid.State) {
	v, u, err := m.Water.PX(p, 1)
	require.NoError(t, err)
	m.At(v, u, &s)
	return s
}

// TestHeaderLiftsDisc: an isolated valve with body and chamber at the pressure
// around it lifts when the outlet overcomes spring and friction on the seat,
//
//	pT - pA > (F0 - m g + Fc)/As,
//
// and the header stands where its exit passes what the neighbour sends,
//
//	A_exit G(pT, h) = A_neighbour G(p_neighbour), h that of the neighbour's steam.
func TestHeaderLiftsDisc(t *testing.T) {
	t.Parallel()
	const area = "header.area=12000 mm2"
	run := func(opening float64) *live.Run {
		sc := boilerWith(t, 20, area, "line.block-valve.opening=0", "relay.selector.position=off", fmt.Sprintf("neighbour.opening=%g", opening))
		return finished(t, sc)
	}
	simulated := bisect(0.05, 1, 12, func(o float64) bool { return len(happened(run(o), "disc-lift")) > 0 })

	sc := boilerWith(t, 20, area)
	m, err := plant.Build(sc.Plant)
	require.NoError(t, err)
	v := m.Valves[0].Spec
	around, _ := plant.Spec[plant.Surroundings](sc.Plant, "surroundings")
	nb, _ := plant.Spec[plant.Neighbour](sc.Plant, "neighbour")
	header, _ := plant.Spec[plant.Tailpipe](sc.Plant, "header")
	as := math.Pi / 4 * v.Seat.Diameter * v.Seat.Diameter
	needs := around.Pressure + (v.Spring.Preload-v.Disc.Mass*m.Gravity+v.Disc.StickFriction)/as
	from := steamAt(t, &m.Medium, nb.Pressure)
	var there fluid.State
	m.Throttle(&from, needs, &there)
	out := header.Coefficient * header.Area * m.Nozzle.Flux(&there, around.Pressure)
	derived := out / (nb.Coefficient * nb.Area * m.Nozzle.Flux(&from, needs))
	assert.InEpsilon(t, derived, simulated, 0.02)
	t.Logf("lifts at pT %.3f bar; neighbour's opening: simulated %.4f, derived %.4f (%+.2f %%)", needs/1e5, simulated, derived, 100*(simulated/derived-1))
}

// TestFilledTooFast: a block valve spun open fills line and body in its travel
// time, the chamber by its bleed and guide only. Against a reduced model of two
// volumes without inertia, friction and walls,
//
//	dmA/dt = W_block(t) - W_in, dmB/dt = W_in, dU/dt = sum W h,
//
// the disc lifting when Ag pB < pA (Ag - As) + pT As - F0 + m g - Fc. It is the
// first crack that fills the line, so what counts is how fast the opening grows.
// On metal that is cold the chamber's steam condenses, and it is filled only
// once its metal is warm: then no travel of ten minutes is slow enough, and the
// block valve has to be cracked open and left there.
func TestFilledTooFast(t *testing.T) {
	t.Parallel()
	base := boilerWith(t, 60, "line.block-valve.opening=0")
	filled := func(travel float64, set ...string) *live.Run {
		sc := boilerWith(t, travel+5, append(set, "line.block-valve.opening=0", "relay.selector.position=off", fmt.Sprintf("line.block-valve.motion.travel-time=%g s", travel))...)
		sc.Record(scenarios.Action{Command: &scenarios.Command{At: 1, Path: "line.block-valve.opening", Value: plant.Value{Number: 1}}})
		return finished(t, sc)
	}
	lifted := func(set ...string) float64 {
		return bisect(600, 0.2, 12, func(travel float64) bool { return len(happened(filled(travel, set...), "disc-lift")) > 0 })
	}
	dry := []string{}
	for _, wall := range []string{"valve.chamber.wall", "valve.body-wall"} {
		dry = append(dry, wall+".inside-conductance=0 W/K", wall+".wet-film.conductance=0 W/K")
	}
	simulated := lifted(append(dry, "valve.body-wall.driven-film.conductance=0 W/K")...)
	assert.NotEmpty(t, happened(filled(600), "disc-lift"), "cold, ten minutes are not enough")

	m, err := plant.Build(base.Plant)
	require.NoError(t, err)
	v := m.Valves[0].Spec
	line, _ := plant.Spec[plant.Line](base.Plant, "line")
	drum := steamAt(t, &m.Medium, 38e5)
	gap := flow.NewClearance(m.Void.(fluid.Viscous), v.Disc.GuideDiameter, v.Guide.Clearance, v.Guide.Length).Turbulent()
	as := math.Pi / 4 * v.Seat.Diameter * v.Seat.Diameter
	ag := math.Pi / 4 * v.Disc.GuideDiameter * v.Disc.GuideDiameter
	big := line.Volume + math.Pi/4*line.Run.Bore*line.Run.Bore*line.Run.Length
	first := steamAt(t, &m.Medium, 1.01325e5)
	lifts := func(travel float64) bool {
		mA, mB := big/first.V, v.Chamber.Volume/first.V
		uA, uB := mA*first.U, mB*first.U
		a, b := first, first
		const dt = 2e-4
		for x := 0.0; x < travel+2 && b.P < 30e5; x += dt {
			w, in := 0.0, 0.0
			if a.P < drum.P {
				w = line.BlockValve.Coefficient * line.BlockValve.Area * math.Min(x/travel, 1) * m.Nozzle.Flux(&drum, a.P)
			}
			if b.P < a.P {
				in = v.Bleed.Coefficient*v.Bleed.Area*m.Nozzle.Flux(&a, b.P) + gap.Flux(&a, b.P)
			}
			mA, uA = mA+(w-in)*dt, uA+(w*drum.H-in*a.H)*dt
			mB, uB = mB+in*dt, uB+in*a.H*dt
			m.At(big/mA, uA/mA, &a)
			m.At(v.Chamber.Volume/mB, uB/mB, &b)
			if ag*b.P < a.P*(ag-as)+1.01325e5*as-v.Spring.Preload+v.Disc.Mass*m.Gravity-v.Disc.StickFriction {
				return true
			}
		}
		return false
	}
	derived := bisect(60, 0.2, 12, lifts)
	t.Logf("travel time of the block valve below which the disc lifts by itself: simulated %.2f s, derived %.2f s (%+.1f %%)", simulated, derived, 100*(simulated/derived-1))
	assert.InEpsilon(t, derived, simulated, 0.05)

	// Cracked open and left.
	cracked := func(opening float64) bool {
		sc := boilerWith(t, 120, "line.block-valve.opening=0", "relay.selector.position=off")
		sc.Record(scenarios.Action{Command: &scenarios.Command{At: 1, Path: "line.block-valve.opening", Value: plant.Value{Number: opening}}})
		return len(happened(finished(t, sc), "disc-lift")) > 0
	}
	assert.False(t, cracked(2e-4))
	assert.True(t, cracked(0.02))
	most := bisect(2e-4, 0.02, 8, cracked)
	t.Logf("cold, cracked open and left: lifts above %.2f %% of its area, %.1f mm2", 100*most, 1e6*most*line.BlockValve.Area)
}

// TestThrottledInlet: sensed at the drum, a block valve that is partly shut costs
// capacity and makes the lift long; sensed behind it, the switch resets as soon
// as the flow has brought the pressure there down, and the valve cycles, if
//
//	p_end = p_1 - (f L/(2 D A^2) v W^2 + damping L W/A) < reset,  W = A_block G(p_drum, p_1) = W_seat(p_end),
//
// the seat's flow found through the line's orifice and seat in series. p_drum is
// its pressure at the lift.
func TestThrottledInlet(t *testing.T) {
	t.Parallel()
	const reset = 35.5e5
	run := func(opening float64, on string) *live.Run {
		return finished(t, reject(boilerWith(t, 60, "switch.reset=35.5 bar abs", "sensor.on="+on, fmt.Sprintf("line.block-valve.opening=%g", opening)), 0.08))
	}
	soon := func(r *live.Run) bool {
		made, back := happened(r, "switch-made"), happened(r, "switch-reset")
		return len(back) > 0 && back[0]-made[0] < 0.6
	}
	simulated := bisect(1, 0.1, 10, func(o float64) bool { return soon(run(o, "line")) })
	up := run(0.15, "drum")
	assert.False(t, soon(up))
	assert.Len(t, happened(up, "disc-lift"), 1, "sensed at the drum it does not cycle")

	sc := boilerWith(t, 60)
	m, err := plant.Build(sc.Plant)
	require.NoError(t, err)
	v := m.Valves[0].Spec
	line, _ := plant.Spec[plant.Line](sc.Plant, "line")
	drum := steamAt(t, &m.Medium, 41e5)
	curtain := 4 * v.Disc.Travel / v.Seat.Diameter
	seat := flow.Seat{Law: m.Nozzle, Voider: m.Void}
	bore := v.Seat.Coefficient * math.Pi / 4 * v.Seat.Diameter * v.Seat.Diameter
	// The flow that the valve takes at the line's end pressure: the body's
	// pressure at which orifice and seat pass the same.
	takes := func(pEnd float64) float64 {
		var end, body fluid.State
		m.Throttle(&drum, pEnd, &end)
		lo, hi := 0.3*pEnd, pEnd
		w := 0.0
		for range 60 {
			mid := 0.5 * (lo + hi)
			m.Throttle(&drum, mid, &body)
			g, _ := seat.Flux(&body, 1.3e5, curtain)
			w = bore * g
			if line.Coefficient*line.Area*m.Nozzle.Flux(&end, mid) > w {
				lo = mid
			} else {
				hi = mid
			}
		}
		return w
	}
	c := &m.Net.Channels[len(m.Net.Channels)-1]
	w := takes(reset)
	var end fluid.State
	m.Throttle(&drum, reset, &end)
	area := math.Pi / 4 * line.Run.Bore * line.Run.Bore
	// Nine joints of a tenth of the pipe lie between the first cell and the last.
	length := 0.9 * line.Run.Length
	p1 := reset + c.Friction*length/(2*c.Diameter*area*area)*end.V*w*w + c.Damping*length*w/area
	derived := w / (line.BlockValve.Coefficient * line.BlockValve.Area * m.Nozzle.Flux(&drum, p1))
	t.Logf("cycles if the block valve is open by less than: simulated %.4f, derived %.4f (%+.2f %%); seat passes %.2f kg/s", simulated, derived, 100*(simulated/derived-1), w)
	assert.InEpsilon(t, derived, simulated, 0.05)
}

// resting is a boiler's valve at rest, with what is needed to work out what flows
// into and out of its chamber at any pressure.
type resting struct {
	m              *plant.Model
	v              *plant.PilotedValve
	body, chamber  fluid.State
	gap            flow.Law
	around, as, ag float64
}

func atRest(t *testing.T, pA float64) *resting {
	t.Helper()
	return atRestWith(t, pA, -1)
}

// atRestWith is atRest with another clearance of the guide, if that is positive.
func atRestWith(t *testing.T, pA, clearance float64) *resting {
	t.Helper()
	m, err := plant.Build(boilerWith(t, 1).Plant)
	require.NoError(t, err)
	v := m.Valves[0].Spec
	gap := v.Guide.Clearance
	if clearance > 0 {
		gap = clearance
	}
	r := &resting{m: m, v: v, body: steamAt(t, &m.Medium, pA), around: 1.01325e5,
		gap: flow.NewClearance(m.Void.(fluid.Viscous), v.Disc.GuideDiameter, gap, v.Guide.Length).Turbulent(),
		as:  math.Pi / 4 * v.Seat.Diameter * v.Seat.Diameter, ag: math.Pi / 4 * v.Disc.GuideDiameter * v.Disc.GuideDiameter}
	return r
}

// liftBelow is pB = (pA (Ag - As) + pT As - F0 + m g - Fc)/Ag.
func (r *resting) liftBelow() float64 {
	return (r.body.P*(r.ag-r.as) + r.around*r.as - r.v.Spring.Preload + r.v.Disc.Mass*r.m.Gravity - r.v.Disc.StickFriction) / r.ag
}

// guide is what the clearance passes into the chamber at pB, bore what the bore
// does for each area.
func (r *resting) guide(pB float64) float64 { return r.gap.Flux(&r.body, pB) }
func (r *resting) bore(pB float64) float64  { return r.m.Nozzle.Flux(&r.body, pB) }

// out is what leaves the chamber at pB through a pilot of an effective area and
// the dump line behind it.
func (r *resting) out(pB, area float64) float64 {
	r.m.Throttle(&r.body, pB, &r.chamber)
	end := r.v.Dump.Coefficient * r.v.Dump.Area
	var line fluid.State
	lo, hi, w := r.around, pB, 0.0
	for range 60 {
		mid := 0.5 * (lo + hi)
		r.m.Throttle(&r.body, mid, &line)
		w = area * r.m.Nozzle.Flux(&r.chamber, mid)
		if w > end*r.m.Nozzle.Flux(&line, r.around) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return w
}

// TestPilotLeakLiftsDisc: the chamber stands where bleed and guide bring what
// the leak takes; the disc lifts by itself once that is LiftBelow.
func TestPilotLeakLiftsDisc(t *testing.T) {
	t.Parallel()
	simulated := 1e-6 * bisect(2, 60, 12, func(mm2 float64) bool {
		return len(happened(finished(t, boilerWith(t, 30, fmt.Sprintf("valve.pilot.leak-area=%g mm2", mm2))), "disc-lift")) > 0
	})
	r := atRest(t, 38e5)
	at := r.liftBelow()
	in := r.v.Bleed.Coefficient*r.v.Bleed.Area*r.bore(at) + r.guide(at)
	derived := bisect(1e-7, 1e-4, 50, func(a float64) bool { return r.out(at, r.v.Pilot.Coefficient*a) > in })
	t.Logf("pilot leak that lifts the disc by itself: simulated %.3f mm2, derived %.3f (%+.1f %%)", 1e6*simulated, 1e6*derived, 100*(simulated/derived-1))
	assert.InEpsilon(t, derived, simulated, 0.05)
}

// TestBleedOutrunsPilot: with a bleed enlarged beyond the point where the open
// pilot's chamber settles at LiftBelow, the disc does not lift.
func TestBleedOutrunsPilot(t *testing.T) {
	t.Parallel()
	simulated := 1e-6 * bisect(40, 2, 12, func(mm2 float64) bool {
		sc := boilerWith(t, 8, fmt.Sprintf("valve.bleed.area=%g mm2", mm2))
		sc.Record(scenarios.Action{Command: &scenarios.Command{At: 1, Path: "relay.selector.position", Value: plant.Value{Word: "open"}}})
		return len(happened(finished(t, sc), "disc-lift")) > 0
	})
	r := atRest(t, 38e5)
	at := r.liftBelow()
	derived := (r.out(at, r.v.Pilot.Coefficient*r.v.Pilot.Area) - r.guide(at)) / (r.v.Bleed.Coefficient * r.bore(at))
	t.Logf("bleed with which an open pilot no longer lifts the disc: simulated %.3f mm2, derived %.3f (%+.1f %%)", 1e6*simulated, 1e6*derived, 100*(simulated/derived-1))
	assert.InEpsilon(t, derived, simulated, 0.05)
}

// TestPilotLeakHoldsOpen, the middle regime: the valve holds at rest and lifts on
// demand, but after a stroke the leaking pilot keeps the chamber below what takes
// the disc off its stop. With a drum that keeps its pressure, body and outlet
// stand still and the limit is where the chamber's steady pressure is DropAbove.
// Near the limit the chamber creeps towards its steady pressure, so that a valve
// that takes half a minute counts as held.
func TestPilotLeakHoldsOpen(t *testing.T) {
	t.Parallel()
	run := func(mm2 float64) *live.Run {
		sc := boilerWith(t, 45, fmt.Sprintf("valve.pilot.leak-area=%g mm2", mm2), "drum.volume=1000 m3", "drum.water-share=0.5")
		for at, to := range map[float64]string{5: "open", 7.5: "auto"} {
			sc.Record(scenarios.Action{Command: &scenarios.Command{At: at, Path: "relay.selector.position", Value: plant.Value{Word: to}}})
		}
		return finished(t, sc)
	}
	simulated := 1e-6 * bisect(0.1, 6, 12, func(mm2 float64) bool {
		r := run(mm2)
		return len(happened(r, "disc-lift")) > 0 && len(happened(r, "disc-seated")) == 0
	})
	held := run(1.05e6 * simulated)
	s := held.Now()
	st := &s.Valves[0]
	at := (st.Above*(st.Disc.GuideArea-st.Disc.SeatArea+st.Disc.FullPhi*st.Disc.SeatArea) + st.Outlet*(1-st.Disc.FullPhi)*st.Disc.SeatArea -
		st.Disc.Preload - st.Disc.Rate*st.Disc.Travel + st.Disc.Weight + st.Disc.Stick) / st.Disc.GuideArea
	r := atRest(t, st.Above)
	n := s.Look.Nodes[held.Present().Valves[0].Body]
	r.m.At(n.V/n.Mass, n.U/n.Mass, &r.body)
	r.around = st.Outlet
	in := r.v.Bleed.Coefficient*r.v.Bleed.Area*r.bore(at) + r.guide(at)
	derived := bisect(1e-8, 1e-4, 50, func(a float64) bool { return r.out(at, r.v.Pilot.Coefficient*a) > in })
	t.Logf("pilot leak that holds a lifted disc open: simulated %.3f mm2, derived %.3f (%+.1f %%), at pA %.2f, pB %.2f bar; B %.3f", 1e6*simulated, 1e6*derived, 100*(simulated/derived-1), st.Above/1e5, st.Below/1e5, st.Below/st.Above)
	assert.InEpsilon(t, derived, simulated, 0.05)
}
