package fault

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
)

// The gas and the surroundings of the vessel with a spring-loaded valve.
const (
	sprungK, sprungR, sprungT = 1.3, 383.0, 523.0
	sprungAir                 = 1.01325e5
)

// sprung is a vessel of gas with the reference valve with two rings, made to
// have every part that a fault befalls.
func sprung() *plant.Plant {
	return &plant.Plant{Parts: []plant.Part{
		{Name: "gas", Kind: "ideal-gas", Spec: &plant.Gas{HeatCapacityRatio: sprungK, GasConstant: sprungR, Viscosity: 18e-6}},
		{Name: "site", Kind: "site", Spec: &plant.Site{Gravity: 9.81}},
		{Name: "air", Kind: "surroundings", Spec: &plant.Surroundings{Pressure: sprungAir, Temperature: 300}},
		{Name: "vessel", Kind: "vessel", Spec: &plant.Vessel{Volume: 20, Pressure: 40e5, Temperature: sprungT}},
		{Name: "safety", Kind: "spring-valve", Spec: &plant.SpringValve{
			On: "vessel", Draws: "all", Outlet: "air",
			Inlet:  &plant.Run{Length: 0.3, Bore: 0.06, Friction: 0.02, Cells: 2},
			Nozzle: plant.Nozzle{Bore: 0.045, Coefficient: 0.975, Momentum: 0.70},
			Seat: plant.SpringSeat{Diameter: 0.0475, Coefficient: 0.85, Force: 142, Length: 4e-6, Restitution: 0.3,
				Debris: &plant.Debris{Washes: "yes"}},
			LowerRing: &plant.LowerRing{Diameter: 0.052, Gap: 2.5e-3, Notches: 15e-6, Coefficient: 0.88, Carried: 0.72, CarryLift: 5.5e-3, Pitch: 5e-5},
			UpperRing: &plant.UpperRing{Diameter: 0.062, Height: 26e-3, Coefficient: 0.90, Pitch: 5e-5},
			Disc:      plant.SpringDisc{Mass: 4, Travel: 14e-3, Damping: 60, Restitution: 0.3, HoldSpeed: 1e-3},
			Spring:    plant.Spring{Rate: 180e3, Preload: 7044},
			Lever:     &plant.Lever{Ratio: 10, Force: 300, Time: 0.3},
			Gag:       &plant.Gag{Leaves: 1},
		}},
	}}
}

// folds are what the statics of a spring-loaded valve give: pressures at the
// nozzle, Pa absolute, at which its faces part, it pops and it reseats.
type folds struct{ parts, pops, reseats float64 }

// statics follows the equilibria of the plant's valve over the lift: the pressure
// at which the forces are balanced, found by halving, first to its highest, then
// to its lowest beyond.
func statics(t *testing.T, p *plant.Plant) folds {
	t.Helper()
	require.Empty(t, p.Check())
	m, err := plant.Build(p)
	require.NoError(t, err)
	v, _ := plant.Spec[plant.SpringValve](p, "safety")
	air, _ := plant.Spec[plant.Surroundings](p, "air")
	way := m.PastDisc(v, sprungAir)
	at := func(x float64) float64 {
		holds := v.Spring.Preload + v.Spring.Rate*x + v.Disc.Mass*9.81 - v.Seat.Force*math.Exp(-x/v.Seat.Length)
		lo, hi := air.Pressure, 100e5
		for range 50 {
			mid := (lo + hi) / 2
			var s fluid.State
			m.At(m.Gas.Volume(mid, sprungT), m.Gas.Energy(sprungT), &s)
			var q flow.Past
			way.At(&s, air.Pressure, x, &q)
			if q.Force < holds {
				lo = mid
			} else {
				hi = mid
			}
		}
		return (lo + hi) / 2
	}
	f := folds{parts: at(0)}
	x := 1e-8
	for next := at(x); next >= f.pops && x < v.Travel(); next = at(x) {
		f.pops = next
		x *= 1.02
	}
	f.reseats = f.pops
	for ; x < v.Travel(); x *= 1.02 {
		f.reseats = min(f.reseats, at(x))
	}
	return f
}

// struck is the plant with a fault, of that severity where one is given.
func struck(t *testing.T, name string, severity ...float64) *plant.Plant {
	t.Helper()
	e := Entry{Name: name}
	if len(severity) > 0 {
		e.Severity = &severity[0]
	}
	q, _, err := Apply(sprung(), e)
	require.NoError(t, err)
	return q
}

