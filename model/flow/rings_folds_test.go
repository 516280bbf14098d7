package flow_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/flow"
)

// TestPopFold: near the seat the curtain's flow through the whole gap, A20, lifts
// the chamber's pressure by pb C^2/2 (A1 p1/(A20 pb))^2, small differences of
// pressure being as those of a liquid (derived). That adds beta x^2 to the force,
//
//	beta = (Ah - As) C^2/2 p1^2/pb (Cdc pi ds/A20)^2
//
// and the fold, where the pressure of equilibrium is highest, lies where
//
//	(Fc0/l) exp(-x/l) + k = 2 beta x, P As = F0 + m g + k x - Fc - beta x^2
//
// It holds while the chamber's pressure is within some tenths of pb.
func TestPopFold(t *testing.T) {
	law := flow.NewNozzle(&trialGas)
	s := &twoRingSpring
	area := func(d float64) float64 { return math.Pi / 4 * d * d }
	as, ah := area(47.5e-3), area(52e-3)
	for _, gap := range []float64{1, 1.5, 2.5, 4} {
		way := flow.NewRings(twoRings(law, gap*1e-3, 45e-3)).Remembering()
		f := s.scan(way, trialAt)
		a20 := 0.88 * (math.Pi*52e-3*gap*1e-3 + 15e-6)
		c, p1 := flow.ChokedFactor(1.3), 40e5+sea
		beta := (ah - as) * c * c / 2 * p1 * p1 / sea * math.Pow(0.85*math.Pi*47.5e-3/a20, 2)
		lo, hi := 0.0, 1e-3
		for range 60 {
			x := (lo + hi) / 2
			if s.faces(x)/s.length+s.rate > 2*beta*x {
				lo = x
			} else {
				hi = x
			}
		}
		pop := (s.holds(lo) - beta*lo*lo) / as / 1e5
		t.Logf("gap %.1f mm: pop %.3f bar at %.4f mm, closed form %.3f at %.4f", gap, f.pop, f.popLift*1e3, pop, lo*1e3)
		assert.InDelta(t, pop, f.pop, 0.015)
		assert.InEpsilon(t, lo, f.popLift, 0.15)
	}
}

// TestReseatFold: with gap and way out choked, ph = p1 A1/A2 and pu = p1 A1/A3, so
// that every part of the force is a share of p1, and the pressure of equilibrium,
// absolute, is
//
//	(F0 + k x + m g + pb Au)/(As + eta A0 phi(A1/A0) + (Ah - As) A1/A2 + (Au - Ah) A1/A3)
//
// whose least value is the fold (derived). phi by Mach number.
func TestReseatFold(t *testing.T) {
	law := flow.NewNozzle(&trialGas)
	s := &twoRingSpring
	const k = 1.3
	area := func(d float64) float64 { return math.Pi / 4 * d * d }
	a0, as, ah, au := area(45e-3), area(47.5e-3), area(52e-3), area(62e-3)
	for _, c := range []struct{ gap, height float64 }{{1, 26}, {1, 30}, {2.5, 26}, {2.5, 30}} {
		f := s.scan(flow.NewRings(twoRings(law, c.gap*1e-3, c.height*1e-3)).Remembering(), trialAt)
		best, at, choked := math.Inf(1), 0.0, false
		for x := 0.5e-3; x < s.stop; x += 1e-5 {
			ac := 0.85 * math.Pi * 47.5e-3 * x
			a1 := ac / math.Pow(1+math.Pow(ac/(0.975*a0), 6), 1./6)
			a2 := 0.88 * (math.Pi*52e-3*(c.gap*1e-3+x) + 15e-6) / math.Sqrt(1-0.72*x/(x+5.5e-3))
			a3 := 0.9 * math.Pi * 62e-3 * c.height * 1e-3
			lo, hi := 0.0, 1.0
			for range 60 {
				m := (lo + hi) / 2
				if m*math.Pow(2/(k+1)*(1+(k-1)/2*m*m), -(k+1)/(2*(k-1))) < a1/a0 {
					lo = m
				} else {
					hi = m
				}
			}
			phi := (1+k*lo*lo)*math.Pow(1+(k-1)/2*lo*lo, -k/(k-1)) - 1
			p := (s.holds(x) + sea*au) / (as + 0.7*a0*phi + (ah-as)*a1/a2 + (au-ah)*a1/a3)
			if p < best {
				b := flow.CriticalRatio(k)
				best, at, choked = p, x, a2/a3 <= b && sea <= b*p*a1/a3
			}
		}
		assert.True(t, choked, "gap %g height %g: within the range of the closed form", c.gap, c.height)
		t.Logf("gap %.1f height %.0f mm: reseat %.3f bar at %.2f mm, closed form %.3f at %.2f", c.gap, c.height, f.reseat, f.reseatLift*1e3, (best-sea)/1e5, at*1e3)
		assert.InDelta(t, (best-sea)/1e5, f.reseat, 1e-3)
	}
}
