package session_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/sim"
	"underdisc/viz/session"
)

const frame = time.Second / 60

func start(t *testing.T, name string, o session.Options) *session.Session {
	t.Helper()
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	s, err := session.New(sc, o)
	require.NoError(t, err)
	return s
}

func command(path string, v float64) scenarios.Action {
	return scenarios.Action{Command: &scenarios.Command{Path: path, Value: plant.Value{Number: v}}}
}

func befall(name string, severity float64) scenarios.Action {
	return scenarios.Action{Fault: &fault.Entry{Name: name, Severity: &severity}}
}

// run ticks for some wall time.
func run(t *testing.T, s *session.Session, wall time.Duration) {
	t.Helper()
	s.Go()
	for ; wall > 0; wall -= frame {
		require.NoError(t, s.Tick(min(frame, wall)))
	}
}

// Without slowing down, time keeps to the clock at any frame rate.
func TestClock(t *testing.T) {
	for _, rate := range []float64{0.001, 0.02, 1, 10, 100} {
		for _, frame := range []time.Duration{time.Second / 144, time.Second / 60, time.Second / 5, time.Second} {
			var s *session.Session
			n := int(2 * time.Second / frame)
			// A machine that has other work for a moment loses a little without falling
			// behind: it may try again.
			for range 3 {
				s = start(t, "gas-bench-plus", session.Options{})
				s.SlowByItself(false)
				s.SetRate(rate)
				require.NoError(t, s.Tick(frame))
				assert.Zero(t, s.T(), "held at first")
				s.Go()
				for range n {
					require.NoError(t, s.Tick(frame))
					if s.Pace().Behind {
						break
					}
				}
				if want := rate * float64(n) * frame.Seconds(); s.Pace().Behind || math.Abs(s.T()-want) < 0.02*want {
					break
				}
			}
			if s.Pace().Behind {
				t.Logf("at %gx and %s a frame this machine falls behind", rate, frame)
				continue
			}
			assert.InEpsilon(t, rate*float64(n)*frame.Seconds(), s.T(), 0.02, "%gx, %s", rate, frame)
			s.Hold()
			was := s.T()
			require.NoError(t, s.Tick(frame))
			assert.Equal(t, was, s.T(), "held")
		}
	}
}

// A tick in which the computer could not do what was asked says so, and the
// next goes on from where it came to.
func TestBehind(t *testing.T) {
	s := start(t, "gas-bench-plus", session.Options{})
	s.SlowByItself(false)
	s.SetRate(100)
	s.Go()
	last, behind := 0.0, false
	for range 40 { // a hundred seconds of the run in a tick
		require.NoError(t, s.Tick(time.Second))
		assert.Greater(t, s.T(), last)
		last = s.T()
		behind = behind || s.Pace().Behind
	}
	assert.True(t, behind, "100 s of the run cannot be had in %v", 6*time.Millisecond)
	assert.Less(t, s.Pace().Given, 100.0)
}

// By itself time slows down from the event that begins something fast, and only
// while it lasts.
func TestSlowsByItself(t *testing.T) {
	s := start(t, "gas-bench-plus", session.Options{})
	s.Go()
	type spell struct{ from, to, wall float64 }
	var spells []spell
	in := false
	for s.T() < 5.5 {
		before := s.T()
		require.NoError(t, s.Tick(frame))
		if slow := s.Pace().Slowed; slow != in {
			in = slow
			if slow {
				spells = append(spells, spell{from: before})
			} else {
				spells[len(spells)-1].to = s.T()
			}
		}
		if in {
			spells[len(spells)-1].wall += frame.Seconds()
		}
	}
	require.Len(t, spells, 2, "an opening and a closing")
	// gas-bench-plus at 1e-9: switch made 2.128, reset 3.526 and so on.
	open, shut := spells[0], spells[1]
	assert.InDelta(t, 2.1279, open.from, 0.017)
	assert.Greater(t, open.to, 2.2142, "until the disc is at its stop")
	assert.Less(t, open.to, 2.45)
	assert.InDelta(t, 3.55, shut.from, 0.06)
	assert.Greater(t, shut.to, 3.81, "until it is seated")
	assert.Less(t, shut.to, 4.3)
	assert.Greater(t, open.wall, 3.0)
	assert.Less(t, open.wall+shut.wall, 45.0, "the class does not fall asleep")
}

