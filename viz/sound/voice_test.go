package sound_test

import (
	"encoding/binary"
	"io"
	"math"
	"sync"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/viz/sound"
)

// shut is a valve at rest under pressure.
func shut() *plant.ValveState {
	return &plant.ValveState{Above: 12e5, Below: 12e5, Vessel: 12e5, Outlet: 1e5, Dump: 1e5,
		AboveTemperature: 300, BelowTemperature: 300, SeatArea: 0,
		Disc: plant.DiscState{Hold: plant.HeldShut, SeatArea: math.Pi / 4 * 0.05 * 0.05}, Pilot: plant.PilotState{Hold: plant.HeldShut}}
}

func relieving(flow float64) *plant.ValveState {
	s := shut()
	s.Seat, s.Outlet = flow, 1.5e5
	return s
}

func piloting(flow float64) *plant.ValveState {
	s := shut()
	s.PilotFlow = flow
	return s
}

// hear reads a stretch of sound [s] as pairs of samples.
func hear(t testing.TB, v io.Reader, stretch float64) (left, right []float64) {
	n := int(stretch * sound.Rate)
	p := make([]byte, 8*n)
	_, err := io.ReadFull(v, p)
	require.NoError(t, err)
	at := func(i int) float64 { return float64(math.Float32frombits(binary.LittleEndian.Uint32(p[4*i:]))) }
	for i := range n {
		left, right = append(left, at(2*i)), append(right, at(2*i+1))
	}
	return left, right
}

func rms(x []float64) float64 {
	var sum float64
	for _, v := range x {
		sum += v * v
	}
	return math.Sqrt(sum / float64(len(x)))
}

func peak(x []float64) (most float64) {
	for _, v := range x {
		most = math.Max(most, math.Abs(v))
	}
	return most
}

// settled is how loud a state is in the long run.
func settled(t testing.TB, s *plant.ValveState) float64 {
	v := sound.NewVoice()
	v.Set(s, false)
	hear(t, v, 0.2)
	left, _ := hear(t, v, 0.5)
	return rms(left)
}

// centre is the mean frequency of a spectrum, by power, Hz.
func centre(x []float64) float64 {
	const size = 512
	var sum, weighted float64
	for from := 0; from+size <= len(x); from += size {
		for k := 1; k < size/2; k++ {
			var re, im float64
			for i, v := range x[from : from+size] {
				sin, cos := math.Sincos(2 * math.Pi * float64(k*i%size) / size)
				window := 0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/size)
				re, im = re+window*v*cos, im+window*v*sin
			}
			power := re*re + im*im
			sum, weighted = sum+power, weighted+power*float64(k)*sound.Rate/size
		}
	}
	return weighted / sum
}

func TestSilence(t *testing.T) {
	v := sound.NewVoice()
	quiet := func(why string) {
		left, right := hear(t, v, 0.3)
		assert.Zero(t, peak(left), why)
		assert.Zero(t, peak(right), why)
	}
	quiet("nothing has been told")
	v.Set(shut(), false)
	v.Set(shut(), false)
	quiet("nothing flows")
	v.Set(relieving(5), true)
	quiet("the run is held, though the disc has lifted")
	open := relieving(5)
	open.Disc.Hold = plant.HeldOpen
	v.Set(open, true)
	v.Set(open, true)
	quiet("nor is the stroke heard that was made while it was held")
	v.Set(open, false)
	left, right := hear(t, v, 0.3)
	require.Greater(t, rms(left), 0.05)
	require.Greater(t, rms(right), 0.05)
	v.Set(open, true)
	hear(t, v, 0.5)
	quiet("it falls silent when it is held again")
}

func TestLouderWithFlow(t *testing.T) {
	for name, made := range map[string]func(float64) *plant.ValveState{"seat": relieving, "pilot": piloting} {
		last := 0.0
		for _, flow := range []float64{1e-4, 1e-3, 1e-2, 0.1, 1, 5} {
			now := settled(t, made(flow))
			assert.Greater(t, now, 1.3*last, "%s, %g kg/s", name, flow)
			last = now
		}
	}
	weak := relieving(1)
	weak.Above = 2e5
	assert.Less(t, settled(t, weak), 0.5*settled(t, relieving(1)), "with the ratio of pressures as well")
	filling := shut()
	filling.Below, filling.Bleed = 6e5, 2e-3
	assert.Greater(t, settled(t, filling), 1e-3, "the bleed is heard while the chamber fills")
}

