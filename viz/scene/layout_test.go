package scene

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestSpread(t *testing.T) {
	for _, c := range []struct {
		name      string
		wanted    []float64
		gap       float64
		low, high float64
		want      []float64
	}{
		{"none", nil, 1, 0, 10, nil},
		{"far apart", []float64{1, 5}, 2, 0, 10, []float64{1, 5}},
		{"pushed apart about their mean", []float64{5, 5}, 2, 0, 10, []float64{4, 6}},
		{"against the lower bound", []float64{0, 0.5}, 2, 0, 10, []float64{0, 2}},
		{"against the upper bound", []float64{9.5, 10}, 2, 0, 10, []float64{8, 10}},
		{"a third joins two", []float64{4, 5, 5}, 2, 0, 10, []float64{8.0 / 3, 14.0 / 3, 20.0 / 3}},
		{"no room: they share it", []float64{1, 2, 3}, 9, 0, 10, []float64{0, 5, 10}},
	} {
		t.Run(c.name, func(t *testing.T) { assert.InDeltaSlice(t, c.want, spread(c.wanted, c.gap, c.low, c.high), 1e-12) })
	}
}

func TestTicks(t *testing.T) {
	at, n := ticks(0, 13, 5)
	assert.Equal(t, []float64{0, 5, 10}, at)
	assert.Equal(t, 0, n)
	at, n = ticks(-0.012, 0.05, 4)
	assert.InDeltaSlice(t, []float64{0, 0.02, 0.04}, at, 1e-12)
	assert.Equal(t, 2, n)
	at, _ = ticks(1, 1, 4)
	assert.Empty(t, at, "no span, no ticks")
}

// A spike of one sample survives however many samples share its column.
func TestThinKeepsSpikes(t *testing.T) {
	var pts []Point
	for i := range 20000 {
		pts = append(pts, Point{float64(i) / 100, 5})
	}
	pts[12345].Y = -40
	pts[777].Y = 60
	got := thin(pts)
	assert.LessOrEqual(t, len(got), 4*201)
	low, high := math.Inf(1), math.Inf(-1)
	for i, p := range got {
		low, high = math.Min(low, p.Y), math.Max(high, p.Y)
		if i > 0 {
			assert.GreaterOrEqual(t, p.X, got[i-1].X, "in order")
		}
	}
	assert.Equal(t, []float64{-40, 60}, []float64{low, high})
	assert.Equal(t, pts[0], got[0])
	assert.Equal(t, pts[len(pts)-1], got[len(got)-1])
}

// What straight leaves out lies within a tenth of a unit of what it keeps.
func TestStraightStaysOnTheCurve(t *testing.T) {
	curves := map[string]func(x float64) float64{
		"level":  func(float64) float64 { return 7 },
		"slope":  func(x float64) float64 { return 3 - 0.4*x },
		"wave":   func(x float64) float64 { return 40 * math.Sin(x/30) },
		"step":   func(x float64) float64 { return math.Floor(x / 50) },
		"spikes": func(x float64) float64 { return map[bool]float64{true: 20}[int(x)%97 == 0] },
	}
	most := map[string]int{"level": 2, "slope": 2, "wave": 100, "step": 18, "spikes": 40}
	for name, f := range curves {
		var pts []Point
		for i := range 800 {
			x := 0.5 * float64(i)
			pts = append(pts, Point{x, f(x)})
			if name == "step" && i > 0 && i%100 == 0 { // straight up
				pts = append(pts[:len(pts)-1], Point{x, f(x - 1)}, Point{x, f(x)})
			}
		}
		kept := straight(append([]Point(nil), pts...))
		assert.LessOrEqual(t, len(kept), most[name], name)
		assert.Equal(t, []Point{pts[0], pts[len(pts)-1]}, []Point{kept[0], kept[len(kept)-1]}, name)
		for _, p := range pts {
			off := math.Inf(1)
			for i := 1; i < len(kept); i++ {
				off = math.Min(off, fromSegment(p, kept[i-1], kept[i]))
			}
			assert.LessOrEqual(t, off, 0.1+1e-9, "%s at %g", name, p.X)
		}
	}
}

