package explain

import (
	"math"

	"underdisc/model/plant"
)

// trendShare is how far, as a share of what it is now, a rate of the moment is
// trusted: a boiler that loses a tenth of its pressure has not changed what
// feeds it; one that loses half has. Common practice, no source.
const trendShare = 0.1

// trend says of a change that nobody makes whether it comes by itself.
func (k *freer) trend(f Free, in Opt) Free {
	f.By, f.In = NoWait, in
	if in.Known {
		f.By = Itself
	}
	return f
}

// arrives is the time in which a pressure (Pa) that changes at a rate (Pa/s)
// gets to the needed one, s; absent if it goes the other way or would have to go
// too far for the rate to last.
func arrives(now, rate, needed float64) Opt {
	if math.Abs(needed-now) > trendShare*now || rate == 0 {
		return Opt{}
	}
	return after((needed - now) / rate)
}

// falls adds a pressure that would have to fall.
func (k *freer) falls(q Quantity, now, rate float64, needed Opt) {
	if needed.Known && needed.Value > 0 && needed.Value < now {
		k.add(k.trend(Free{Link: Disc, Quantity: q, Now: now, Needed: needed.Value, Below: true}, arrives(now, rate, needed.Value)))
	}
}

// sensed adds what the place that is sensed would have to get to.
func (k *freer) sensed(needed Opt) {
	c := &k.f.Switch
	f := Free{Link: Switch, Quantity: SensedPressure, Now: c.Sensed, Needed: needed.Value, Below: c.Made}
	if c.Made != (f.Needed < f.Now) || f.Needed <= 0 {
		return // it is there already
	}
	k.add(k.trend(f, arrives(f.Now, c.SensedRate, f.Needed)))
}

// cools is the time in which the winding cools to a temperature (K), s. At the
// present current i it settles at
//
//	Ts = Ta + i^2 R/G, T(t) = Ts + (T - Ts) exp(-t G/C)
//
// the balance of the winding with R as it is now: as it cools R falls, so that
// it gets there a little sooner. Absent if Ts is above the goal.
func (k *freer) cools(goal float64) Opt {
	w := k.v.Spec.Coil.Winding
	if w == nil {
		return Opt{}
	}
	c := &k.f.Coil
	settles := w.Around + square(c.Current)*c.Resistance/w.Conductance
	if settles >= goal || c.Temperature <= goal {
		return Opt{}
	}
	return after(w.HeatCapacity / w.Conductance * math.Log((c.Temperature-settles)/(goal-settles)))
}

// fuseRating is what the coil's fuse carries, A; 0 where there is none.
func (k *freer) fuseRating() float64 {
	if k.v.Relay < 0 {
		return 0
	}
	r, ok := plant.Spec[plant.Relay](k.m.Plant, k.m.Net.Relays[k.v.Relay].Name)
	if !ok || r.Circuit == nil || r.Circuit.Fuse == nil {
		return 0
	}
	return r.Circuit.Fuse.Rating
}
