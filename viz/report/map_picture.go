package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underdisc/model/equilibria"
	"underdisc/viz/paper"
)

// Where the two charts of a map stand.
const (
	mapLeft, mapRight   = 130.0, 1140.0
	mapTop, mapBottom   = 150.0, 560.0
	seatTop, seatBottom = 640.0, 830.0
	seatLow             = 1.0 // um, the least lift that the lower chart shows
)

var (
	stablePen   = paper.Pen{Color: paper.Deep, Width: 5.5}
	unstablePen = paper.Pen{Color: paper.Ink, Width: 2.6, Dash: []float64{11, 8}}
	wavePen     = paper.Pen{Color: paper.Deep, Width: 5.5, Dash: []float64{3, 8}}
	jumpPen     = paper.Pen{Color: paper.Faded, Width: 1.8}
)

// Page draws the first of the maps: lift against pressure twice, in millimetres
// and, near the seat, by its logarithm in micrometres. Stable equilibria are thick
// and unbroken, unstable thin and dashed; arrows are what a slow rise and fall of
// pressure does; a fold has a number, which the words beside it explain.
func (y *Maps) Page() *paper.Page {
	m := y.Maps[0]
	page := &paper.Page{}
	title := "Where the disc of " + m.Valve + " can stand"
	if m.Pilot != equilibria.None {
		title += ", its pilot " + pilotWord(m.Pilot)
	}
	heading(page, title, y.Title)
	low, high := mapSpan(m)
	pressure := paper.NewAxis(low, high, 8)
	whole := &paper.Panel{Box: paper.Rect{Left: mapLeft, Top: mapTop, Right: mapRight, Bottom: mapBottom}, Heading: "Lift, mm", Time: pressure,
		Value: paper.NewAxis(0, 1.08*m.Travel*milli, 7), Clock: m.Kind != "spring-valve"}
	charts := []*paper.Panel{whole}
	scale := []func(x float64) float64{func(x float64) float64 { return x * milli }}
	if m.Kind == "spring-valve" {
		near := &paper.Panel{Box: paper.Rect{Left: mapLeft, Top: seatTop, Right: mapRight, Bottom: seatBottom}, Heading: "Near the seat: lift, um, each step ten times the last", Time: pressure,
			Value: paper.Decades(math.Log10(seatLow), 3), Clock: true}
		charts = append(charts, near)
		scale = append(scale, func(x float64) float64 { return math.Log10(math.Max(x*1e6, 1e-3)) })
	} else {
		whole.Box.Bottom = seatBottom
	}
	for k, n := range charts {
		n.Draw(page)
		y.curves(page, n, scale[k], k == 0)
	}
	bottom := charts[len(charts)-1].Box.Bottom
	page.Text(saidFont, paper.Point{X: (mapLeft + mapRight) / 2, Y: bottom + 62}, paper.Centred, "pressure in the vessel, bar gauge")
	y.beside(page)
	return page
}

// mapSpan is the stretch of pressures in which something happens, bar gauge.
func mapSpan(m *equilibria.Map) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	see := func(p float64) {
		if !math.IsNaN(p) {
			low, high = math.Min(low, gauge(m, p)), math.Max(high, gauge(m, p))
		}
	}
	see(m.Simmer)
	for i := range m.Folds {
		see(m.Folds[i].Vessel)
	}
	for _, b := range m.Branches {
		if b.Kind == equilibria.Lifted || b.Kind == equilibria.Unstable {
			see(b.Points[0].Vessel)
			see(b.Points[len(b.Points)-1].Vessel)
		}
	}
	if !(high > low) {
		return 0, gauge(m, m.Highest)
	}
	if m.Pop != nil { // what a rise far beyond the pop would do is not the point
		high = math.Min(high, gauge(m, m.Pop.Vessel)+1.2*(gauge(m, m.Pop.Vessel)-low))
	}
	room := 0.12 * (high - low)
	return math.Max(0, low-room), high + room
}