// closed are the folds in closed form, while what passes is choked. With beta =
// (Ah - As)(1 - b)/2 (p1^2/pb) (Cd pi ds/A2)^2 the valve pops where
// Fc/sigma exp(-x/sigma) + k = 2 beta x, at the pressure
// (F0 + m g + k x - Fc exp(-x/sigma) - beta x^2)/As above the surroundings; it
// reseats at the lowest over the lift of
// (F0 + k x + m g + pb Au)/(As + eta A0 phi + (Ah - As) A1/A2 + (Au - Ah) A1/A3).
func closed(p *plant.Plant) folds {
	v, _ := plant.Spec[plant.SpringValve](p, "safety")
	air, _ := plant.Spec[plant.Surroundings](p, "air")
	as, ah, au := v.Areas()
	f0, k, fc, sigma, pb := v.Spring.Preload+v.Disc.Mass*9.81, v.Spring.Rate, v.Seat.Force, v.Seat.Length, air.Pressure
	b := math.Pow(2/(sprungK+1), sprungK/(sprungK-1))
	l := v.LowerRing
	gap := func(x float64) float64 {
		carried := l.Carried * x / (x + l.CarryLift)
		return l.Coefficient * (math.Pi*l.Diameter*(l.Gap+x) + l.Notches) / math.Sqrt(1-carried)
	}
	out := folds{parts: pb + (f0-fc)/as}
	p1 := out.parts
	per := v.Seat.Coefficient * math.Pi * v.Seat.Diameter / gap(0)
	beta := (ah - as) * (1 - b) / 2 * p1 * p1 / pb * per * per
	lo, hi := 0.0, 1e-3
	for range 100 {
		if x := (lo + hi) / 2; fc/sigma*math.Exp(-x/sigma)+k > 2*beta*x {
			lo = x
		} else {
			hi = x
		}
	}
	out.pops = pb + (f0+k*lo-fc*math.Exp(-lo/sigma)-beta*lo*lo)/as
	a0 := math.Pi / 4 * v.Nozzle.Bore * v.Nozzle.Bore
	a3 := v.UpperRing.Coefficient * math.Pi * v.UpperRing.Diameter * v.UpperRing.Height
	out.reseats = math.Inf(1)
	for x := 0.5e-3; x < v.Disc.Travel; x += 1e-5 {
		ac := v.Seat.Coefficient * math.Pi * v.Seat.Diameter * x
		a1 := ac / math.Pow(1+math.Pow(ac/(v.Nozzle.Coefficient*a0), 6), 1.0/6)
		share := as + v.Nozzle.Momentum*a0*impulse(a1/a0) + (ah-as)*a1/gap(x) + (au-ah)*a1/a3
		out.reseats = min(out.reseats, (f0+k*x+pb*au)/share)
	}
	return out
}

// impulse is (1 + k M^2)(1 + (k-1) M^2/2)^(-k/(k-1)) - 1 at the Mach number below
// one at which a share q of the choked flow passes.
func impulse(q float64) float64 {
	lo, hi := 0.0, 1.0
	for range 60 {
		mach := (lo + hi) / 2
		if mach*math.Pow(2/(sprungK+1)*(1+(sprungK-1)/2*mach*mach), -(sprungK+1)/(2*(sprungK-1))) < q {
			lo = mach
		} else {
			hi = mach
		}
	}
	m2 := lo * lo
	return (1+sprungK*m2)*math.Pow(1+(sprungK-1)*m2/2, -sprungK/(sprungK-1)) - 1
}

// TestSpringStaticsAgainstClosedForms: what a fault moves in the statics is what
// it moves in closed form, with its sign; pressures within 0.02 bar at the pop.
func TestSpringStaticsAgainstClosedForms(t *testing.T) {
	const bar = 1e5
	sound := statics(t, sprung())
	paper := closed(sprung())
	assert.InDelta(t, 40.00, (sound.pops-sprungAir)/bar, 0.02, "the reference valve's pop")
	assert.InDelta(t, 4.3, 100*(sound.pops-sound.reseats)/40e5, 0.1, "its blowdown")
	for _, c := range []struct {
		fault            string
		severity         float64
		pops, reseats    float64 // bar, in which way they move: signs alone
		within, reseated float64 // bar, against the closed form's shift
	}{
		{"lower-ring-moved", 0.5e-3, -1, -1, 0.02, 0.15},
		{"lower-ring-moved", 6e-3, +1, +1, 0.02, 0.15},
		{"upper-ring-moved", 20e-3, 0, -1, 0.001, 0.15},
		{"upper-ring-moved", 45e-3, 0, +1, 0.001, 0.3},
		{"safety-spring-weak", 150e3, -1, -1, 0.02, 0.1},
		{"spring-set-drifted", 6850, -1, -1, 0.01, 0.05},
		{"spring-set-drifted", 7200, +1, +1, 0.01, 0.05},
	} {
		p := struck(t, c.fault, c.severity)
		got, want := statics(t, p), closed(p)
		t.Logf("%s %g: parts %.3f, pops %.3f (on paper %.3f), reseats %.3f (%.3f) bar", c.fault, c.severity,
			got.parts/bar, got.pops/bar, want.pops/bar, got.reseats/bar, want.reseats/bar)
		assert.InDelta(t, want.parts/bar, got.parts/bar, 1e-6, "%s: parts", c.fault)
		moved, asked := (got.pops-sound.pops)/bar, (want.pops-paper.pops)/bar
		assert.InDelta(t, asked, moved, c.within, "%s %g: pop", c.fault, c.severity)
		if c.pops == 0 {
			assert.InDelta(t, 0, moved, c.within, "%s: pop", c.fault)
		} else {
			assert.Positive(t, moved*c.pops, "%s %g: pop", c.fault, c.severity)
		}
		moved, asked = (got.reseats-sound.reseats)/bar, (want.reseats-paper.reseats)/bar
		assert.InDelta(t, asked, moved, c.reseated, "%s %g: reseat", c.fault, c.severity)
		assert.Positive(t, moved*c.reseats, "%s %g: reseat", c.fault, c.severity)
	}
}

