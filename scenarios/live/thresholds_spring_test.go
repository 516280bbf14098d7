package live_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// The faults of spring-loaded valves, on the reference valve with two rings.
func init() {
	for name, study := range map[string]func(t *testing.T) []threshold{
		"gag-left-on":             gagLeftOn,
		"guide-dragging":          guideDragging,
		"lifting-nut-turned-down": func(t *testing.T) []threshold { return heldOff(t, "lifting-nut-turned-down", 0.5e-3) },
		"lower-ring-moved":        func(t *testing.T) []threshold { return foldsMove(t, "lower-ring-moved", 0.5e-3, 8) },
		"safety-debris-stays":     func(t *testing.T) []threshold { return heldOff(t, "safety-debris-stays", 0.05e-3) },
		"safety-inlet-narrow":     safetyInletNarrow,
		"safety-seat-debris":      func(t *testing.T) []threshold { return heldOff(t, "safety-seat-debris", 0.05e-3) },
		"safety-seat-leaks":       safetySeatLeaks,
		"safety-spring-weak":      func(t *testing.T) []threshold { return foldsMove(t, "safety-spring-weak", 150e3, 5) },
		"spring-set-drifted":      springSetDrifted,
		"upper-ring-moved":        func(t *testing.T) []threshold { return foldsMove(t, "upper-ring-moved", 22e-3, 8) },
	} {
		studies[name] = study
	}
}

// reference is the reference valve on its vessel, for trials.
func reference(t *testing.T, until float64, set ...string) (*scenarios.Scenario, *plant.SpringValve) {
	t.Helper()
	sc := stand(t, "spring-reference", until, set...)
	sc.Shows = nil
	v, ok := plant.Spec[plant.SpringValve](sc.Plant, "safety")
	require.True(t, ok)
	return sc, v
}

