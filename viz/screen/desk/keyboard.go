package desk

import (
	"math"
	"strconv"
	"strings"

	"underdisc/viz/scene"
)

// Shown is what of the picture the keyboard and the pointer need: the places
// that can be reached, and what the charts and the ribbon show.
type Shown struct {
	Spots []scene.Spot
	Axis  scene.Axis      // of the charts
	Pins  [2][]scene.Mark // of the one run or of both
}

// Items are what is on the open panel now; nil if none is open.
func (d *Desk) Items() []Item {
	if d.panel == nil {
		return nil
	}
	return d.panel.Items(d)
}

// Focus is the name of the stop that has it; empty: none.
func (d *Desk) Focus() string { return d.focus }

// Typing tells whether a field has the focus, so that keys are letters.
func (d *Desk) Typing() bool { return d.typing }

// SetFocus gives it to a stop of that name, and reads it out; to none if there
// is none.
func (d *Desk) SetFocus(name string, stops []Stop) {
	was := d.focus
	d.focus, d.typing = "", false
	for i := range stops {
		if stops[i].Name() == name {
			d.focus = name
			d.typing = stops[i].Item != nil && stops[i].Item.Kind == Field
			if name != was {
				d.out.Status(stops[i].Says(d))
			}
			break
		}
	}
	if d.focus != was {
		d.changes++
	}
}

// Tend takes the focus away from what is no longer there, and gives it to the
// first thing to be done on a panel that has just opened.
func (d *Desk) Tend(stops []Stop) {
	for i := range stops {
		if stops[i].Name() == d.focus {
			return
		}
	}
	first := ""
	if d.panel != nil && len(stops) > 0 {
		first = stops[0].Name()
		for i := range stops {
			if it := stops[i].Item; it.Kind == List { // what the panel is for
				first = stops[i].Name()
				break
			}
		}
	}
	if first != d.focus {
		d.SetFocus(first, stops)
	}
}

func (d *Desk) at(stops []Stop) (Stop, int) {
	for i := range stops {
		if stops[i].Name() == d.focus {
			return stops[i], i
		}
	}
	return Stop{}, -1
}

// move gives the focus to the n-th stop from here, round the end.
func (d *Desk) move(n int, stops []Stop) {
	if len(stops) == 0 {
		return
	}
	_, i := d.at(stops)
	switch {
	case i < 0 && n > 0:
		i = 0
	case i < 0:
		i = len(stops) - 1
	default:
		i = (i + n + len(stops)) % len(stops)
	}
	d.SetFocus(stops[i].Name(), stops)
}

// Key does what a key means now; it tells whether it means anything. In a field
// only the keys that leave it or step its value do.
func (d *Desk) Key(k Key, stops []Stop, sh Shown) bool {
	here, _ := d.at(stops)
	if !k.Ctrl {
		switch k.Name {
		case "Tab":
			if k.Shift {
				d.move(-1, stops)
			} else {
				d.move(1, stops)
			}
			return true
		case "Escape":
			d.Forget()
			d.Close()
			return true
		case "Enter":
			return d.Enter(here, sh)
		case "Up", "Down", "Left", "Right", "Home", "End":
			return d.arrow(k.Name, here, stops, sh)
		}
	}
	if d.typing {
		return false
	}
	c := CommandFor(k)
	if c == nil {
		return false
	}
	d.Run(c)
	return true
}

// Enter does what a stop is for.
func (d *Desk) Enter(s Stop, sh Shown) bool {
	switch {
	case s.Command != nil:
		d.Run(s.Command)
	case s.Item != nil:
		return d.enterItem(s.Item)
	case s.Spot != nil:
		d.enterSpot(s.Spot, sh)
	default:
		return false
	}
	return true
}

func (d *Desk) enterItem(it *Item) bool {
	switch {
	case it.Off:
		return false
	case it.Do != nil:
		it.Do()
	case it.Kind == Choice && len(it.Options) > 0:
		it.Pick((it.Picked + 1) % len(it.Options))
	case it.Kind == List && it.Picked < 0 && len(it.Options) > 0:
		it.Pick(0)
	default:
		return false
	}
	d.changes++
	return true
}

