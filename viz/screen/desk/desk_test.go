package desk

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/viz/session"
)

// room is the outside of a desk under test.
type room struct {
	said  []string
	saved map[string][]byte
	opens []byte
}

func (r *room) Status(line string) { r.said = append(r.said, line) }
func (r *room) Save(name string, data []byte) error {
	r.saved[name] = data
	return nil
}
func (r *room) Open(done func(string, []byte)) { done("chosen.yaml", r.opens) }

func (r *room) last() string { return r.said[len(r.said)-1] }

func newDesk(t *testing.T, name string) (*Desk, *room) {
	t.Helper()
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	r := &room{saved: map[string][]byte{}}
	d, err := New(sc, r, Files{
		Start: func(sc *scenarios.Scenario, known float64) (*session.Session, error) {
			return session.New(sc, session.Options{Known: known})
		},
		Log: func(lane int) (string, []byte, error) { return fmt.Sprintf("run-%d.yaml", lane), []byte("log"), nil },
		Read: func(name string, data []byte) (*scenarios.Scenario, float64, error) {
			sc, err := scenarios.Parse(name, data, scenarios.BuiltIn)
			return sc, 0, err
		},
	})
	require.NoError(t, err)
	return d, r
}

// stops are what the keyboard goes through now.
func (d *Desk) stopsNow() []Stop {
	s := d.Stops(d.Items(), nil)
	d.Tend(s)
	return s
}

// press presses keys as a screen would.
func press(d *Desk, names ...string) {
	for _, n := range names {
		d.Key(on(n)[0], d.stopsNow(), Shown{})
	}
	d.stopsNow()
}

// pass lets wall time pass, s.
func pass(t *testing.T, d *Desk, s float64) {
	t.Helper()
	for range int(s * 60) {
		require.NoError(t, d.Session.Tick(time.Second/60))
	}
}

func item(t *testing.T, d *Desk, name string) *Item {
	t.Helper()
	for i, it := range d.Items() {
		if it.Name == name {
			return &d.Items()[i]
		}
	}
	require.Fail(t, "no item "+name)
	return nil
}