// springEnd runs a scenario to its end.
func springEnd(t *testing.T, sc *scenarios.Scenario) *live.Run {
	t.Helper()
	r, err := live.Start(sc, live.Options{RelTol: rtol})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

// firstLift is the first lift of the reference valve with a fault; "" for none.
func firstLift(t *testing.T, name string, severity float64) live.SpringLift {
	t.Helper()
	sc, _ := reference(t, 90, "vessel.pressure=38.5 bar abs", "inflow.mass-flow=1 kg/s")
	if name != "" {
		sc = with(sc, name, severity, 0)
	}
	lifts := live.SpringLifts(springEnd(t, sc), "safety")
	require.NotEmpty(t, lifts, name)
	require.True(t, lifts[0].Reseated, name)
	return lifts[0]
}

// Gas of the reference, and what it passes at most per area and pressure:
// C(k)/sqrt(R T).
const (
	springK   = 1.3
	springAir = 1.01325e5 // Pa
)

var springFlux = math.Sqrt(springK*math.Pow(2/(springK+1), (springK+1)/(springK-1))) / math.Sqrt(383*523)

// springSetDrifted: the faces part, and the valve pops, by the lost force over the
// area of the seat lower.
func springSetDrifted(t *testing.T) []threshold {
	_, v := reference(t, 1)
	seat, _, _ := v.Areas()
	sound, drifted := firstLift(t, "", 0), firstLift(t, "spring-set-drifted", 6850)
	derived := (v.Spring.Preload - 6850) / seat / 1e5
	return []threshold{
		{what: "faces part lower by", unit: "bar", derived: derived, simulated: (sound.Simmer - drifted.Simmer) / 1e5, band: within(0.1)},
		{what: "pops lower by", unit: "bar", derived: derived, simulated: (sound.Pop - drifted.Pop) / 1e5, band: within(1)},
	}
}

// guideDragging: the friction has to be overcome besides, over the area of the
// seat.
func guideDragging(t *testing.T) []threshold {
	_, v := reference(t, 1)
	seat, _, _ := v.Areas()
	sound, drags := firstLift(t, "", 0), firstLift(t, "guide-dragging", 150)
	return []threshold{{what: "pops higher by", unit: "bar", derived: 150 / seat / 1e5, simulated: (drags.Pop - sound.Pop) / 1e5, band: within(5),
		why: "the disc sticks on its way from fold to fold"}}
}

// gagLeftOn: with the pressure of the vessel far above the set pressure the valve
// passes the ring that the gag leaves, and nothing pops.
func gagLeftOn(t *testing.T) []threshold {
	sc, v := reference(t, 5, "vessel.pressure=60 bar abs", "inflow.mass-flow=0 kg/s")
	r := springEnd(t, with(sc, "gag-left-on", 1e-5, 0))
	assert.Nil(t, first(r, "pop"), "a gagged valve lifts")
	s := &r.Now().Springs[0]
	return []threshold{{what: "flow at 60 bar", unit: "g/s", derived: 1e3 * v.Seat.Coefficient * math.Pi * v.Seat.Diameter * 1e-5 * s.Inlet * springFlux,
		simulated: 1e3 * s.W, band: within(1)}}
}

// heldOff: something holds the disc off its seat by h. The faces give until their
// force balances the rest, x = h - l ln(N/Fc) with N = F0 + k x + m g - (p - pT) As,
// and the ring round the seat is choked.
func heldOff(t *testing.T, name string, h float64) []threshold {
	sc, v := reference(t, 5, "vessel.pressure=31 bar abs", "inflow.mass-flow=0 kg/s")
	s := &springEnd(t, with(sc, name, h, 0)).Now().Springs[0]
	seat, _, _ := v.Areas()
	x := h
	for range 50 {
		n := v.Spring.Preload + v.Spring.Rate*x + v.Disc.Mass*9.81 - (s.Inlet-springAir)*seat
		x = h - v.Seat.Length*math.Log(n/v.Seat.Force)
	}
	return []threshold{
		{what: "held off by", unit: "mm", derived: 1e3 * x, simulated: 1e3 * s.Lift, band: within(1)},
		{what: "flow at 31 bar", unit: "g/s", derived: 1e3 * v.Seat.Coefficient * math.Pi * v.Seat.Diameter * x * s.Inlet * springFlux,
			simulated: 1e3 * s.W, band: within(1)},
	}
}

// safetySeatLeaks: the leak of the shut seat is choked.
func safetySeatLeaks(t *testing.T) []threshold {
	sc, v := reference(t, 5, "vessel.pressure=31 bar abs", "inflow.mass-flow=0 kg/s")
	s := &springEnd(t, with(sc, "safety-seat-leaks", 5e-6, 0)).Now().Springs[0]
	return []threshold{{what: "flow at 31 bar", unit: "g/s", derived: 1e3 * v.Seat.Coefficient * 5e-6 * s.Inlet * springFlux, simulated: 1e3 * s.W, band: within(0.5)}}
}

// safetyInletNarrow: with the valve fully open the pipe loses half a velocity head
// at its sharp edge and its friction. What the stream has for its speed is not lost
// on the way into the nozzle.
func safetyInletNarrow(t *testing.T) []threshold {
	sc, v := reference(t, 4, "vessel.pressure=46 bar abs", "inflow.mass-flow=10.8 kg/s")
	v.Inlet = &plant.Run{Length: 0.3, Bore: 0.12, Friction: 0.02, Cells: 1}
	s := &springEnd(t, with(sc, "safety-inlet-narrow", 0.1, 0)).Now().Springs[0]
	area := math.Pi / 4 * 0.1 * 0.1
	rho := s.Inlet / (383 * s.InletFluid.Temperature)
	return []threshold{{what: "lost in the inlet", unit: "bar", derived: (0.5 + 0.5*0.02*0.3/0.1) * s.W * s.W / (2 * rho * area * area) / 1e5,
		simulated: (s.Vessel - s.Inlet) / 1e5, band: within(3), why: "half of the friction lies beyond the middle of the pipe, which is its only cell"}}
}

// foldsMove holds the shifts of pop and reseat by a fault against those of the
// folds in closed form, see foldsOf; where a fold moves by less than a hundredth
// of a bar it is held to that.
func foldsMove(t *testing.T, name string, severity, band float64) []threshold {
	sc, v := reference(t, 1)
	faulty, _, err := fault.Apply(sc.Plant, fault.Entry{Name: name, Severity: &severity})
	require.NoError(t, err)
	w, _ := plant.Spec[plant.SpringValve](faulty, "safety")
	pop, reseat := foldsOf(v)
	pops, reseats := foldsOf(w)
	sound, got := firstLift(t, "", 0), firstLift(t, name, severity)
	why := "at a small lift, or below a wide upper ring, not every opening is choked; and the run reseats a little after the fold"
	out := []threshold{{what: "reseats higher by", unit: "bar", derived: (reseats - reseat) / 1e5, simulated: (got.Reseat - sound.Reseat) / 1e5, band: within(band), why: why}}
	if math.Abs(pops-pop) < 0.015e5 {
		assert.InDelta(t, (pops-pop)/1e5, (got.Pop-sound.Pop)/1e5, 0.01, "%s: pop", name)
		return out
	}
	return append(out, threshold{what: "pops higher by", unit: "bar", derived: (pops - pop) / 1e5, simulated: (got.Pop - sound.Pop) / 1e5, band: within(5),
		why: "the closed form takes the way over the ring for that of the shut valve"})
}

// foldsOf are the pressures at which the reference valve pops and reseats, in closed
// form. It pops where what the huddling chamber adds, beta x^2, grows faster than
// the spring and what is left of the force between the faces:
//
//	beta = (Ah - As)(1 - b)/2 (p1^2/pT) (Cd pi ds/A2(0))^2
//	(Fc/l) exp(-x/l) + k = 2 beta x
//
// and reseats at the lowest, over the lift, of the pressure that holds it up while
// all openings are choked.
func foldsOf(v *plant.SpringValve) (pop, reseat float64) {
	as, ah, au := v.Areas()
	f0, k, l, fc, length := v.Spring.Preload+v.Disc.Mass*9.81, v.Spring.Rate, v.LowerRing, v.Seat.Force, v.Seat.Length
	b := math.Pow(2/(springK+1), springK/(springK-1))
	gap := func(x float64) float64 {
		return l.Coefficient * (math.Pi*l.Diameter*(l.Gap+x) + l.Notches) / math.Sqrt(1-l.Carried*x/(x+l.CarryLift))
	}
	ring := v.Seat.Coefficient * math.Pi * v.Seat.Diameter
	p1 := springAir + (f0-fc)/as
	beta := (ah - as) * (1 - b) / 2 * p1 * p1 / springAir * math.Pow(ring/gap(0), 2)
	lo, hi := 0.0, 1e-3
	for range 60 {
		if x := (lo + hi) / 2; fc/length*math.Exp(-x/length)+k > 2*beta*x {
			lo = x
		} else {
			hi = x
		}
	}
	pop = springAir + (f0+k*lo-fc*math.Exp(-lo/length)-beta*lo*lo)/as
	a0 := math.Pi / 4 * v.Nozzle.Bore * v.Nozzle.Bore
	a3 := v.UpperRing.Coefficient * math.Pi * v.UpperRing.Diameter * v.UpperRing.Height
	reseat = math.Inf(1)
	for x := 1e-3; x < v.Disc.Travel; x += 1e-5 {
		a1 := ring * x / math.Pow(1+math.Pow(ring*x/(v.Nozzle.Coefficient*a0), 6), 1.0/6)
		share := as + v.Nozzle.Momentum*a0*impulseOf(a1/a0) + (ah-as)*a1/gap(x) + (au-ah)*a1/a3
		reseat = math.Min(reseat, (f0+k*x+springAir*au)/share)
	}
	return pop, reseat
}

// impulseOf is (p + rho v^2)/p1 - 1 in a nozzle that passes a share q of its choked
// flow.
func impulseOf(q float64) float64 {
	lo, hi := 0.0, 1.0
	for range 60 {
		if m := (lo + hi) / 2; m*math.Pow(2/(springK+1)*(1+(springK-1)/2*m*m), -(springK+1)/(2*(springK-1))) < q {
			lo = m
		} else {
			hi = m
		}
	}
	return (1+springK*lo*lo)*math.Pow(1+(springK-1)*lo*lo/2, -springK/(springK-1)) - 1
}
