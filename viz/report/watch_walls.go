package report

import "math"

// wallWatch is how warm one wall was.
type wallWatch struct {
	wallPlace
	low, high, lowAt, highAt float64 // K, s
	before                   float64 // just before the first lift, K; NaN without one
	peak, peakAt             float64 // after the last reseat, K, s; NaN without one
	rising                   bool    // at the end it has not been warmer since
}

// wallWatch finds how warm a wall was, to the moment.
func (rec *Record) wallWatch(v *ValveRecord, wall int, p wallPlace, seen []sighting) (wallWatch, error) {
	w := wallWatch{wallPlace: p, before: math.NaN(), peak: math.NaN(), peakAt: math.NaN()}
	// sharpen finds the extreme beside the look i, which is the best of those from
	// the moment from on.
	sharpen := func(i int, from, sign float64) (at, best float64, err error) {
		lo, hi := math.Max(seen[max(i-1, 0)].t, from), seen[min(i+1, len(seen)-1)].t
		at, best, err = highest(lo, hi, seen[i].t, func(t float64) (float64, error) {
			s, _, err := rec.Run.At(t)
			if err != nil {
				return 0, err
			}
			return sign * p.wall(&s.Valves[v.Index]).T, nil
		})
		return at, sign * best, err
	}
	extreme := func(from, sign float64) int {
		best := -1
		for i := range seen {
			if seen[i].t >= from && (best < 0 || sign*seen[i].walls[wall] > sign*seen[best].walls[wall]) {
				best = i
			}
		}
		return best
	}
	var err error
	if w.lowAt, w.low, err = sharpen(extreme(0, -1), 0, -1); err != nil {
		return w, err
	}
	if w.highAt, w.high, err = sharpen(extreme(0, 1), 0, 1); err != nil {
		return w, err
	}
	if len(v.Lifts) == 0 {
		return w, nil
	}
	e := &rec.Run.Sim.Events()[v.Lifts[0].turns[leavesSeat]]
	was, _ := rec.Run.AtEvent(e)
	w.before = p.wall(&was.Valves[v.Index]).T
	last := v.Lifts[len(v.Lifts)-1]
	if !last.Reseated {
		return w, nil
	}
	i := extreme(last.Seated, 1)
	if w.peakAt, w.peak, err = sharpen(i, last.Seated, 1); err != nil {
		return w, err
	}
	w.rising = i == len(seen)-1
	return w, nil
}

// highest finds the highest value between two moments, and when it is, to a
// hundredth of a second; start is a moment that is known to be near it. Each time
// the worse outer third is given up.
func highest(lo, hi, start float64, value func(t float64) (float64, error)) (at, best float64, err error) {
	best = math.Inf(-1)
	look := func(t float64) float64 {
		x, failed := value(t)
		if failed != nil {
			err = failed
		}
		if x > best {
			at, best = t, x
		}
		return x
	}
	look(start)
	for hi-lo > 0.01 && err == nil {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if look(a) > look(b) {
			hi = b
		} else {
			lo = a
		}
	}
	return at, best, err
}
