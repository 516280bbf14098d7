package flow

import "math"

// hunt is a search between two ends where a function that falls changes its sign.
// It goes by secants through the last two points, the first of them along a slope
// that is expected, and by false position with an end that stays being lowered
// (Anderson and Bjorck, BIT 13, 1973; memory) where those leave the ends or take
// too long. Whoever uses it evaluates the function at x until done. Where it
// starts does not matter beyond rounding.
type hunt struct {
	lo, elo, hi, ehi float64
	x                float64
	slope            float64 // of the function over its size; 0: none expected
	last, before     float64
	side, count      int
	done             bool
}

// trusted is the step, in spans, from which a slope is worth keeping; rounding is
// that in shares of x in which a secant is nothing but round-off.
const trusted, rounding = 1e-6, 1e-15

// secants is after how many points false position takes over.
const secants = 8

// tell takes the function's value at x, the size of the terms that it is the
// difference of, and the distance over which it changes much.
func (h *hunt) tell(e, size, span float64) {
	h.count++
	if !(math.Abs(e) >= equal*size) || h.count > 100 {
		h.done = true
		return
	}
	next := math.NaN()
	if h.count > 1 {
		step := h.x - h.last
		slope := (e - h.before) / step
		if math.Abs(step) > trusted*span {
			h.slope = slope / size
		}
		next = h.x - e/slope
		more := math.Abs(next - h.x)
		switch {
		case math.Abs(step) < rounding*h.x:
			h.end(h.x)
			return
		case math.Abs(step) < settled*span && more <= math.Abs(step):
			h.end(next) // free of charge
			return
		}
	} else if h.slope != 0 {
		next = h.x - e/(size*h.slope)
	}
	h.last, h.before = h.x, e
	if e > 0 {
		if h.side > 0 {
			h.ehi *= relief(e, h.elo)
		}
		h.lo, h.elo, h.side = h.x, e, 1
	} else {
		if h.side < 0 {
			h.elo *= relief(e, h.ehi)
		}
		h.hi, h.ehi, h.side = h.x, e, -1
	}
	if !(next > h.lo && next < h.hi) || h.count > secants {
		next = h.chord()
		if !(next > h.lo && next < h.hi) {
			h.end(next)
			return
		}
	}
	h.x = next
}

// chord is where the chord between the ends crosses zero.
func (h *hunt) chord() float64 { return h.lo + (h.hi-h.lo)*(h.elo/(h.elo-h.ehi)) }

func (h *hunt) end(x float64) {
	h.x, h.done = min(max(x, h.lo), h.hi), true
}
