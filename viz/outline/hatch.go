package outline

import (
	"cmp"
	"math"
	"slices"

	"underdisc/viz/scene"
)

// Crossing is where a line of hatching meets an outline: at x - y = D, the
// outline going one way or the other.
type Crossing struct {
	D   float64
	Way int
}

// Hatching appends the pieces of the lines x + y = n pitch that lie in an area,
// inside by the nonzero rule. It uses what crossings points to.
func Hatching(to [][2]scene.Point, areas *Lines, pitch float64, crossings *[]Crossing) [][2]scene.Point {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range areas.pts {
		low, high = math.Min(low, p.X+p.Y), math.Max(high, p.X+p.Y)
	}
	for n := math.Ceil(low / pitch); n*pitch <= high; n++ {
		s := n * pitch
		hits := (*crossings)[:0]
		for k := range areas.Len() {
			l := areas.At(k)
			for i, b := range l {
				a := l[(i+len(l)-1)%len(l)]
				sa, sb := a.X+a.Y, b.X+b.Y
				if sa <= s == (sb <= s) {
					continue
				}
				t := (s - sa) / (sb - sa)
				way := 1
				if sb < sa {
					way = -1
				}
				hits = append(hits, Crossing{(a.X - a.Y) + t*((b.X-b.Y)-(a.X-a.Y)), way})
			}
		}
		slices.SortFunc(hits, func(a, b Crossing) int { return cmp.Compare(a.D, b.D) })
		at := func(d float64) scene.Point { return scene.Point{X: (s + d) / 2, Y: (s - d) / 2} }
		wind := 0
		for i, h := range hits {
			if wind != 0 && h.D > hits[i-1].D {
				to = append(to, [2]scene.Point{at(hits[i-1].D), at(h.D)})
			}
			wind += h.Way
		}
		*crossings = hits
	}
	return to
}

// Raster is the distance between the lines of hatching along either axis, and
// their width, in a picture of a size.
func Raster(size scene.Point) (pitch, width float64) {
	const least = 0.6 // of the reference size: closer, they would be grey
	k := math.Max(math.Min(size.X/1600, size.Y/900), least)
	return scene.HatchPitch * math.Sqrt2 * k, scene.HatchWidth * k
}
