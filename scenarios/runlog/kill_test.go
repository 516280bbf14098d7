package runlog_test

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/scenarios/runlog"
	"underdisc/viz/session"
)

// childVariable in the environment makes the test program a session that is
// there to be killed; its value is the seed, and the log goes to logVariable.
const (
	childVariable = "UNDERDISC_TEST_KILL_SEED"
	logVariable   = "UNDERDISC_TEST_KILL_LOG"
)

func TestMain(m *testing.M) {
	if seed := os.Getenv(childVariable); seed != "" {
		if err := sit(seed, os.Getenv(logVariable)); err != nil {
			fmt.Println("failed", err)
		}
		os.Exit(1) // it should not come that far
	}
	os.Exit(m.Run())
}

// teller says aloud what is safely in the log.
type teller struct{ *runlog.Writer }

func (w teller) Did(a scenarios.Action) error {
	err := w.Writer.Did(a)
	if err == nil {
		fmt.Println("did", write(a))
	}
	return err
}

// write says an action to the last bit.
func write(a scenarios.Action) string {
	bits := math.Float64bits
	if a.Command != nil {
		return fmt.Sprintf("%x %s %x%s", bits(a.At()), a.Command.Path, bits(a.Command.Value.Number), a.Command.Value.Word)
	}
	severity := "typical"
	if a.Fault.Severity != nil {
		severity = strconv.FormatUint(bits(*a.Fault.Severity), 16)
	}
	return fmt.Sprintf("%x %s %s %q %v", bits(a.At()), a.Fault.Name, severity, a.Fault.Part, a.Hidden)
}

// sit is a session in real time in which something is done again and again. It
// says what is done, what happens, and how far it has come.
func sit(seed, path string) error {
	n, err := strconv.ParseUint(seed, 10, 64)
	if err != nil {
		return err
	}
	r := rand.New(rand.NewPCG(n, 2))
	sc, err := scenarios.Load("gas-bench-plus")
	if err != nil {
		return err
	}
	s, err := session.New(sc, session.Options{Log: func(_ int, sc *scenarios.Scenario, _ float64) (session.Recorder, error) {
		w, err := runlog.Create(path, sc)
		return teller{w}, err
	}})
	if err != nil {
		return err
	}
	s.SlowByItself(false)
	s.SetRate([]float64{1, 2, 5, 10}[r.IntN(4)])
	s.Go()
	fmt.Println("sits")
	todo, told := things(r), 0
	busy := n%3 > 0 // else hardly anything is done, and only the progress can be lost
	began := time.Now()
	for last := began; ; {
		time.Sleep(4 * time.Millisecond)
		now := time.Now()
		if err := s.Tick(now.Sub(last)); err != nil {
			return err
		}
		last = now
		if busy && r.IntN(12) == 0 || r.IntN(400) == 0 {
			a := set("inflow.mass-flow", 2*r.Float64())
			if len(todo) > 0 {
				a, todo = todo[0], todo[1:]
			}
			if s.Lanes()[0].Run.Scenario.Allows(a) == nil { // once something is hidden, not everything can be done
				if err := s.Do(at(s.T(), a)); err != nil {
					return err
				}
			}
		}
		for events := s.Lanes()[0].Run.Sim.Events(); told < len(events) && events[told].T <= s.T(); told++ {
			fmt.Printf("event %x %s\n", math.Float64bits(events[told].T), events[told].Name)
		}
		fmt.Printf("at %d %x\n", time.Since(began), math.Float64bits(s.T()))
	}
}

// heard is what a killed session has said.
type heard struct {
	did, events []string
	wall        []time.Duration
	at          []float64 // of each wall time
	failed      string
}

