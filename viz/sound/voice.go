package sound

import (
	"encoding/binary"
	"math"
	"sync"

	"underdisc/model/plant"
)

// The flows that are heard.
const (
	tailpipe = iota
	pilot
	bleed
	flows
)

// told is what one goroutine tells the other.
type told struct {
	gain, tone [flows]float64
	hit        [strikes]float64 // amplitude; zero: it has not struck
}

// Voice is the sound of one valve. Set and Outside are called from one
// goroutine, Read from another one.
type Voice struct {
	mu   sync.Mutex
	told told

	// Of the goroutine that tells.
	known      bool
	was        [2]plant.Hold // pilot, disc
	pilotSpeed float64
	discSpeed  float64

	// Of the one that reads.
	noises [flows]noise
	rings  [strikes][3]ring
	dice   dice
	left   int // samples until the filters are set again
	pair   [frame]byte
	used   int // bytes of pair that have been read
}

// NewVoice returns a silent voice.
func NewVoice() *Voice {
	v := &Voice{dice: 0x9E3779B97F4A7C15, used: frame}
	for s := range v.rings {
		for i, m := range rings[s] {
			v.rings[s][i] = newRing(m)
		}
	}
	return v
}

// Set says how the valve is now; quiet, that nothing is heard of it, because
// the run is held. A part that has come to rest since the last Set strikes once,
// however often it did so in between.
func (v *Voice) Set(s *plant.ValveState, quiet bool) {
	var t told
	if !quiet {
		for i, j := range [flows]jet{
			tailpipe: jetOf(s.Seat, s.Above, s.Outlet, s.AboveTemperature),
			pilot:    jetOf(s.PilotFlow, s.Below, s.Dump, s.BelowTemperature),
			bleed:    jetOf(s.Bleed+s.Guide, s.Above, s.Below, s.AboveTemperature),
		} {
			t.gain[i], t.tone[i] = loudness(j.power), pitch(j.peak)
		}
		if v.known {
			v.strikes(s, &t)
		}
	}
	v.known = true
	v.was = [2]plant.Hold{s.Pilot.Hold, s.Disc.Hold}
	v.pilotSpeed, v.discSpeed = s.Pilot.Speed, s.Disc.Speed
	v.tell(&t)
}

// Outside does as Set with what is heard from outside alone, at the end of the
// tailpipe: one jet, whatever part of it comes from where.
func (v *Voice) Outside(s *plant.ValveState, quiet bool) {
	var t told
	if flow := s.Seat + math.Max(s.PilotFlow, 0); !quiet && heard(flow, s) {
		j := jetOf(flow, s.Vessel, s.Outlet, anyGas)
		t.gain[tailpipe], t.tone[tailpipe] = loudness(j.power), pitch(j.peak)
	}
	v.known = false
	v.tell(&t)
}

// heard tells whether a flow [kg/s] is heard at the end of the tailpipe: more
// than a ten-thousandth of what the seat would pass wide open, air at 300 K.
func heard(flow float64, s *plant.ValveState) bool {
	const least, flux = 1e-4, 2.333e-3 // s/m
	return flow > least*flux*s.Vessel*s.Disc.SeatArea
}

// strikes finds what has struck since the last Set.
func (v *Voice) strikes(s *plant.ValveState, t *told) {
	strike := func(was, is plant.Hold, speed float64, stop, seat strike) {
		if was != plant.Moving {
			speed = unseen
		}
		switch {
		case was == is:
		case is == plant.HeldOpen:
			t.hit[stop] = force(speed)
		case is == plant.HeldShut:
			t.hit[seat] = force(speed)
		}
	}
	strike(v.was[0], s.Pilot.Hold, v.pilotSpeed, plungerStop, plungerSeat)
	strike(v.was[1], s.Disc.Hold, v.discSpeed, discStop, discSeat)
}

// tell hands over; a strike that has not been read yet is not lost.
func (v *Voice) tell(t *told) {
	v.mu.Lock()
	defer v.mu.Unlock()
	for i, a := range v.told.hit {
		t.hit[i] = math.Max(t.hit[i], a)
	}
	v.told = *t
}

// listen takes over what has been told.
func (v *Voice) listen() {
	v.mu.Lock()
	t := v.told
	v.told.hit = [strikes]float64{}
	v.mu.Unlock()
	for i := range v.noises {
		v.noises[i].tell(t.gain[i], t.tone[i])
	}
	for s, amplitude := range t.hit {
		if amplitude == 0 {
			continue
		}
		for i, m := range rings[s] {
			v.rings[s][i].re, v.rings[s][i].im = amplitude*m.share, 0
		}
	}
}

// Read fills p with sound at Rate: pairs of float32, little endian, left then
// right, each from -1 to 1. It never ends and never fails.
func (v *Voice) Read(p []byte) (int, error) {
	v.listen()
	for n := 0; n < len(p); {
		if v.used == frame {
			x := v.next()
			for i := range x {
				binary.LittleEndian.PutUint32(v.pair[4*i:], math.Float32bits(float32(limit(x[i]))))
			}
			v.used = 0
		}
		k := copy(p[n:], v.pair[v.used:])
		n, v.used = n+k, v.used+k
	}
	return len(p), nil
}

// next is the next pair of samples, before it is limited.
func (v *Voice) next() [2]float64 {
	if v.left == 0 {
		for i := range v.noises {
			v.noises[i].tune()
		}
		v.left = block
	}
	v.left--
	var sum [2]float64
	for i := range v.noises {
		n := &v.noises[i]
		if n.silent() {
			continue
		}
		// Partly the same on both sides, so that it comes from somewhere.
		both := 0.8 * v.dice.next()
		y := n.next([2]float64{both + 0.6*v.dice.next(), both + 0.6*v.dice.next()})
		sum[0], sum[1] = sum[0]+y[0], sum[1]+y[1]
	}
	for s := range v.rings {
		for i := range v.rings[s] {
			y := v.rings[s][i].next()
			sum[0], sum[1] = sum[0]+y, sum[1]+y
		}
	}
	return sum
}

// limit leaves what is quiet as it is and bends what is loud towards 1, which
// it reaches at 3.
func limit(x float64) float64 {
	x = math.Max(-3, math.Min(3, x))
	return x * (27 + x*x) / (27 + 9*x*x)
}