func TestStepsAndEvents(t *testing.T) {
	s := start(t, "gas-bench-plus", session.Options{})
	var names []string
	for range 12 {
		require.NoError(t, s.NextEvent())
		for s.Pace().Seeks {
			require.NoError(t, s.Tick(frame))
		}
		for _, e := range s.Lanes()[0].Run.Sim.Events() {
			if e.T == s.T() {
				names = append(names, e.Name)
			}
		}
	}
	assert.Equal(t, []string{"switch-made", "coil-on", "pilot-lift", "pilot-open", "disc-lift", "disc-full-open",
		"switch-reset", "coil-off", "pilot-drop", "pilot-shut", "disc-leaves-stop", "disc-seated"}, names)
	assert.Equal(t, s.Head(), s.T())
	head := s.Head()
	for i := 10; i >= 0; i-- {
		require.NoError(t, s.LastEvent())
	}
	assert.InDelta(t, 2.1279, s.T(), 1e-3, "back at the first")
	assert.Equal(t, head, s.Head())
	require.NoError(t, s.LastEvent())
	assert.Zero(t, s.T())

	require.NoError(t, s.Seek(2.15))
	step := s.StepSize()
	assert.Equal(t, 0.002, step, "fast things are stepped slowly")
	require.NoError(t, s.Step(3))
	assert.InDelta(t, 2.15+3*step, s.T(), 1e-12)
	require.NoError(t, s.Step(-1))
	assert.InDelta(t, 2.15+2*step, s.T(), 1e-12)
	require.NoError(t, s.Seek(1))
	assert.Equal(t, 0.1, s.StepSize())
	require.NoError(t, s.Step(-100))
	assert.Zero(t, s.T())
	require.NoError(t, s.Seek(1e9))
	assert.Equal(t, head, s.T())
	require.NoError(t, s.Seek(-3))
	assert.Zero(t, s.T())
}

// A search that finds nothing ends, and leaves the moment as it is.
func TestNoNextEvent(t *testing.T) {
	s := start(t, "fault-pilot-stuck-shut", session.Options{})
	for range 400 {
		require.NoError(t, s.NextEvent())
		for k := 0; s.Pace().Seeks; k++ {
			require.Less(t, k, 5000)
			require.NoError(t, s.Tick(frame))
		}
		was := s.T()
		require.NoError(t, s.NextEvent())
		for s.Pace().Seeks {
			require.NoError(t, s.Tick(frame))
		}
		if s.T() == was {
			return
		}
	}
	t.Fatal("there is always another event")
}

func TestWhatIf(t *testing.T) {
	s := start(t, "gas-bench-plus", session.Options{})
	s.SlowByItself(false)
	run(t, s, 5*time.Second)
	known := s.Lanes()[0].Run
	events := len(known.Sim.Events())

	require.NoError(t, s.Seek(3))
	require.NoError(t, s.Do(befall("bleed-plugged", 2e-7))) // in the past: it forks
	require.Len(t, s.Lanes(), 2)
	assert.Same(t, known, s.Lanes()[0].Run, "the first lane stays")
	assert.Equal(t, events, len(known.Sim.Events()))
	assert.Equal(t, 3.0, s.Lanes()[1].Forks)
	assert.InDelta(t, 3, s.T(), 1e-6)
	assert.Equal(t, []string{"valve bleed area 0.2 mm2, not 3.3 mm2"}, s.Differs())

	// What is done now, where the first lane has been seen already, is done in the
	// second alone; later in both.
	require.NoError(t, s.Do(command("line.block-valve.opening", 0.8)))
	assert.Empty(t, s.Lanes()[0].Did)
	run(t, s, 4*time.Second)
	assert.InDelta(t, 7, s.T(), 0.05)
	require.NoError(t, s.Do(command("switch.set", 12.1e5)))
	assert.Len(t, s.Lanes()[0].Did, 1)
	assert.Len(t, s.Lanes()[1].Did, 3)
	assert.Len(t, s.Differs(), 2)

	// Up to the fork both are one.
	for _, at := range []float64{0.5, 2.19, 2.9} {
		a, _, err := s.Lanes()[0].Run.At(at)
		require.NoError(t, err)
		b, _, err := s.Lanes()[1].Run.At(at)
		require.NoError(t, err)
		assert.Equal(t, a, b)
	}
	a, _, err := s.Lanes()[0].Run.At(3.9)
	require.NoError(t, err)
	b, _, err := s.Lanes()[1].Run.At(3.9)
	require.NoError(t, err)
	assert.Equal(t, plant.HeldShut, a.Valves[0].Disc.Hold)
	assert.Equal(t, plant.HeldOpen, b.Valves[0].Disc.Hold, "with less bleed it shuts later")

	require.NoError(t, s.Alone(1))
	require.Len(t, s.Lanes(), 1)
	assert.Nil(t, s.Differs())
	assert.Len(t, s.Lanes()[0].Did, 3)
	run(t, s, time.Second)
}

// What is refused changes nothing.
func TestRefused(t *testing.T) {
	s := start(t, "gas-bench-plus", session.Options{})
	run(t, s, time.Second)
	assert.Error(t, s.WhatIf(command("no.such", 1)))
	assert.Len(t, s.Lanes(), 1)
	assert.Error(t, s.Do(befall("no-such", 1)))
	assert.Empty(t, s.Lanes()[0].Did)
	require.NoError(t, s.Do(befall("bleed-plugged", 2e-7)))
	assert.Error(t, s.Do(befall("bleed-enlarged", 9e-6)), "two faults on one parameter")
	assert.Len(t, s.Lanes()[0].Did, 1)
	run(t, s, time.Second)
}

