package screen

import (
	"errors"
	"math"
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"underdisc/viz/scene"
	"underdisc/viz/screen/desk"
	"underdisc/viz/screen/paint"
)

// Game is the live picture as the game library runs it.
type Game struct {
	o    Options
	host Host
	desk *desk.Desk
	logs *logs
	last keptRun // what was kept when the program ended last

	board   *board
	painter *paint.Painter
	picture picture
	items   []desk.Item
	listed  int // the desk's changes when the items were listed
	stops   []desk.Stop
	shown   desk.Shown

	size    scene.Point // of the window, units of the picture
	scale   float64     // pixels to one
	pressed []ebiten.Key
	ringed  bool // the focus is shown: the keyboard was used last

	n       int           // ticks
	clock   time.Time     // of the last tick
	drawn   int           // at which tick the picture was painted last
	need    bool          // it must be painted again
	stood   standing      // what it was painted for
	now     time.Duration // wall time so far
	told    time.Duration // when the twin was
	twin    string
	untold  bool          // what was painted last
	noticed time.Duration // when the notice that is shown came up
	notice  string
	left    int    // ticks since the person has wanted to end it
	state   string // for whoever watches
	full    bool
	sound   speaker
}

// standing is all that decides how the picture looks. While it is the same,
// nothing is painted.
type standing struct {
	t       float64
	lanes   int
	changes int
	runs    bool
	past    bool // the moment shown is before the latest
	size    scene.Point
	scale   float64
}

// New makes the game. It may be called before there is a screen.
func New(o Options) (*Game, error) {
	if o.Scenario == nil {
		return nil, errors.New("no scenario to show")
	}
	g := &Game{o: o, host: o.Host, painter: paint.New(), scale: 1}
	if g.host == nil {
		g.host = nobody{}
	}
	g.last.name, g.last.data, g.last.ok = g.host.Kept()
	g.sound.start = o.Hear
	g.logs = &logs{o: &g.o, host: g.host}
	var err error
	files := desk.Files{Log: g.logs.saved, Read: read, Start: g.logs.open, Kept: g.kept}
	if f, ok := g.host.(finder); ok {
		files.Found, files.Take = f.Found, f.Take
	}
	g.desk, err = desk.New(o.Scenario, g.host, files)
	if err != nil {
		return nil, err
	}
	g.logs.head = func() float64 { return g.desk.Session.Head() }
	g.desk.Units, g.desk.Projector = o.Look.Units, o.Look.Projector
	g.picture.desk = g.desk
	g.board = newBoard(g.desk, g.clicked)
	return g, nil
}

// keptRun is a log that a host has kept.
type keptRun struct {
	name string
	data []byte
	ok   bool
}

func (g *Game) kept() (string, []byte, bool) { return g.last.name, g.last.data, g.last.ok }

// Desk is what can be done, for tests.
func (g *Game) Desk() *desk.Desk { return g.desk }

// LayoutF implements ebiten.LayoutFer: as many pixels as the screen has.
func (g *Game) LayoutF(w, h float64) (float64, float64) {
	s := ebiten.Monitor().DeviceScaleFactor()
	if !(s > 0) {
		s = 1
	}
	size := scene.Point{X: math.Max(w, 320), Y: math.Max(h, 200)}
	if size != g.size || s != g.scale {
		g.size, g.scale, g.need = size, s, true
	}
	return math.Ceil(w * s), math.Ceil(h * s)
}

// Layout implements ebiten.Game; LayoutF is what is used.
func (g *Game) Layout(w, h int) (int, int) { return w, h }

// Update implements ebiten.Game.
func (g *Game) Update() error {
	g.n++
	wall := g.wall()
	g.now += wall
	if g.picture.scene != nil {
		g.keys(g.key)
		g.board.update()
		g.point()
	}
	if err := g.desk.Session.Tick(wall); err != nil {
		g.desk.Trouble(err)
	}
	g.picture.pass(wall)
	g.wishes()
	g.look()
	if g.n%6 == 1 || g.need {
		g.state = g.desk.StateLine()
	}
	g.host.Ticked(g.n, g.state)
	select {
	case <-g.o.Done:
		return g.end()
	default:
	}
	if g.desk.Quits {
		g.left++
	}
	if g.left > lastTicks {
		return g.end()
	}
	return nil
}

// lastTicks are left between the wish to end and the end: the key is let go
// here rather than in the window below.
const lastTicks = 2

