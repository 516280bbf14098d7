package scene

import (
	"math"
	"slices"

	"underdisc/model/plant"
)

// push is one force on the disc, N, positive.
type push struct {
	name     string
	force    float64
	up       bool
	holds    bool // given by what the disc rests on, as much as is needed
	unheld   bool // what is left over, which moves the disc
	pressure float64
	look     string // "", "spring", "weight", "friction"
}

// forceBars are the forces on a disc in the order from the disc outwards. Those
// that it makes up to rest, or the one that is left over to move it, come last,
// so that both sides sum to the same.
func forceBars(st *plant.ValveState) []push {
	d := &st.Disc
	out := append(make([]push, 0, mostPushes),
		push{name: "Body on rim", force: d.Rim, pressure: st.Above},
		push{name: "Face on seat area", force: d.Face, pressure: d.Face / d.SeatArea},
		push{name: "Weight", force: d.Weight, look: "weight"},
		push{name: "Chamber", force: d.Chamber, up: true, pressure: st.Below},
		push{name: "Spring", force: d.Spring, up: true, look: "spring"})
	signed := func(name, look string, f float64, holds bool) {
		if math.Abs(f) >= least {
			out = append(out, push{name: name, force: math.Abs(f), up: f < 0, holds: holds, look: look})
		}
	}
	if d.Hold == plant.Moving {
		signed("Friction, damping", "friction", d.Friction+d.Damping, false)
	} else {
		name := "Stop holds"
		if d.Hold == plant.HeldShut {
			name = "Seat holds"
		}
		signed(name, "", d.Contact, true)
		name = "Friction holds"
		if math.Abs(d.Friction) > 1.001*d.Stick { // what it is bonded with, too
			name = "Bond holds"
		}
		signed(name, "", d.Friction, true)
	}
	if left := sum(out, false) - sum(out, true); math.Abs(left) >= least {
		out = append(out, push{name: "Unbalanced", force: math.Abs(left), up: left > 0, unheld: true})
	}
	return out
}

// mostPushes is how many there can be.
const mostPushes = 8

// least force that is worth a bar, N.
const least = 0.5

// sum of one side, N.
func sum(ps []push, up bool) (f float64) {
	for _, p := range ps {
		if p.up == up {
			f += p.force
		}
	}
	return f
}

func (s *sheet) saysForces() string {
	return s.saysPushes(forceBars(s.st))
}

func (s *sheet) saysPushes(bars []push) string {
	out := ""
	for i, p := range bars {
		way := "down"
		if p.up {
			way = "up"
		}
		if p.unheld { // it moves the disc the other way than it would have to be held
			way = map[bool]string{true: "down", false: "up"}[p.up]
		}
		if i > 0 {
			out = s.say(out, ", ")
		}
		out = s.say(out, p.name, " ", s.force(p.force), " ", way)
	}
	return out
}

func unite(a, b Rect) Rect {
	if b.Width() <= 0 {
		return a
	}
	return Rect{math.Min(a.Left, b.Left), math.Min(a.Top, b.Top), math.Max(a.Right, b.Right), math.Max(a.Bottom, b.Bottom)}
}

// forces draws the forces meeting at the disc.
func (s *sheet) forces() {
	at := s.p.forces
	if at.Width() <= 0 {
		return
	}
	d := &s.st.Disc
	s.forcesOf(forceBars(s.st), 1.04*s.v.Range.High*d.GuideArea+d.Preload)
}

// forcesOf draws some forces to a scale by which a whole, N, has its room, unless
// that is too small for one.
func (s *sheet) forcesOf(bars []push, whole float64) {
	at := s.p.forces
	const part = "forces"
	label, value := s.small(), face{s.p.text(sizeSmall), true, Dark}
	label.ink = Dark
	foot := 4.6 * label.size // the sum below
	k := s.p.scale
	pad := 0.067 * at.Width()
	top, bottom := s.p.margin.Bottom+0.4*label.size, at.Bottom-foot-0.9*label.size
	plate := 11 * k
	mid := (top + bottom) / 2
	half := mid - top - plate/2
	column := Rect{at.Left + pad + 12*k, 0, at.Left + pad + 12*k + 0.28*at.Width(), 0}

	// One scale for the whole run, unless that is too small for a force.
	perNewton := half / math.Max(whole, sum(bars, true))

	type placed struct {
		y     float64
		name  string
		value string
		bold  bool
		force float64
	}
	labels := make([]placed, 0, mostPushes+1) // from top to bottom
	downs := 0
	edge := map[bool]float64{false: mid - plate/2, true: mid + plate/2}
	for _, b := range bars {
		length := b.force * perNewton
		r := Rect{column.Left, edge[b.up] - length, column.Right, edge[b.up]}
		if b.up {
			r.Top, r.Bottom = edge[b.up], edge[b.up]+length
			edge[b.up] = r.Bottom
		} else {
			edge[b.up] = r.Top
		}
		s.bar(b, r)
		l := placed{(r.Top + r.Bottom) / 2, b.name, s.force(b.force), b.holds || b.unheld, b.force}
		if b.up {
			labels = append(labels, l)
		} else {
			labels = slices.Insert(labels, 0, l)
			downs++
		}
	}
	labels = slices.Insert(labels, downs, placed{mid, "disc", "", true, math.Inf(1)})

	// The disc, and the two pushes on it.
	disc := Rect{column.Left - 8*k, mid - plate/2, column.Right + 8*k, mid + plate/2}
	s.outlined("disc plate", s.box(disc, 2*k), White, Dark, 3.5*k)
	arm := column.Left - 13*k
	for _, up := range []bool{false, true} {
		from, to := edge[false], mid-plate/2-2*k
		if up {
			from, to = edge[true], mid+plate/2+2*k
		}
		s.line(part, s.arrow(Point{arm, from}, Point{arm, to}, 11*k), Dark, 2.4*k)
	}

	// Names and numbers beside, as near as they go. The disc's own has one line.
	pitch := 1.18 * label.size
	block := 2*pitch + 0.42*label.size
	for n := len(labels); n > 1 && float64(n-1)*(pitch+(capShare+dropShare+0.05)*label.size) > bottom-top-1.6*pitch; n-- { // the least goes unnamed
		least := 0
		for i := range labels {
			if labels[i].force < labels[least].force {
				least = i
			}
		}
		labels = slices.Delete(labels, least, least+1)
	}
	wanted := make([]float64, len(labels))
	for i, l := range labels {
		wanted[i] = l.y
	}
	left := column.Right + 24*k
	for i, y := range spread(wanted, block, top+pitch, bottom-0.6*pitch) {
		l := labels[i]
		f := label
		f.bold = l.bold
		base := y - pitch/2 + capShare*label.size/2
		if l.value == "" {
			base = y + capShare*label.size/2
		}
		edge := column.Right + 2*k
		if l.value == "" {
			edge = disc.Right + 2*k
		}
		s.line(part, s.open(Point{edge, l.y}, Point{edge + 5*k, l.y}, Point{left - 4*k, base - capShare*label.size/2}), Soft, 1.2*k)
		s.first(part, f, left, base, FromLeft, at.Right-left-3, l.name, shorter(l.name))
		if l.value != "" {
			s.text(part, value, left, base+pitch, FromLeft, l.value)
		}
	}
	s.total(at, at.Bottom-foot, bars)
}

