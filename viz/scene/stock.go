package scene

// stock is what the shapes of a picture are made from, and the lists that they
// stand in. The lists grow to what a picture takes and are then used again, so
// that picture after picture costs few allocations.
type stock struct {
	segs    pool[Seg]
	paints  pool[Paint]
	pens    pool[Pen]
	texts   pool[Text]
	numbers pool[float64]
	rects   pool[Rect]
	knots   pool[Point]

	out         []Shape // the picture
	body, words []Shape // of the cutaway
	spots       []Spot
	rooms       []Room
	taken       []Rect
	points      []Point
	phrases
}

// empty makes the stock ready for another picture. What the last one held is
// then written over.
func (k *stock) empty() {
	k.segs.empty()
	k.paints.empty()
	k.pens.empty()
	k.texts.empty()
	k.numbers.empty()
	k.rects.empty()
	k.knots.empty()
	k.out, k.body, k.words = k.out[:0], k.body[:0], k.words[:0]
	k.spots, k.rooms = k.spots[:0], k.rooms[:0]
}

// pool is a list whose items keep their place until it is emptied: when it
// grows, those handed out stay where they were.
type pool[T any] struct{ all []T }

func (p *pool[T]) empty() { p.all = p.all[:0] }

// put keeps an item.
func (p *pool[T]) put(x T) *T {
	p.all = append(p.all, x)
	return &p.all[len(p.all)-1]
}

// list keeps some items, one behind another; nil of none.
func (p *pool[T]) list(x ...T) []T {
	if len(x) == 0 {
		return nil
	}
	from := len(p.all)
	p.all = append(p.all, x...)
	return p.since(from)
}

// since are the items kept since there were so many.
func (p *pool[T]) since(from int) []T { return p.all[from:len(p.all):len(p.all)] }

// to adds a straight piece to the path in the making.
func (k *stock) to(op Op, p Point) { k.segs.put(Seg{Op: op, P: [3]Point{p}}) }

// open is a line through points, polygon one that comes back to its start.
func (k *stock) open(pts ...Point) Path {
	from := len(k.segs.all)
	for i, p := range pts {
		op := LineTo
		if i == 0 {
			op = MoveTo
		}
		k.to(op, p)
	}
	return k.segs.since(from)
}

func (k *stock) polygon(pts ...Point) Path {
	from := len(k.segs.all)
	k.open(pts...)
	k.segs.put(Seg{Op: Close})
	return k.segs.since(from)
}

// box is a rectangle, its corners rounded by radius.
func (k *stock) box(r Rect, radius float64) Path {
	if radius <= 0 {
		return k.polygon(Point{r.Left, r.Top}, Point{r.Right, r.Top}, Point{r.Right, r.Bottom}, Point{r.Left, r.Bottom})
	}
	from := len(k.segs.all)
	round(k.segs.put, r, radius)
	return k.segs.since(from)
}

func (k *stock) circle(at Point, radius float64) Path {
	return k.box(Rect{at.X - radius, at.Y - radius, at.X + radius, at.Y + radius}, radius)
}

// arrow is a line with a head of the given size; nil between two equal points.
func (k *stock) arrow(from, to Point, head float64) Path {
	a, b, ok := barbs(from, to, head)
	if !ok {
		return nil
	}
	start := len(k.segs.all)
	k.open(from, to)
	k.open(a, to, b)
	return k.segs.since(start)
}