// enterSpot goes to the moment of a pin, opens what works a block valve, and
// reads out anything else.
func (d *Desk) enterSpot(s *scene.Spot, sh Shown) {
	if m, ok := sh.pin(s); ok {
		if m.Done {
			d.done(d.Session.Seek(m.T))
			d.changes++
		} else {
			d.tell(upper(m.Name)+" is still to come.", true)
		}
		return
	}
	if s.Name == "valve" {
		d.Run(Find("valve"))
		return
	}
	if strings.Contains(s.Name, "block valve") || s.Name == "lever" || s.Name == "gag" {
		d.Run(Find("act"))
		return
	}
	d.out.Status(s.Name + ": " + s.Says)
}

// pin is the mark that a spot of the ribbon stands for.
func (sh *Shown) pin(s *scene.Spot) (scene.Mark, bool) {
	lane, number, ok := strings.Cut(s.Name, "pin ")
	if !ok {
		return scene.Mark{}, false
	}
	pins := sh.Pins[0]
	if strings.Contains(lane, "B") {
		pins = sh.Pins[1]
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(pins) {
		return scene.Mark{}, false
	}
	return pins[n-1], true
}

// arrow moves along a list, a choice, a value, the charts; elsewhere it moves
// the focus.
func (d *Desk) arrow(name string, here Stop, stops []Stop, sh Shown) bool {
	n := 1
	if name == "Up" || name == "Left" {
		n = -1
	}
	upright := name == "Up" || name == "Down"
	if it := here.Item; it != nil {
		switch {
		case it.Kind == Field && !upright:
			return false // the caret's
		case it.Kind == Field && it.Step != nil:
			it.Step(-n) // up is more
			return true
		case it.Kind == List && name != "Home" && name != "End":
			d.along(it, n)
			return true
		case it.Kind == Choice && !upright && name != "Home" && name != "End":
			d.along(it, n)
			return true
		}
	}
	if here.Spot != nil && here.Spot.Name == "charts" && !upright {
		d.alongCharts(name, n, sh)
		return true
	}
	if name == "Home" || name == "End" {
		return false
	}
	d.move(n, stops)
	return true
}

func (d *Desk) along(it *Item, n int) {
	if len(it.Options) == 0 {
		return
	}
	to := it.Picked + n
	if it.Picked < 0 {
		to = 0
	}
	if to < 0 || to >= len(it.Options) {
		return
	}
	it.Pick(to)
	d.changes++
}

// alongCharts moves the moment shown by a hundredth of the charts' width.
func (d *Desk) alongCharts(name string, n int, sh Shown) {
	to := d.Session.T() + float64(n)*(sh.Axis.To-sh.Axis.From)/100
	switch name {
	case "Home":
		to = sh.Axis.From
	case "End":
		to = d.Session.Head()
	}
	if to > d.Session.Head() && d.Session.T() >= d.Session.Head() {
		d.done(d.Session.Step(1))
	} else {
		d.done(d.Session.Seek(to))
	}
	d.changes++
	d.out.Status(scene.Span(d.Session.T()))
}

// Point does what a click on the picture means: it gives the focus to what is
// there, and goes to the moment of a chart or a pin.
func (d *Desk) Point(p scene.Point, stops []Stop, sh Shown) {
	var at *scene.Spot
	area := math.Inf(1)
	for i := range sh.Spots {
		if s := &sh.Spots[i]; within(p, s.At) && s.At.Width()*s.At.Height() < area {
			at, area = s, s.At.Width()*s.At.Height()
		}
	}
	if at == nil {
		return
	}
	if d.panel == nil {
		d.SetFocus(Stop{Spot: at}.Name(), stops)
	}
	a := sh.Axis
	m, pin := sh.pin(at)
	switch {
	case at.Name == "charts" && a.Right > a.Left && p.X >= a.Left && p.X <= a.Right:
		d.done(d.Session.Seek(a.From + (p.X-a.Left)/(a.Right-a.Left)*(a.To-a.From)))
	case pin && m.Done:
		d.done(d.Session.Seek(m.T))
	default:
		return
	}
	d.changes++
}

func within(p scene.Point, r scene.Rect) bool {
	return p.X >= r.Left && p.X <= r.Right && p.Y >= r.Top && p.Y <= r.Bottom
}