// fromSegment is how far a point is from a piece of a line.
func fromSegment(p, a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	f := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		f = math.Min(math.Max(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l, 0), 1)
	}
	return math.Hypot(p.X-a.X-f*dx, p.Y-a.Y-f*dy)
}

func TestPlanKeepsItsPanelsApart(t *testing.T) {
	for _, size := range []Point{{1600, 900}, {1024, 640}, {1920, 1080}, {1280, 720}} {
		for _, projector := range []bool{false, true} {
			panels := Panels(&View{Size: size, Projector: projector})
			delete(panels, "margin") // stands within forces
			if projector {
				panels["margin"] = Panels(&View{Size: size, Projector: true})["margin"]
			}
			for a, r := range panels {
				for b, q := range panels {
					if a != b && r.Width() > 0 && q.Width() > 0 {
						assert.False(t, r.Meets(q), "%v: %s and %s", size, a, b)
					}
				}
				assert.True(t, r.Left >= 0 && r.Top >= 0 && r.Right <= size.X && r.Bottom <= size.Y, "%v: %s", size, a)
			}
		}
	}
}

// A length is written with the places that it needs, two at most.
func TestNeededPlaces(t *testing.T) {
	for mm, want := range map[float64]int{15: 0, 2.5: 1, 1e3 * 0.00125: 2, 3.1416: 2, 0: 0} {
		assert.Equal(t, want, needed(mm), "%g mm", mm)
	}
}

// A leak has smaller marks than a lift, and none so small that it is not seen.
func TestMarksGrowWithTheFlow(t *testing.T) {
	assert.InDelta(t, 1, dart(mainFlow), 1e-12)
	assert.Less(t, dart(35.0/3600), 0.55*dart(29000.0/3600))
	assert.Equal(t, dart(-0.3), dart(0.3))
	assert.GreaterOrEqual(t, dart(1e-6), 0.5)
	assert.Less(t, dart(1e3), 1.2)
}

func TestUnits(t *testing.T) {
	bar := Units{}
	gauge := Units{Gauge: true, Ambient: 1.01325e5}
	psig := Units{Pressure: PSI, Gauge: true, Ambient: 1.01325e5, Fahrenheit: true, PoundsPerHour: true}
	kpa := Units{Pressure: KPa, KilogramsPerSecond: true}
	for want, got := range map[string]string{
		"12.00":     bar.PressureOf(12e5),
		"bar abs":   bar.PressureName(),
		"10.99":     gauge.PressureOf(12e5),
		"bar gauge": gauge.PressureName(),
		"159.3":     psig.PressureOf(12e5),
		"psig":      psig.PressureName(),
		"psia":      Units{Pressure: PSI}.PressureName(),
		"1200":      kpa.PressureOf(12e5),
		"kPa abs":   kpa.PressureName(),
		"0.00":      gauge.PressureOf(1.01325e5 - 10),
		"1.49":      gauge.Difference(1.49e5),
		"21.6":      psig.Difference(1.49e5),
		"psi":       psig.DifferenceName(),
		"3600 kg/h": bar.Flow(1),
		"7940 lb/h": psig.Flow(1),
		"9.00 g/s":  kpa.Flow(0.009),
		"27 degC":   bar.Temperature(300),
		"80 degF":   psig.Temperature(300),
		"2.29 kN":   Force(2290),
		"15 N":      Force(14.7),
		"none":      Current(math.Inf(1)),
		"0.0 mm":    Millimetres(-1e-9),
		"6.7 ms":    Span(6.7e-3),
		"141 ms":    Span(0.1412),
		"1.31 s":    Span(1.311),
	} {
		assert.Equal(t, want, got)
	}
	for _, u := range []Units{bar, gauge, psig, kpa} {
		assert.InDelta(t, 7.7e5, u.absolute(u.shown(7.7e5)), 1e-6)
	}
}
