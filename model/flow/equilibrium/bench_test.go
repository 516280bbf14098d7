package equilibrium_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"underdisc/model/flow"
	"underdisc/model/flow/equilibrium"
	"underdisc/model/fluid"
	"underdisc/model/fluid/water"
)

// states are inlets of one kind: all over the range, or near 40 bar as a run
// meets them.
func states(kind string, wide bool) []fluid.State {
	r := rand.New(rand.NewPCG(9, 9))
	s := make([]fluid.State, 512)
	w := water.Shared()
	for i := range s {
		p := 4e6 * (1 + 0.05*r.Float64())
		if wide {
			p = 2e4 * (1 + 800*r.Float64()*r.Float64())
		}
		ts, _ := w.SaturatedT(p)
		var v, u float64
		switch kind {
		case "steam":
			v, u, _ = w.PT(p, ts+0.1+20*r.Float64())
		case "wet":
			v, u, _ = w.PX(p, r.Float64())
		case "water":
			v, u, _ = w.PT(p, ts-0.1-20*r.Float64())
		}
		w.At(v, u, &s[i])
	}
	return s
}

func BenchmarkFlux(b *testing.B) {
	law := equilibrium.Shared()
	for _, kind := range []string{"steam", "wet", "water"} {
		for _, wide := range []bool{false, true} {
			s := states(kind, wide)
			for _, ratio := range []float64{0.3, 0.9} {
				where := fmt.Sprintf("%s/wide=%v/ratio=%g/", kind, wide, ratio)
				b.Run(where+"flux", func(b *testing.B) {
					i := 0
					for b.Loop() {
						x := &s[i&511]
						law.Flux(x, ratio*x.P)
						i++
					}
				})
				b.Run(where+"slopes", func(b *testing.B) {
					var f flow.Flux
					i := 0
					for b.Loop() {
						x := &s[i&511]
						law.FluxSlopes(x, ratio*x.P, &f)
						i++
					}
				})
			}
			if wide {
				continue
			}
			b.Run(kind+"/direct", func(b *testing.B) {
				i := 0
				for b.Loop() {
					d, err := equilibrium.Direct(s[i&511].V, s[i&511].U)
					if err != nil {
						b.Fatal(err)
					}
					d.Critical()
					i++
				}
			})
		}
	}
}

func BenchmarkBuild(b *testing.B) {
	for b.Loop() {
		equilibrium.New()
	}
}