func TestPilotHissesHigherThanTailpipeRoars(t *testing.T) {
	of := func(s *plant.ValveState) float64 {
		v := sound.NewVoice()
		v.Set(s, false)
		hear(t, v, 0.1)
		left, _ := hear(t, v, 0.3)
		return centre(left)
	}
	roar, hiss := of(relieving(5)), of(piloting(0.01))
	assert.Greater(t, hiss, 2*roar)
	assert.Less(t, roar, 2500.0)
	assert.Greater(t, hiss, 3500.0)
}

func TestStrikes(t *testing.T) {
	struck := func(from, to plant.Hold, set func(*plant.ValveState, plant.Hold)) []float64 {
		v := sound.NewVoice()
		s := shut()
		set(s, from)
		v.Set(s, false)
		before, _ := hear(t, v, 0.05)
		require.Zero(t, peak(before))
		set(s, to)
		v.Set(s, false)
		v.Set(s, false) // the next picture may come before the sound is read
		left, _ := hear(t, v, 0.05)
		rest, _ := hear(t, v, 3)
		assert.Zero(t, peak(rest[len(rest)/2:]), "it dies away")
		return left
	}
	plunger := func(s *plant.ValveState, h plant.Hold) { s.Pilot.Hold = h }
	disc := func(s *plant.ValveState, h plant.Hold) { s.Disc.Hold = h }
	for _, to := range []plant.Hold{plant.HeldOpen, plant.HeldShut} {
		click, thump := struck(plant.Moving, to, plunger), struck(plant.Moving, to, disc)
		assert.Greater(t, peak(click), 0.1)
		assert.Greater(t, peak(thump), 0.1)
		assert.Greater(t, centre(click), 3*centre(thump))
	}
	assert.Greater(t, peak(struck(plant.HeldShut, plant.HeldOpen, disc)), 0.1, "a stroke between two pictures")
	for _, set := range []func(*plant.ValveState, plant.Hold){plunger, disc} {
		assert.Zero(t, peak(struck(plant.HeldShut, plant.Moving, set)), "leaving strikes nothing")
		assert.Zero(t, peak(struck(plant.Moving, plant.Sticking, set)))
	}
	hard := func(speed float64) float64 {
		return peak(struck(plant.Moving, plant.HeldOpen, func(s *plant.ValveState, h plant.Hold) { s.Disc.Hold, s.Disc.Speed = h, speed }))
	}
	assert.Greater(t, hard(1.5), 1.5*hard(0.1), "a fast disc strikes harder")
}

// From outside, a leak sounds the same wherever it is, nothing strikes, and the
// bleed is inside.
func TestOutside(t *testing.T) {
	outside := func(states ...*plant.ValveState) []float64 {
		v := sound.NewVoice()
		for _, s := range states {
			v.Outside(s, false)
		}
		left, _ := hear(t, v, 0.3)
		return left
	}
	seat, pilot := shut(), shut()
	seat.Seat, pilot.PilotFlow, pilot.Below = 0.01, 0.01, 6e5
	assert.Equal(t, outside(seat), outside(pilot))
	assert.Greater(t, rms(outside(seat)), 1e-3)
	inside, open := shut(), shut()
	inside.Bleed, inside.Below = 0.01, 6e5
	open.Pilot.Hold, open.Disc.Hold = plant.HeldOpen, plant.HeldOpen
	assert.Zero(t, peak(outside(inside)))
	assert.Zero(t, peak(outside(shut(), open)))
	faint := shut()
	faint.Seat = 1e-5
	assert.Zero(t, peak(outside(faint)))
}

