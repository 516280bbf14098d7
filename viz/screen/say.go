package screen

import (
	"time"

	"underdisc/viz/screen/desk"
	"underdisc/viz/twin"
)

// twinEvery is how often at most the text twin is told.
const twinEvery = time.Second / 2

// say tells the host in words what has been painted, if that is not too soon
// after the last time; then a later picture does.
func (g *Game) say() {
	if g.untold = g.twin != "" && g.now-g.told < twinEvery; g.untold {
		return
	}
	g.told = g.now
	if text := g.inWords(); text != g.twin {
		g.twin = text
		g.host.Twin(text)
	}
}

// inWords is what has been painted, in words.
func (g *Game) inWords() string {
	p := &g.picture
	var c twin.Clock
	c.State, c.Measure = desk.PaceWords(g.desk.Session.Pace())
	if g.desk.Beside && len(g.desk.Session.Lanes()) > 1 {
		return twin.PairText(&p.pair, p.scene, c)
	}
	return twin.Text(p.shown(), p.scene, c)
}
