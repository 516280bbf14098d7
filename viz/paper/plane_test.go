package paper

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A path that turns back keeps both of its ways, and nothing of it leaves the box.
func TestPath(t *testing.T) {
	n := Panel{Box: Rect{100, 100, 300, 200}, Time: Axis{From: 0, To: 10}, Value: Axis{From: 0, To: 5}}
	var p Page
	n.Path(&p, Pen{Color: Ink, Width: 2}, Point{1, 1}, Point{5, 4}, Point{1, 9})
	if assert.Len(t, p.shapes, 1) {
		s := p.shapes[0].(stroke)
		assert.Equal(t, Point{120, 180}, s.pts[0])
		assert.Equal(t, Point{200, 120}, s.pts[1])
		last := s.pts[2]
		assert.InDelta(t, 99, last.Y, 1e-9)
		assert.Less(t, last.X, 200.0)
	}
	n.Path(&p, Pen{Color: Ink, Width: 2}, Point{11, 1}, Point{12, 4})
	assert.Len(t, p.shapes, 1, "outside")
	assert.True(t, n.Shows(Point{10, 5}))
	assert.False(t, n.Shows(Point{10.1, 5}))
}

func TestArrow(t *testing.T) {
	n := Panel{Box: Rect{100, 100, 300, 200}, Time: Axis{From: 0, To: 10}, Value: Axis{From: 0, To: 5}}
	var p Page
	n.Arrow(&p, Pen{Color: Ink, Width: 2}, Point{5, 0}, Point{5, 5})
	assert.Len(t, p.shapes, 2)
	head := p.shapes[1].(area)
	assert.Equal(t, Point{200, 139}, head.pts[0], "points the way it goes")
	var short Page
	n.Arrow(&short, Pen{Color: Ink, Width: 2}, Point{5, 0}, Point{5, 0.1})
	assert.Len(t, short.shapes, 1, "no room for a head")
}

func TestDecades(t *testing.T) {
	a := Decades(-1, 2)
	var texts []string
	for _, k := range a.Ticks {
		texts = append(texts, k.Text)
	}
	assert.Equal(t, []string{"0.1", "1", "10", "100"}, texts)
}