// Whatever it is told, what comes out is sound.
func TestAlwaysSound(t *testing.T) {
	odd := []float64{0, -1, 1e-300, 1e300, math.NaN(), math.Inf(1), math.Inf(-1), 5, 12e5, 1e5}
	v := sound.NewVoice()
	for i, a := range odd {
		for j, b := range odd {
			hold := plant.Hold((i + j) % 4)
			v.Set(&plant.ValveState{Seat: a, PilotFlow: b, Bleed: a, Guide: b, Above: b, Below: a, Outlet: 1e5, Dump: a, AboveTemperature: a, BelowTemperature: b,
				Disc: plant.DiscState{Hold: hold, Speed: a}, Pilot: plant.PilotState{Hold: hold, Speed: b}}, false)
			left, right := hear(t, v, 0.01)
			for k := range left {
				for _, x := range []float64{left[k], right[k]} {
					require.False(t, math.IsNaN(x) || math.Abs(x) > 1, "%v, told %g and %g", x, a, b)
				}
			}
		}
	}
	all := relieving(50) // everything at once, again and again
	all.PilotFlow, all.Bleed, all.Below = 50, 50, 6e5
	for i := range 20 {
		hold := plant.HeldShut
		if i%2 == 0 {
			hold = plant.HeldOpen
		}
		all.Disc.Hold, all.Pilot.Hold, all.Disc.Speed, all.Pilot.Speed = hold, hold, 9, 9
		v.Set(all, false)
		left, right := hear(t, v, 0.02)
		require.LessOrEqual(t, peak(left), 1.0)
		require.LessOrEqual(t, peak(right), 1.0)
	}
	v.Set(relieving(5), false)
	hear(t, v, 0.3)
	left, _ := hear(t, v, 0.3)
	assert.InEpsilon(t, settled(t, relieving(5)), rms(left), 0.1, "it has come through all that unharmed")
}

// A change is heard as a glide: from one sample to the next there is no step
// that the steady noise does not have as well.
func TestNoStep(t *testing.T) {
	step := func(x []float64) (most float64) {
		for i := 1; i < len(x); i++ {
			most = math.Max(most, math.Abs(x[i]-x[i-1]))
		}
		return most
	}
	v := sound.NewVoice()
	v.Set(relieving(5), false)
	starts, _ := hear(t, v, 0.3)
	steady, _ := hear(t, v, 0.5)
	v.Set(relieving(5), true)
	ends, _ := hear(t, v, 0.3)
	assert.LessOrEqual(t, step(starts), 1.2*step(steady))
	assert.LessOrEqual(t, step(ends), 1.2*step(steady))
	assert.Less(t, rms(starts[:48]), 0.3*rms(steady))
}

func TestSameNoiseEveryTime(t *testing.T) {
	made := func() []float64 {
		v := sound.NewVoice()
		v.Set(relieving(2), false)
		left, _ := hear(t, v, 0.1)
		return left
	}
	once := made()
	assert.Equal(t, once, made())
	v := sound.NewVoice()
	v.Set(relieving(2), false)
	odd, _ := hear(t, iotest.OneByteReader(v), 0.1)
	assert.Equal(t, once, odd, "in whatever pieces it is read")
}

func TestReadAllocatesNothing(t *testing.T) {
	v := sound.NewVoice()
	p := make([]byte, 8*480)
	s := relieving(5)
	s.PilotFlow = 0.01
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		s.Disc.Hold = plant.HeldOpen - s.Disc.Hold
		v.Set(s, false)
		if n, err := v.Read(p); n != len(p) || err != nil {
			t.Fail()
		}
	}))
}

// Told in one goroutine and read in another.
func TestTwoGoroutines(t *testing.T) {
	v := sound.NewVoice()
	var all sync.WaitGroup
	all.Go(func() {
		for i := range 500 {
			v.Set(relieving(float64(i%7)), i%11 == 0)
		}
	})
	left, _ := hear(t, v, 0.5)
	all.Wait()
	assert.LessOrEqual(t, peak(left), 1.0)
}

func BenchmarkRead(b *testing.B) {
	v := sound.NewVoice()
	s := relieving(5)
	s.PilotFlow, s.Below, s.Bleed = 0.01, 6e5, 0.002
	v.Set(s, false)
	p := make([]byte, 8*sound.Rate/100) // 10 ms
	for b.Loop() {
		if _, err := v.Read(p); err != nil {
			b.Fatal(err)
		}
	}
}
