package flow_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/flow"
	"underdisc/model/flow/equilibrium"
	"underdisc/model/fluid"
	"underdisc/model/fluid/water"
)

// anyFluid is a fluid with its law, and states of it.
type anyFluid struct {
	name string
	law  flow.Law
	at   func(v, u float64, s *fluid.State)
	draw func(r *rand.Rand) (v, u float64)
}

func anyFluids() []anyFluid {
	warm := fluid.Air()
	w, n := water.Shared(), equilibrium.Shared()
	pressure := func(r *rand.Rand) float64 { return 2e5 * math.Exp(r.Float64()*math.Log(500e5/2e5/5)) }
	return []anyFluid{
		{"gas", flow.NewNozzle(&trialGas), trialGas.At, func(r *rand.Rand) (float64, float64) {
			t := 300 + 500*r.Float64()
			return trialGas.Volume(pressure(r), t), trialGas.Energy(t)
		}},
		{"thermal gas", flow.NewThermalNozzle(warm), warm.At, func(r *rand.Rand) (float64, float64) {
			s := hot(warm, pressure(r), 300+500*r.Float64())
			return s.V, s.U
		}},
		{"steam", n, w.At, func(r *rand.Rand) (float64, float64) {
			p := pressure(r)
			ts, _ := w.SaturatedT(p)
			v, u, _ := w.PT(p, ts+1+150*r.Float64())
			return v, u
		}},
		{"wet steam", n, w.At, func(r *rand.Rand) (float64, float64) {
			v, u, _ := w.PX(pressure(r), 0.02+0.96*r.Float64())
			return v, u
		}},
		{"water", n, w.At, func(r *rand.Rand) (float64, float64) {
			p := pressure(r)
			ts, _ := w.SaturatedT(p)
			v, u, _ := w.PT(p, max(ts-5-200*r.Float64(), 280))
			return v, u
		}},
	}
}

// slopeMiss compares one slope with a central difference. Where those to either
// side differ the law has a join there, and either will do.
func slopeMiss(f func(e float64) float64, step, slope, scale float64) (miss float64) {
	lo, mid, hi := f(-step), f(0), f(step)
	central, left, right := (hi-lo)/(2*step), (mid-lo)/step, (hi-mid)/step
	miss = math.Abs(slope - central)
	if slope >= min(left, right) && slope <= max(left, right) {
		miss = 0
	}
	return miss / (math.Abs(slope) + scale)
}

// TestPastDiscSlopes: flow, force and the chamber's pressure by all four against
// differences, over fluids, ways past the disc, lifts and pressures.
func TestPastDiscSlopes(t *testing.T) {
	for _, fl := range anyFluids() {
		t.Run(fl.name, func(t *testing.T) {
			leaky := twoRings(fl.law, 2.5e-3, 26e-3)
			leaky.Leak, leaky.Balanced, leaky.Atmosphere = 2e-7, 1e-3, sea
			ways := []flow.PastDisc{
				flow.NewRings(twoRings(fl.law, 2.5e-3, 26e-3)), flow.NewRings(twoRings(fl.law, 0, 8e-3)), flow.NewRings(leaky),
				flow.NewRings(hooded(fl.law)), flow.NewPlug(proportional(fl.law))}
			r := rand.New(rand.NewPCG(1, 2))
			var worst float64
			count := 0
			for range 1500 {
				k := r.IntN(len(ways))
				way := ways[k]
				v, u := fl.draw(r)
				x := 20e-3 * math.Pow(10, -4*r.Float64())
				if r.IntN(20) == 0 {
					x = -1e-6
				}
				var up fluid.State
				fl.at(v, u, &up)
				down := up.P * r.Float64() * 0.999
				if r.IntN(2) == 0 {
					down = 0.02 * up.P
				}
				var p, q flow.Past
				way.Slopes(&up, down, x, &p)
				way.At(&up, down, x, &q)
				assert.InEpsilon(t, q.W+1, p.W+1, 1e-11)
				assert.InEpsilon(t, q.Force, p.Force, 1e-11)
				assert.Equal(t, q.Choked, p.Choked)
				most := up.P * 3e-3
				wmost := fl.law.Flux(&up, 0) * 1e-3
				try := func(name string, at func(e float64, q *flow.Past), step, byW, byF, byH float64) {
					for i, s := range []struct{ slope, scale float64 }{{byW, wmost}, {byF, most}, {byH, up.P}} {
						f := func(e float64) float64 {
							at(e, &q)
							return []float64{q.W, q.Force, q.Huddle}[i]
						}
						miss := slopeMiss(f, step, s.slope, s.scale*1e-3)
						worst = max(worst, miss)
						count++
						if !(miss < 2e-5) {
							t.Errorf("way %d, p %.4g, down/p %.4g, x %.4g: %s of %s %.8g, off by %.3g (choked %v, huddle/p %.4g under/p %.4g)", k, up.P, down/up.P, x,
								[]string{"flow", "force", "huddle"}[i], name, s.slope, miss, p.Choked, p.Huddle/up.P, p.Under/up.P)
						}
					}
				}
				state := func(v, u float64) *fluid.State {
					var s fluid.State
					fl.at(v, u, &s)
					return &s
				}
				try("volume", func(e float64, q *flow.Past) { way.At(state(v*(1+e), u), down, x, q) }, 1e-6*min(1, up.P/math.Abs(up.Pv*v)), p.Wv*v, p.Fv*v, p.Huddlev*v)
				try("energy", func(e float64, q *flow.Past) { way.At(state(v, u*(1+e)), down, x, q) }, 1e-6*min(1, up.P/math.Abs(up.Pu*u)), p.Wu*u, p.Fu*u, p.Huddleu*u)
				try("down", func(e float64, q *flow.Past) { way.At(&up, down*(1+e), x, q) }, 1e-6, p.Wp*down, p.Fp*down, p.Huddlep*down)
				try("lift", func(e float64, q *flow.Past) { way.At(&up, down, x*(1+e), q) }, 1e-6, p.Wx*x, p.Fx*x, p.Huddlex*x)
				if t.Failed() {
					break
				}
			}
			t.Logf("%d slopes, worst %.2g", count, worst)
		})
	}
}