// recorder keeps what it is told; it may fail.
type recorder struct {
	did     []scenarios.Action
	reached float64
	closed  bool
	full    bool
}

func (r *recorder) Did(a scenarios.Action) error {
	if r.full {
		return errors.New("no space left")
	}
	r.did = append(r.did, a)
	return nil
}
func (r *recorder) Reached(t float64) error { r.reached = t; return nil }
func (r *recorder) Close() error            { r.closed = true; return nil }

// A sitting at random, acted out again from its logs, gives the same runs bit
// for bit.
func TestReplay(t *testing.T) {
	for seed := range uint64(8) {
		var logs []*recorder
		s := start(t, "gas-bench-plus", session.Options{Log: func(int, *scenarios.Scenario, float64) (session.Recorder, error) {
			logs = append(logs, &recorder{})
			return logs[len(logs)-1], nil
		}})
		r := rand.New(rand.NewPCG(seed, 2))
		s.SetRate([]float64{0.5, 1, 5}[seed%3])
		s.SlowByItself(seed%2 == 0)
		for range 60 {
			switch r.IntN(8) {
			case 0:
				_ = s.Do(befall([]string{"bleed-plugged", "pilot-leaks", "spring-weak"}[r.IntN(3)], []float64{4e-7, 2e-6, 60}[r.IntN(3)]))
			case 1:
				_ = s.Do(command("line.block-valve.opening", 0.3+0.7*r.Float64()))
			case 2:
				require.NoError(t, s.Seek(s.Head()*(0.5+0.6*r.Float64())))
			case 3:
				require.NoError(t, s.NextEvent())
			case 4:
				require.NoError(t, s.Step(1+r.IntN(5)))
			case 5:
				_ = s.WhatIf(command("relay.drop-out", 0.01+0.2*r.Float64()))
			default:
				run(t, s, time.Duration(r.IntN(2000))*time.Millisecond)
			}
		}
		lanes := s.Lanes()
		require.NoError(t, s.Close())
		open := logs[:0:0]
		for _, l := range logs {
			assert.True(t, l.closed)
		}
		open = append(open, logs[0])
		if len(lanes) > 1 {
			open = append(open, logs[len(logs)-1])
		}
		for i, lane := range lanes {
			log := open[i]
			assert.Equal(t, lane.Did, log.did)
			sc, err := scenarios.Load("gas-bench-plus")
			require.NoError(t, err)
			for _, a := range log.did {
				sc.Record(a)
			}
			again, err := live.Start(sc, live.Options{RelTol: 1e-6})
			require.NoError(t, err)
			_, err = again.Sim.Advance(log.reached, 0)
			require.NoError(t, err)
			assert.Equal(t, seen(again, log.reached), seen(lane.Run, log.reached))
			for k := range 50 {
				at := log.reached * float64(k) / 50
				a, _, err := again.At(at)
				require.NoError(t, err)
				b, _, err := lane.Run.At(at)
				require.NoError(t, err)
				assert.Equal(t, a, b)
			}
		}
	}
}

func seen(r *live.Run, until float64) (out []sim.Event) {
	for _, e := range r.Sim.Events() {
		if e.T <= until {
			out = append(out, e)
		}
	}
	return out
}

func TestLogThatFails(t *testing.T) {
	log := &recorder{}
	s := start(t, "gas-bench-plus", session.Options{Log: func(int, *scenarios.Scenario, float64) (session.Recorder, error) { return log, nil }})
	run(t, s, time.Second)
	assert.InDelta(t, s.T(), log.reached, 0.6, "told as time goes")
	log.full = true
	err := s.Do(command("line.block-valve.opening", 0.5))
	assert.ErrorIs(t, err, session.ErrLog)
	assert.ErrorContains(t, err, "no space left")
	_, err = session.New(s.Lanes()[0].Run.Scenario, session.Options{Log: func(int, *scenarios.Scenario, float64) (session.Recorder, error) { return nil, errors.New("no folder") }})
	assert.ErrorIs(t, err, session.ErrLog)
}

// A run that is opened again can be looked at anywhere it had come to.
func TestKnown(t *testing.T) {
	s := start(t, "gas-bench-plus", session.Options{Known: 9})
	assert.Zero(t, s.T())
	assert.Equal(t, 9.0, s.Head())
	require.NoError(t, s.Seek(math.Inf(1)))
	assert.Equal(t, 9.0, s.T())
}

// Nothing names what a hidden fault sets.
func TestHiddenStaysUnsaid(t *testing.T) {
	s := start(t, "gas-bench-plus", session.Options{})
	run(t, s, time.Second)
	a := befall("bleed-plugged", 2e-7)
	a.Hidden = true
	require.NoError(t, s.WhatIf(a))
	assert.Empty(t, s.Differs())
	s.Lanes()[1].Run.Scenario.Hidden.Revealed = true
	run(t, s, time.Second)
}
