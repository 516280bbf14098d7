package main

import (
	"time"

	"underdisc/model/unit"
	"underdisc/viz/session"
)

// slowed are the moments that the live picture shows between the first and the
// last of these, at real time and slowed down by itself.
func (c *printCmd) slowed(even []float64) ([]float64, error) {
	if c.At != "" {
		return nil, bad("found --slowed for one moment, want a sequence")
	}
	r := runCmd{Scenario: c.Scenario, Set: c.Set, Fault: c.Fault, Do: c.Do, Code: c.Code}
	sc, _, rtol, err := r.read()
	if err != nil {
		return nil, err
	}
	s, err := session.New(sc, session.Options{RelTol: rtol})
	if err != nil {
		return nil, cannotStart(sc, err)
	}
	every, err := unit.Parse(c.Every, unit.Time)
	if err != nil {
		return nil, bad("--every: found %w", err)
	}
	if most := time.Second; every > most.Seconds() {
		return nil, bad("--every: found %q, want at most 1 s with --slowed", c.Every)
	}
	from, to := even[0], even[len(even)-1]
	var out []float64
	s.Go()
	for s.T() < to {
		if s.T() >= from {
			out = append(out, s.T())
		}
		if len(out) >= mostPictures {
			return nil, bad("--every: found %q, which makes more than %d pictures", c.Every, mostPictures)
		}
		if err := s.Tick(time.Duration(every * float64(time.Second))); err != nil {
			return nil, err
		}
	}
	return append(out, to), nil
}