// end closes everything.
func (g *Game) end() error {
	if err := errors.Join(g.sound.stop(), g.desk.Session.Close()); err != nil {
		return err
	}
	return ebiten.Termination
}

// wall is the time that has passed since the last tick.
func (g *Game) wall() time.Duration {
	if g.o.Tick > 0 {
		return g.o.Tick
	}
	now := time.Now()
	d := now.Sub(g.clock)
	if g.clock.IsZero() {
		d = 0
	}
	g.clock = now
	return d
}

func (g *Game) key(k desk.Key) {
	g.refresh() // the spots say what they say now
	if g.desk.Key(k, g.stops, g.shown) {
		g.ringed = true
		g.refresh()
	}
}

// refresh makes what the keyboard goes through anew, when it may have changed.
// The items are those that the widgets were made of, unless the panel has
// changed since.
func (g *Game) refresh() {
	if g.listed != g.desk.Changes() {
		g.listed, g.items = g.desk.Changes(), g.desk.Items()
	}
	g.stops = g.desk.Stops(g.items, g.shown.Spots)
	g.desk.Tend(g.stops)
}

// clicked does what a click on a button or a field means.
func (g *Game) clicked(s desk.Stop) {
	g.ringed = false
	name := s.Name()
	if g.desk.Panel() != nil || s.Command == nil {
		g.desk.SetFocus(name, g.stops)
	}
	switch {
	case s.Command != nil:
		g.desk.Enter(s, g.shown)
	case s.Item != nil && s.Item.Kind == desk.Press && s.Item.Do != nil:
		s.Item.Do()
		g.desk.Touch()
	}
	g.refresh()
}

// point lets a click on the picture itself do what it means.
func (g *Game) point() {
	p := &g.board.pointer
	if !p.down || p.was || p.over() {
		return
	}
	g.refresh()
	g.ringed = false
	g.desk.Point(scene.Point{X: float64(p.at.X) / g.scale, Y: float64(p.at.Y) / g.scale}, g.stops, g.shown)
}

// wishes carries out what the desk wants of the window.
func (g *Game) wishes() {
	if g.desk.Full != g.full {
		g.full = g.desk.Full
		ebiten.SetFullscreen(g.full)
	}
	if err := g.sound.follow(g.desk, g.picture.shown()); err != nil {
		g.desk.Sound = false
		g.desk.Trouble(err)
	}
	line, refused := g.desk.Notice()
	if line != g.notice {
		g.notice, g.noticed = line, g.now
	}
	if g.untold {
		g.say()
	}
	const stays = 6 * time.Second
	if line != "" && !refused && g.now-g.noticed > stays {
		g.desk.Forget()
	}
}

// look finds out whether the picture must be painted again.
func (g *Game) look() {
	p := g.desk.Session.Pace()
	now := standing{t: g.desk.Session.T(), lanes: len(g.desk.Session.Lanes()), changes: g.desk.Changes(), runs: p.Runs || p.Seeks,
		past: g.desk.Session.T() < g.desk.Session.Head(), size: g.size, scale: g.scale}
	was := g.stood
	g.stood = now
	was.t, now.t = 0, 0
	if was != now || g.picture.scene == nil {
		g.need = true
		g.picture.rebuild = true
	} else if g.stood.t != g.picture.t {
		g.need = true
	}
	const caretEvery, paceEvery = 20, 6
	if g.desk.Typing() && g.n%caretEvery == 0 {
		g.board.stale = true
	}
	if g.n%paceEvery == 0 && g.picture.scene != nil {
		g.board.setPace()
	}
	g.need = g.need || g.board.stale
}

// ticksPerPicture is at most how often it is painted: thirty times a second.
const ticksPerPicture = 2

// Draw implements ebiten.Game.
func (g *Game) Draw(screen *ebiten.Image) {
	if !g.need || g.size.X == 0 || g.drawn > 0 && g.n-g.drawn < ticksPerPicture && g.n != g.drawn {
		return
	}
	g.need, g.drawn = false, g.n
	if err := g.compose(); err != nil {
		g.desk.Trouble(err)
		return
	}
	g.painter.Paint(screen, g.picture.scene, g.scale)
	g.board.draw()
	g.board.lay(screen)
	if at, ok := g.ring(); ok {
		g.picture.ring(screen, at, g.scale)
	}
	g.say()
}
