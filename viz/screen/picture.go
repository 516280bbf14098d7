package screen

import (
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/screen/desk"
	"underdisc/viz/session"
	"underdisc/viz/view"
)

// picture makes the scene of the moment, or of two runs at that moment.
type picture struct {
	desk    *desk.Desk
	drawer  scene.Drawer
	eyes    [2]eye
	pair    scene.Pair
	scene   *scene.Scene
	t       float64 // of which moment
	rebuild bool    // the widgets must be made again

	passed time.Duration // wall time that the marks of flow have yet to go on for
	dot    *ebiten.Image
}

// eye looks at one run.
type eye struct {
	run   *live.Run
	valve int
	lens  *view.Lens
	drift scene.Drift
	view  *scene.View
}

// pass lets wall time pass for the marks of flow; they stand while the run is
// held.
func (p *picture) pass(wall time.Duration) {
	if p.desk.Session.Pace().Runs {
		p.passed = min(p.passed+wall, time.Second/10)
	}
}

// at is the view of a lane at a time.
func (e *eye) at(l *session.Lane, t float64, o view.Options, passed time.Duration) (*scene.View, error) {
	if e.run != l.Run || e.valve != o.Valve {
		e.run, e.valve, e.lens = l.Run, o.Valve, view.NewLens(l.Run, o.Valve)
	}
	v, err := e.lens.At(t, o)
	if err != nil {
		return nil, err
	}
	e.drift = v.DriftAfter(e.drift, passed.Seconds())
	v.Drift, v.Controls = e.drift, true
	e.view = v
	return v, nil
}

// make makes the scene for a size.
func (p *picture) make(size scene.Point) error {
	d := p.desk
	t := d.Session.T()
	o := view.Options{Size: size, Units: d.Units, Projector: d.Projector, Valve: d.Valve, Ahead: true}
	lanes := d.Session.Lanes()
	passed := p.passed
	p.passed = 0
	if d.Beside && len(lanes) > 1 {
		a, err := p.eyes[0].at(lanes[0], t, o, passed)
		if err != nil {
			return err
		}
		b, err := p.eyes[1].at(lanes[1], t, o, passed)
		if err != nil {
			return err
		}
		p.pair = scene.Pair{A: a, B: b, Forks: lanes[1].Forks, Differs: d.Session.Differs()}
		p.scene = p.drawer.DrawPair(&p.pair)
	} else {
		i := min(d.Shown, len(lanes)-1)
		v, err := p.eyes[i].at(lanes[i], t, o, passed)
		if err != nil {
			return err
		}
		p.scene = p.drawer.Draw(v)
	}
	p.t = t
	return nil
}

// shown is the view of the lane that is shown, or of the first of two.
func (p *picture) shown() *scene.View {
	i := min(p.desk.Shown, len(p.desk.Session.Lanes())-1)
	if p.desk.Beside {
		i = 0
	}
	return p.eyes[i].view
}

// compose makes scene and widgets for the moment.
func (g *Game) compose() error {
	p := &g.picture
	if err := p.make(g.size); err != nil {
		return err
	}
	g.shown.Spots, g.shown.Axis = p.scene.Focus, p.scene.Axis
	lanes := g.desk.Session.Lanes()
	for i := range g.shown.Pins {
		g.shown.Pins[i] = nil
		if i < len(lanes) && p.eyes[i].view != nil {
			g.shown.Pins[i] = p.eyes[i].view.Pins
		}
	}
	if i := min(g.desk.Shown, len(lanes)-1); i > 0 && !(g.desk.Beside && len(lanes) > 1) {
		g.shown.Pins[0] = g.shown.Pins[i]
	}
	if p.rebuild {
		p.rebuild = false
		g.listed, g.items = g.desk.Changes(), g.desk.Items()
		g.board.build(g.board.look.at(g.size, g.scale, g.desk.Projector), p.scene, g.items)
		g.refresh()
	}
	return nil
}
