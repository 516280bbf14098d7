package desk

import (
	"fmt"
	"math"
	"strconv"

	"underdisc/viz/scene"
	"underdisc/viz/session"
)

// PaceWords say how time goes: the state, and the measure.
func PaceWords(p session.Pace) (state, measure string) {
	measure = "1 s here = " + span(p.Given) + " there"
	switch {
	case p.Seeks:
		return "looking for the next event", ""
	case !p.Runs:
		return "held", "1 s here = " + span(p.Asked) + " there"
	case p.Behind:
		return "cannot keep up", measure
	case p.Slowed:
		return "slowed by itself", measure
	}
	return "running", measure
}

// span writes a rate's stretch of time with no more digits than it has.
func span(s float64) string {
	switch {
	case s < 0.9995:
		return short(1e3*s) + " ms"
	case s < 9999.5:
		return short(s) + " s"
	}
	return scene.Span(math.Round(s))
}

func short(x float64) string {
	p := math.Pow(10, math.Floor(math.Log10(math.Max(x, 1e-9)))-1)
	return strconv.FormatFloat(math.Round(x/p)*p, 'f', -1, 64)
}

// StateLine is the state of everything in one line, for whoever watches from
// outside.
func (d *Desk) StateLine() string {
	state, _ := PaceWords(d.Session.Pace())
	line := fmt.Sprintf("t=%.6f head=%.6f lanes=%d %s", d.Session.T(), d.Session.Head(), len(d.Session.Lanes()), state)
	if d.panel != nil {
		line += "; panel " + d.panel.Title()
	}
	return line
}