// curves draws a map's curves, jumps and the numbers of its folds in one chart.
func (y *Maps) curves(page *paper.Page, n *paper.Panel, scale func(float64) float64, whole bool) {
	m := y.Maps[0]
	place := func(p equilibria.Point) paper.Point { return paper.Point{X: gauge(m, p.Vessel), Y: scale(p.Lift)} }
	for _, j := range m.Loop {
		x := gauge(m, j.Vessel)
		n.Arrow(page, jumpPen, paper.Point{X: x, Y: scale(j.From)}, paper.Point{X: x, Y: scale(j.To)})
	}
	for _, b := range m.Branches {
		for from := 0; from+1 < len(b.Points); {
			// As far as the look of the line stays.
			pen := penOf(b, from)
			to := from + 1
			for to+1 < len(b.Points) && slices.Equal(penOf(b, to).Dash, pen.Dash) {
				to++
			}
			line := make([]paper.Point, 0, to-from+1)
			for _, p := range b.Points[from : to+1] {
				line = append(line, place(p))
			}
			n.Path(page, pen, line...)
			from = to
		}
	}
	const clear = 26.0
	for i, f := range m.Folds {
		q := place(f.Point)
		small := f.Lift < 0.02*m.Travel
		if !n.Shows(q) || whole && small && m.Kind == "spring-valve" {
			continue
		}
		x, y := n.X(q.X), n.Y(q.Y)
		side := clear
		if f.Kind == equilibria.Reseats {
			side = -clear
		}
		page.Badge(paper.Point{X: math.Max(n.Box.Left+16, math.Min(x+side, n.Box.Right-16)), Y: math.Max(n.Box.Top+16, math.Min(y, n.Box.Bottom-16))}, 15, fmt.Sprint(i+1))
	}
}

// penOf is the look of a branch from one of its points on.
func penOf(b equilibria.Branch, i int) paper.Pen {
	switch {
	case !b.Stable:
		return unstablePen
	case rings(b, i) && rings(b, i+1):
		return wavePen
	}
	return stablePen
}

// rings tells whether a wave in the inlet pipe grows about a lift in balance. While
// it simmers, waves of micrometres grow earlier; they are in the table.
func rings(b equilibria.Branch, i int) bool {
	return b.Kind == equilibria.Lifted && b.Points[i].Wave < 0
}

// beside writes the numbers right of the charts.
func (y *Maps) beside(page *paper.Page) {
	const left, width = 1186.0, 380.0
	m := y.Maps[0]
	at := mapTop + 6
	put := func(f paper.Font, text string) {
		for _, line := range paper.Wrap(f, width, text) {
			page.Text(f, paper.Point{X: left, Y: at}, paper.FromLeft, line)
			at += 31
		}
	}
	for i, f := range m.Folds {
		if i == 6 {
			break // the table has them all
		}
		page.Badge(paper.Point{X: left + 15, Y: at - 8}, 15, fmt.Sprint(i+1))
		page.Text(strongFont, paper.Point{X: left + 42, Y: at}, paper.FromLeft, fmt.Sprintf("%s %.2f bar, %s", f.Kind, gauge(m, f.Vessel), tiny(f.Lift)))
		at += 36
	}
	at += 10
	said := mapSentences(m)
	if len(y.Maps) > 1 {
		said = append(said, "Pilot "+pilotWord(y.Maps[1].Pilot)+": "+mapSentences(y.Maps[1])[0])
	}
	for _, s := range said {
		put(markFont, s)
		at += 9
	}
	at += 6
	leaves := slices.ContainsFunc(m.Branches, func(b equilibria.Branch) bool { return !b.Stable })
	for _, k := range []struct {
		pen  paper.Pen
		text string
		used bool
	}{{stablePen, "stays there", true}, {wavePen, "a wave in the inlet grows", ringing(m) != ""}, {unstablePen, "leaves it either way", leaves}, {jumpPen, "jumps, slowly driven", len(m.Loop) > 0}} {
		if !k.used || at > seatBottom {
			continue
		}
		page.Line(k.pen, paper.Point{X: left, Y: at - 8}, paper.Point{X: left + 70, Y: at - 8})
		page.Text(markFont, paper.Point{X: left + 84, Y: at}, paper.FromLeft, k.text)
		at += 33
	}
	page.Title += " " + strings.Join(said, " ")
}
