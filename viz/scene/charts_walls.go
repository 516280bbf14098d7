package scene

import "math"

// wallChart is how warm the metal of tailpipe and dump line has been.
func (s *sheet) wallChart(share float64) *chart {
	zero, size, name := s.v.Units.degrees()
	c := &chart{part: "wall chart", heading: s.say("Wall temperature, ", name), zero: zero, size: size, share: share}
	const low, least = 273.15, 373.15 // K: from freezing to at least boiling
	high := least
	pens := [...]Pen{s.solid(aboveLine), s.dashed(aboveLine, 7, 4)}
	for i, w := range s.v.feltWalls() {
		for _, t := range w.trace {
			if !math.IsNaN(t) {
				high = math.Max(high, t)
			}
		}
		c.curves = append(c.curves, curve{tr: &s.v.Trace, y: w.trace, pen: pens[i], name: w.name, value: s.temperature(s.v.Units, w.now.T), strong: true})
	}
	if w := s.v.feltWalls(); len(w) == 2 && c.curves[0].value == c.curves[1].value { // they share their words
		c.curves[0].name, c.curves[1].name, c.curves[1].value = "both", "", ""
	}
	c.low, c.high = (low-zero)/size, (low+1.06*(high-low)-zero)/size
	c.at, c.decimals = ticks(c.low, c.high, 3)
	return c
}
