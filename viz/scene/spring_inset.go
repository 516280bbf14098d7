package scene

import "math"

// closeUp draws the rings once more and larger: nozzle, faces, huddling chamber,
// both rings, to one scale that it says.
func (d *springDrawing) closeUp() {
	if d.brief {
		return
	}
	g, u := &d.g, d.g.u
	d.whole = d.frame
	px := d.pl.scale
	// Right of the bonnet, above the outlet, below the lever.
	left := d.p((bonnetReach+9)*u, 0).X
	top := d.at.Top + 12*px
	bottom := d.p(0, outTop*u+(wall+3.5)*u).Y
	if low := d.p(0, g.bonnet+(wall+2)*u).Y; left < d.p(g.bowl+(wall+5)*u, 0).X && bottom > low {
		left = d.p(g.bowl+(wall+7)*u, 0).X
	}
	wide := math.Min(0.27*d.at.Width(), d.at.Right-left-8*px)
	box := Rect{left, top, left + wide, bottom}
	if box.Height() < 80*px || box.Width() < 80*px {
		return
	}
	in, out := g.bore-4*u, g.upper+7*u
	low, high := g.ringTop-9*u, g.lip+g.travel+7*u
	if g.hood {
		low -= 2 * u
	}
	k := math.Min(box.Width()/(out-in), box.Height()/(high-low))
	d.near = 0
	for _, f := range []float64{1.5, 1.75, 2, 2.25, 2.5, 2.75, 3, 3.5, 4, 5, 6, 8, 10} {
		if f*d.whole.k <= k {
			d.near = f
		}
	}
	if d.near == 0 {
		return
	}
	k = d.near * d.whole.k
	box.Right = box.Left + math.Min(box.Width(), (out-in)*k)
	d.inset = box
	mid := (low + high) / 2
	d.frame = frame{k: k, x: box.Left - in*k, y: (box.Top+box.Bottom)/2 + mid*k, clip: d.rects.put(box)}
	d.area("close-up", flat(d.st.Outlet), d.stock.box(box, 0))
	d.valve()
	d.frame = d.whole
	d.stroke("close-up", Still, Pen{Ink: Dark, Width: d.px(2.4)}, d.stock.box(box, 0))
	// Where it is taken from.
	a, b := d.p(g.bore-4*u, g.lip+g.travel+2*u), d.p(g.upper+5*u, g.ringTop-7*u)
	d.stroke("close-up", Still, Pen{Ink: Dark, Width: d.px(1.4), Dash: d.numbers.list(4*px, 3*px)}, d.stock.box(Rect{a.X, a.Y, b.X, b.Y}, 0))
	d.stroke("close-up", Still, Pen{Ink: Dark, Width: d.px(1.2)}, d.open(Point{b.X, a.Y}, Point{box.Left, box.Bottom}))
}

// inNear is a place of the section in the close-up.
func (d *springDrawing) inNear(x, z float64) Point {
	g, u := &d.g, d.g.u
	in := g.bore - 4*u
	low, high := g.ringTop-9*u, g.lip+g.travel+7*u
	if g.hood {
		low -= 2 * u
	}
	k := d.near * d.whole.k
	return Point{d.inset.Left + (x-in)*k, (d.inset.Top+d.inset.Bottom)/2 + ((low+high)/2-z)*k}
}

// faceMost is the lift, m, up to which the faces have a glass of their own.
const faceMost = 0.3e-3

// faces draws the two faces of the seat and what is between them, so much larger
// that micrometres can be seen. They are as rough as the force between them reaches
// far.
func (d *springDrawing) faces() {
	if d.brief || d.st.Lift > faceMost {
		return
	}
	g, u, px := &d.g, d.g.u, d.pl.scale
	right := d.p(-(bonnetReach+9)*u, 0).X
	top := d.p(0, g.capTop()-9*u).Y
	size := math.Min(112*px, 0.42*(right-d.at.Left))
	if size < 60*px {
		return
	}
	left := d.at.Left + 14*px
	d.glass = Rect{left, top, left + size, top + size}
	clip := d.rects.put(d.glass)
	per := d.facesTimes() * 1e3 * d.whole.k // picture units per metre
	gap := math.Max(0, d.st.Lift) * per
	rough := math.Min(0.5*d.spec.Seat.Length*per, 0.07*size)
	mid := top + 0.6*size
	area := func(part string, paint Paint, path Path) {
		d.out = append(d.out, Shape{Part: part, Path: path, Fill: d.paints.put(paint), Clip: clip})
	}
	line := func(part string, width float64, path Path) {
		d.out = append(d.out, Shape{Part: part, Path: path, Stroke: d.pens.put(Pen{Ink: Dark, Width: d.px(width)}), Clip: clip})
	}
	area("faces", Paint{Kind: Blend, A: d.st.Inlet, B: d.behindCurtain(), From: Point{left, mid}, To: Point{left + size, mid}}, d.stock.box(d.glass, 0))
	const teeth = 12
	profile := func(base, amp, end float64, odd int) Path {
		pts := d.points[:0]
		pts = append(pts, Point{left - 4, end})
		for i := range teeth + 1 {
			y := base
			if i%2 == odd {
				y += amp
			}
			pts = append(pts, Point{left + size*float64(i)/teeth, y})
		}
		pts = append(pts, Point{left + size + 4, end})
		d.points = pts
		return d.polygon(pts...)
	}
	low := profile(mid, rough, top+size+6, 0)
	area("faces", Paint{Kind: Hatched, Ink: Metal}, low)
	line("faces", 2, low)
	up := profile(mid-gap, -rough, top-6, 0)
	area("faces", Paint{Ink: White}, up)
	line("faces", 3, up)
	d.stroke("faces", Still, Pen{Ink: Dark, Width: d.px(2.4)}, d.stock.box(d.glass, 0))
}

// facesTimes is by how much the faces are drawn larger than the rest: a round number
// by which the gap takes no more than a third of the glass.
func (d *springDrawing) facesTimes() float64 {
	size := d.glass.Height()
	want := math.Max(d.st.Lift, 2*d.spec.Seat.Length) * 1e3 * d.whole.k
	times := 1.0
	for _, f := range []float64{2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000} {
		if f*want <= 0.33*size {
			times = f
		}
	}
	return times
}