// kill lets a session sit, kills it after some time, and returns what it said.
func kill(t *testing.T, seed uint64, path string, after time.Duration) heard {
	self, err := os.Executable()
	require.NoError(t, err)
	c := exec.Command(self)
	c.Env = append(os.Environ(), fmt.Sprintf("%s=%d", childVariable, seed), logVariable+"="+path)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	var h heard
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		word, rest, _ := strings.Cut(lines.Text(), " ")
		switch word {
		case "sits": // from here on it may be killed at any moment
			time.AfterFunc(after, func() { _ = c.Process.Kill() })
		case "did":
			h.did = append(h.did, rest)
		case "event":
			h.events = append(h.events, rest)
		case "failed":
			h.failed = rest
		case "at":
			var wall time.Duration
			var bits uint64
			if n, _ := fmt.Sscanf(rest, "%d %x", &wall, &bits); n == 2 {
				h.wall, h.at = append(h.wall, wall), append(h.at, math.Float64frombits(bits))
			}
		}
	}
	_ = c.Wait() // it was killed
	return h
}

// A session that is killed at any moment leaves a log that opens and replays:
// nothing that was acknowledged is missing, no more than a second of the clock
// is, and what happened happens again at the same bits.
func TestKilled(t *testing.T) {
	kills, most := 6, 1500*time.Millisecond
	if os.Getenv("UNDERDISC_LONG") != "" {
		kills, most = 100, 4*time.Second
	}
	dir := t.TempDir()
	r := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 3))
	var mu sync.Mutex
	acknowledged, events, worst := 0, 0, time.Duration(0)
	room := make(chan struct{}, 3)
	var all sync.WaitGroup
	for i := range kills {
		after := time.Duration(r.Float64() * float64(most))
		seed := r.Uint64()>>2/3*3 + uint64(i%3)
		room <- struct{}{}
		all.Go(func() {
			defer func() { <-room }()
			path := filepath.Join(dir, fmt.Sprintf("%d.log.yaml", i))
			h := kill(t, seed, path, after)
			lost := h.check(t, path)
			mu.Lock()
			defer mu.Unlock()
			acknowledged, events, worst = acknowledged+len(h.did), events+len(h.events), max(worst, lost)
		})
	}
	all.Wait()
	t.Logf("%d kills: %d actions acknowledged, %d events, at most %v of the clock lost", kills, acknowledged, events, worst)
	assert.Greater(t, acknowledged, kills, "there was something to lose")
	assert.Greater(t, events, 0)
}

// check holds the log against what was heard, and returns how much of the clock
// is not in it.
func (h *heard) check(t *testing.T, path string) time.Duration {
	if !assert.Empty(t, h.failed) {
		return 0
	}
	sc, err := runlog.Open(path)
	if !assert.NoError(t, err) {
		return 0
	}
	var did []string
	for _, a := range sc.Log.Did {
		did = append(did, write(a))
	}
	// The last one may have been written and not been acknowledged yet.
	if assert.LessOrEqual(t, len(h.did), len(did)) && assert.LessOrEqual(t, len(did), len(h.did)+1) {
		assert.Equal(t, strings.Join(h.did, "\n"), strings.Join(did[:len(h.did)], "\n"))
	}
	lost := time.Duration(0)
	if n := len(h.wall); n > 0 {
		for k := n - 1; k >= 0 && h.at[k] > sc.Log.Reached; k-- {
			lost = h.wall[n-1] - h.wall[k]
		}
		assert.LessOrEqual(t, lost, time.Second, "progress that is not in the log")
	}
	run, err := live.Start(sc, live.Options{RelTol: 1e-6})
	if !assert.NoError(t, err) || !assert.NoError(t, run.Finish()) {
		return lost
	}
	var events []string
	for _, e := range run.Sim.Events() {
		events = append(events, fmt.Sprintf("%x %s", math.Float64bits(e.T), e.Name))
	}
	both := min(len(events), len(h.events))
	assert.Equal(t, strings.Join(h.events[:both], "\n"), strings.Join(events[:both], "\n"))
	for _, e := range h.events[both:] { // heard, but after what the log knows
		bits, _ := strconv.ParseUint(strings.Fields(e)[0], 16, 64)
		assert.Greater(t, math.Float64frombits(bits), sc.Log.Reached)
	}
	return lost
}
