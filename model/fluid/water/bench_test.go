package water

import (
	"math/rand"
	"testing"

	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
)

// sample makes states of one phase, scattered so that no cell stays in the
// nearest memory.
func sample(phase phase) [][2]float64 {
	r := rand.New(rand.NewSource(3))
	x := make([][2]float64, 1024)
	for i := range x {
		p := logBetween(r, 1e4, 160e5)
		t := if97.SaturationT(p)
		l, g := if97.Region1(p, t), if97.Region2(p, t)
		q := r.Float64()
		switch phase {
		case inVapour:
			g = if97.Region2(p, t+1+200*q)
			x[i] = [2]float64{g.V, g.U}
		case inLiquid:
			l = if97.Region1(p, 280+(t-281)*q)
			x[i] = [2]float64{l.V, l.U}
		case inWet:
			x[i] = [2]float64{l.V + q*(g.V-l.V), l.U + q*(g.U-l.U)}
		}
	}
	return x
}

var sink float64

func benchmarkAt(b *testing.B, phase phase) {
	w := Shared()
	x := sample(phase)
	var s fluid.State
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		c := &x[i&1023]
		w.At(c[0], c[1], &s)
		sink += s.P
	}
}

func BenchmarkAtSteam(b *testing.B) { benchmarkAt(b, inVapour) }
func BenchmarkAtWater(b *testing.B) { benchmarkAt(b, inLiquid) }
func BenchmarkAtWet(b *testing.B)   { benchmarkAt(b, inWet) }

// benchmarkDirect iterates IF97's own equations for the states that benchmarkAt
// asks for: warm, from a neighbour as far away as one step leads to the next, or
// cold.
func benchmarkDirect(b *testing.B, phase phase, solve func(v, u float64, near *if97.Mix) (if97.Mix, error)) {
	w := Shared()
	x := sample(phase)
	near := make([]if97.Mix, len(x))
	for i, c := range x {
		var s fluid.State
		w.At(c[0], c[1], &s)
		near[i] = if97.Mix{X: s.X, P: s.P, T: s.T + 0.2}
		if phase != inWet {
			near[i].P *= 0.995
		}
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		c := &x[i&1023]
		m, err := solve(c[0], c[1], &near[i&1023])
		if err != nil {
			b.Fatal(err)
		}
		sink += m.P
	}
}

func warm(v, u float64, near *if97.Mix) (if97.Mix, error) { return if97.VUFrom(v, u, *near) }
func cold(v, u float64, _ *if97.Mix) (if97.Mix, error)    { return if97.VU(v, u) }

func BenchmarkDirectSteam(b *testing.B)     { benchmarkDirect(b, inVapour, warm) }
func BenchmarkDirectWater(b *testing.B)     { benchmarkDirect(b, inLiquid, warm) }
func BenchmarkDirectWet(b *testing.B)       { benchmarkDirect(b, inWet, warm) }
func BenchmarkDirectColdSteam(b *testing.B) { benchmarkDirect(b, inVapour, cold) }
func BenchmarkDirectColdWater(b *testing.B) { benchmarkDirect(b, inLiquid, cold) }
func BenchmarkDirectColdWet(b *testing.B)   { benchmarkDirect(b, inWet, cold) }

// BenchmarkNew is what the program waits for at its start.
func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		New()
	}
}

func BenchmarkSaturatedT(b *testing.B) {
	w := Shared()
	p := 1e5
	for b.Loop() {
		t, d := w.SaturatedT(p)
		sink += t + d
		p += 10
	}
}

func BenchmarkRestSteam(b *testing.B) {
	w := Shared()
	x := sample(inVapour)
	for i := 0; b.Loop(); i++ {
		s, c := w.Rest(x[i&1023][0], x[i&1023][1])
		sink += s + c
	}
}

func BenchmarkPH(b *testing.B) {
	w := Shared()
	x := sample(inVapour)
	var s fluid.State
	w.At(x[0][0], x[0][1], &s)
	b.ReportAllocs()
	for b.Loop() {
		v, u, _ := w.PH(1.1e5, s.H, &s)
		sink += v + u
	}
}
