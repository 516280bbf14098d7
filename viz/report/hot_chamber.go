package report

import "math"

// hotChamber is steam in the chamber of a shut valve that is hotter than what it
// comes from.
type hotChamber struct {
	at, t, vessel float64 // s; K, of chamber and vessel
	half          float64 // s from then until it is half as far from its metal; NaN: not in the run
}

// hotter is by how many kelvins steam in the chamber must be hotter than the
// vessel to be told.
const hotter = 5.0

// hottest finds where, with the disc shut, the steam in the chamber was hottest
// beside the vessel.
func (rec *Record) hottest(v *ValveRecord, seen []sighting) (hotChamber, error) {
	h := hotChamber{half: math.NaN()}
	best := -1
	for i := range seen {
		if x := seen[i].above(); x > hotter && (best < 0 || x > seen[best].above()) {
			best = i
		}
	}
	if best < 0 {
		return h, nil
	}
	look := func(t float64) (sighting, error) { return rec.sighting(v.Index, t, nil) }
	from, to := seen[max(best-1, 0)].t, seen[min(best+1, len(seen)-1)].t
	at, _, err := highest(from, to, seen[best].t, func(t float64) (float64, error) {
		s, err := look(t)
		return s.above(), err
	})
	if err != nil {
		return h, err
	}
	top, err := look(at)
	if err != nil {
		return h, err
	}
	h.at, h.t, h.vessel = at, top.chamber, top.vessel
	half := top.overMetal() / 2
	for i := range seen {
		if seen[i].t <= at || seen[i].overMetal() > half {
			continue
		}
		lo, hi := math.Max(seen[i-1].t, at), seen[i].t
		for hi-lo > 0.01 {
			s, err := look((lo + hi) / 2)
			if err != nil {
				return h, err
			}
			if s.overMetal() > half {
				lo = s.t
			} else {
				hi = s.t
			}
		}
		h.half = hi - at
		return h, nil
	}
	return h, nil
}

// above is by how much the steam in the chamber is hotter than the vessel, K;
// nothing while the disc is off its seat.
func (s *sighting) above() float64 {
	if math.IsNaN(s.seat) {
		return math.Inf(-1)
	}
	return s.chamber - s.vessel
}

// overMetal is by how much it is hotter than the metal round it, K, or where that
// has no wall than the vessel.
func (s *sighting) overMetal() float64 {
	if math.IsNaN(s.metal) {
		return s.chamber - s.vessel
	}
	return s.chamber - s.metal
}
