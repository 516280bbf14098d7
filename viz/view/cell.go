package view

import "math"

// cell is the time from one line of the grid to the next.
type cell struct {
	level  int   // the spacing is two to this, s
	at     int64 // its number: it begins at this many spacings
	filled bool
	upTo   float64 // how far it has been sampled, itself not included, s
	line   probe   // at its beginning
	rest   []probe // in order of time
	events int     // in it, dropped ones too
}

func (c *cell) begins() float64 { return math.Ldexp(float64(c.at), c.level) }
func (c *cell) ends() float64   { return math.Ldexp(float64(c.at+1), c.level) }

// is tells whether it has been sampled as that of a level and number.
func (c *cell) is(level int, at int64) bool { return c.filled && c.level == level && c.at == at }

// sift drops what does not stand out.
func (c *cell) sift() {
	all := c.events > fewEvents
	for i := range c.rest {
		c.rest[i].keep = c.rest[i].event && !all
	}
	if all {
		for i := range c.rest {
			if c.rest[i].event {
				c.rest[i].keep = true
				break
			}
		}
		for i := len(c.rest) - 1; i >= 0; i-- {
			if c.rest[i].event {
				c.rest[i].keep = true
				break
			}
		}
	}
	for k := range followed {
		low, high := -1, -1
		for i := range c.rest {
			p := &c.rest[i]
			if p.event && !all {
				continue
			}
			if low < 0 || p.y[k] < c.rest[low].y[k] {
				low = i
			}
			if high < 0 || p.y[k] > c.rest[high].y[k] {
				high = i
			}
		}
		if low >= 0 {
			c.rest[low].keep, c.rest[high].keep = true, true
		}
	}
	kept := c.rest[:0]
	for i := range c.rest {
		if c.rest[i].keep {
			kept = append(kept, c.rest[i])
		}
	}
	c.rest = kept
}
