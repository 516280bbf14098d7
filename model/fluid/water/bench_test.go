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

// benchmarkDirect solves IF97's own equations for the states that benchmarkAt
// asks for, warm: from a neighbour as far away as one step leads to the next.
func benchmarkDirect(b *testing.B, phase phase, solve func(v, u float64, near if97.Point) if97.Point) {
	w := Shared()
	x := sample(phase)
	near := make([]if97.Point, len(x))
	for i, c := range x {
		var s fluid.State
		w.At(c[0], c[1], &s)
		switch phase {
		case inVapour:
			near[i] = if97.Region2(s.P*0.995, s.T+0.2)
		case inLiquid:
			near[i] = if97.Region1(s.P*0.995, s.T+0.2)
		case inWet:
			near[i].T = s.T + 0.2
		}
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		c := &x[i&1023]
		sink += solve(c[0], c[1], near[i&1023]).P
	}
}

func BenchmarkDirectSteam(b *testing.B) {
	benchmarkDirect(b, inVapour, func(v, u float64, near if97.Point) if97.Point {
		return invert(if97.Region2, v, u, near)
	})
}

func BenchmarkDirectWater(b *testing.B) {
	benchmarkDirect(b, inLiquid, func(v, u float64, near if97.Point) if97.Point {
		return invert(if97.Region1, v, u, near)
	})
}

func BenchmarkDirectWet(b *testing.B) {
	benchmarkDirect(b, inWet, func(v, u float64, near if97.Point) if97.Point {
		t := root(func(t float64) float64 {
			l, g := saturatedWater(t), saturatedSteam(t)
			return l.U + (v-l.V)*(g.U-l.U)/(g.V-l.V) - u
		}, near.T, near.T-0.1)
		return if97.Point{T: t, P: if97.SaturationP(t)}
	})
}

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
