package report

import (
	"math"
	"slices"
)

// watched is what a look along the run tells of one valve.
type watched struct {
	leaks []Leak
	walls []wallWatch
	hot   hotChamber
}

// sighting is one look at a valve.
type sighting struct {
	t               float64   // s
	seat, pilot     float64   // flow past them, kg/s; NaN while they are open
	chamber, vessel float64   // temperature of what is in them, K
	metal           float64   // temperature of the chamber's wall, K; NaN without one
	walls           []float64 // K, as wallsOf lists them
}

// watch looks at a valve at even distances and wherever something happens to it:
// between such moments all that is looked for is smooth.
func (rec *Record) watch(v *ValveRecord) (*watched, error) {
	seen, err := rec.sightings(v)
	if err != nil {
		return nil, err
	}
	w := &watched{}
	w.addLeak("seat", seen, func(s *sighting) float64 { return s.seat })
	w.addLeak("pilot", seen, func(s *sighting) float64 { return s.pilot })
	for i, p := range wallsOf(rec.Run.Present(), v.Index) {
		ww, err := rec.wallWatch(v, i, p, seen)
		if err != nil {
			return nil, err
		}
		w.walls = append(w.walls, ww)
	}
	if rec.steam() {
		w.hot, err = rec.hottest(v, seen)
	}
	return w, err
}

func (rec *Record) sightings(v *ValveRecord) ([]sighting, error) {
	const even = 2000
	until := rec.Until()
	times := []float64{until}
	for k := range even {
		times = append(times, until*float64(k)/even)
	}
	for _, e := range rec.events(v.Index) {
		times = append(times, e.T)
	}
	for _, h := range rec.setIn() {
		times = append(times, h.at)
	}
	walls := wallsOf(rec.Run.Present(), v.Index)
	slices.Sort(times)
	var out []sighting
	for _, t := range slices.Compact(times) {
		look, err := rec.sighting(v.Index, t, walls)
		if err != nil {
			return nil, err
		}
		out = append(out, look)
	}
	return out, nil
}

// sighting is the look at a valve at a moment.
func (rec *Record) sighting(valve int, t float64, walls []wallPlace) (sighting, error) {
	s, m, err := rec.Run.At(t)
	if err != nil {
		return sighting{}, err
	}
	v := &s.Valves[valve]
	look := sighting{t: t, seat: shutFlow(v.Disc.Hold, v.Seat), pilot: shutFlow(v.Pilot.Hold, v.PilotFlow),
		chamber: v.BelowTemperature, metal: math.NaN(), vessel: s.Look.Nodes[m.Valves[valve].Vessel].T}
	if v.ChamberWall.Fitted {
		look.metal = v.ChamberWall.T
	}
	for _, p := range walls {
		look.walls = append(look.walls, p.wall(v).T)
	}
	return look, nil
}