// shorter are the names for a narrow panel.
func shorter(name string) string {
	switch name {
	case "Face on seat area":
		return "Face on seat"
	case "Huddling chamber":
		return "Huddling"
	case "Momentum of the stream":
		return "Momentum"
	case "Turned down by the hood":
		return "Hood"
	case "Below the upper ring":
		return "Upper ring"
	case "Pressure on the seat":
		return "Seat"
	case "Friction holds", "Friction, damping":
		return "Friction"
	}
	return name
}

// bar paints one force.
func (s *sheet) bar(b push, r Rect) {
	part, k := b.name, s.p.scale
	box := s.box(r, 0)
	switch {
	case b.unheld:
		s.line(part, box, Now, 2.6*k, 7*k, 5*k)
		mid := (r.Left + r.Right) / 2
		size := math.Min(0.36*r.Width(), 0.8*r.Height())
		tip, tail := (r.Top+r.Bottom)/2+size/2, (r.Top+r.Bottom)/2-size/2
		if !b.up { // the pushes up are more
			tip, tail = tail, tip
		}
		neck := (tip + tail) / 2
		s.fill(part, s.polygon(Point{mid - 0.2*size, tail}, Point{mid + 0.2*size, tail}, Point{mid + 0.2*size, neck}, Point{mid + 0.55*size, neck},
			Point{mid, tip}, Point{mid - 0.55*size, neck}, Point{mid - 0.2*size, neck}), Now)
		return
	case b.holds:
		s.line(part, box, Dark, 2.6*k, 7*k, 5*k)
		return
	case b.look == "spring":
		s.fill(part, box, White)
		const n = 9
		var zig [n + 1]Point
		for i := range n + 1 {
			y := r.Top + 0.2*r.Height()
			if i%2 == 1 {
				y = r.Bottom - 0.2*r.Height()
			}
			zig[i] = Point{r.Left + r.Width()*float64(i)/n, y}
		}
		s.line(part, s.open(zig[:]...), Dark, 1.3*k)
	case b.look == "weight":
		s.fill(part, box, Dark)
	case b.look == "friction":
		s.hatched(part, box)
	default:
		s.fluid(part, box, b.pressure)
	}
	s.line(part, box, Dark, math.Min(2, 0.5*r.Height()+0.6)*k)
}

// total says which way the forces push together, but for those that hold it.
func (s *sheet) total(at Rect, top float64, bars []push) {
	const part = "sum of forces"
	k := s.p.scale
	pad := 0.067 * at.Width()
	s.line(part, s.open(Point{at.Left + pad, top}, Point{at.Right - pad, top}), Soft, 1.2*k)
	var down, up float64
	for _, b := range bars {
		switch {
		case b.holds || b.unheld:
		case b.up:
			up += b.force
		default:
			down += b.force
		}
	}
	net := down - up
	f, small := s.heading(), s.small()
	y := top + 0.75*f.size + capShare*f.size
	x := at.Left + pad
	size := 0.8 * f.size
	if up := net < 0; math.Abs(net) >= least {
		tip, tail := y, y-capShare*f.size
		if up {
			tip, tail = tail, tip
		}
		s.fill(part, s.polygon(Point{x, tail}, Point{x + size, tail}, Point{x + size/2, tip}), Dark)
	}
	way := "down"
	if net < 0 {
		way = "up"
	}
	s.text(part, f, x+1.35*size, y, FromLeft, s.say(s.force(math.Abs(net)), " ", way))
	s.first(part, small, x, y+1.5*small.size, FromLeft, at.Right-x, s.say(s.force(down), " down, ", s.force(up), " up"), s.say(s.force(down), ", ", s.force(up)))
}