// TestSetMovesByForceOverSeat: a spring that has lost force pops by that over the
// seat's area lower; friction holds it shut by as much longer.
func TestSetMovesByForceOverSeat(t *testing.T) {
	seat := math.Pi / 4 * 0.0475 * 0.0475
	sound, drifted := statics(t, sprung()), statics(t, struck(t, "spring-set-drifted", 6750))
	assert.InEpsilon(t, (7044-6750)/seat, sound.parts-drifted.parts, 1e-9)
	assert.InEpsilon(t, (7044-6750)/seat, sound.pops-drifted.pops, 0.01)
}

// TestBackPressureOnAnUnbalancedDisc: the faces part later by all of it, and the
// valve pops later by that and a little more, because less is gathered below its
// rings; with bellows as large as the seat there is that little alone.
func TestBackPressureOnAnUnbalancedDisc(t *testing.T) {
	for _, c := range []struct{ bellows, share float64 }{{0, 1}, {0.0475 / math.Sqrt2, 0.5}, {0.0475, 0}} {
		p, q := sprung(), struck(t, "back-pressure", 4e5)
		for _, with := range []*plant.Plant{p, q} {
			if v, _ := plant.Spec[plant.SpringValve](with, "safety"); c.bellows > 0 {
				v.Bellows = &plant.Bellows{Diameter: c.bellows, Vent: "air"}
			}
		}
		a, b := statics(t, p), statics(t, q)
		rise := 4e5 - sprungAir
		assert.InDelta(t, c.share*rise, b.parts-a.parts, 1, "bellows of %g m", c.bellows)
		more := (b.pops - a.pops) - c.share*rise
		assert.Greater(t, more, 0.0, "bellows of %g m", c.bellows)
		assert.Less(t, more, 0.04*rise, "bellows of %g m", c.bellows)
	}
}

// TestWhatPassesTheShutSeat: leak, scale and nut pass what an opening of their
// area does: W = Cd A p C(k)/sqrt(R T), the flow past a ring choked.
func TestWhatPassesTheShutSeat(t *testing.T) {
	c := math.Sqrt(sprungK * math.Pow(2/(sprungK+1), (sprungK+1)/(sprungK-1)))
	perArea := 40e5 * c / math.Sqrt(sprungR*sprungT)
	ring := func(x float64) float64 { return 0.85 * math.Pi * 0.0475 * x }
	for _, f := range []struct {
		name string
		lift func(v *plant.SpringValve) float64
		area float64
	}{
		{"safety-seat-leaks", func(*plant.SpringValve) float64 { return 0 }, 0.85 * 5e-6},
		{"safety-seat-debris", func(v *plant.SpringValve) float64 { return v.Seat.Debris.Size }, ring(0.05e-3)},
		{"safety-debris-stays", func(v *plant.SpringValve) float64 { return v.Seat.Debris.Size }, ring(0.05e-3)},
		{"lifting-nut-turned-down", func(v *plant.SpringValve) float64 { return v.Lever.Nut }, ring(0.5e-3)},
		{"gag-left-on", func(v *plant.SpringValve) float64 { return v.Travel() }, ring(1e-5)},
	} {
		p := struck(t, f.name)
		m, err := plant.Build(p)
		require.NoError(t, err)
		v, _ := plant.Spec[plant.SpringValve](p, "safety")
		var s fluid.State
		m.At(m.Gas.Volume(40e5, sprungT), m.Gas.Energy(sprungT), &s)
		var q flow.Past
		m.PastDisc(v, sprungAir).At(&s, sprungAir, f.lift(v), &q)
		assert.InEpsilon(t, f.area*perArea, q.W, 1e-4, f.name)
	}
}

// TestGagHoldsWhateverThePressure: the disc stops where the gag does.
func TestGagHoldsWhateverThePressure(t *testing.T) {
	v, _ := plant.Spec[plant.SpringValve](struck(t, "gag-left-on"), "safety")
	assert.Equal(t, 1e-5, v.Travel())
	v, _ = plant.Spec[plant.SpringValve](sprung(), "safety")
	assert.Equal(t, 14e-3, v.Travel(), "off, it leaves all of it")
}
