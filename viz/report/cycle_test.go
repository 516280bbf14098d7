package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/sim"
)

func events(from float64, names ...string) []sim.Event {
	var out []sim.Event
	for i, n := range names {
		out = append(out, sim.Event{T: from + 0.01*float64(i), Name: n})
	}
	return out
}

func names(moments []Moment) (out []string) {
	for _, m := range moments {
		out = append(out, m.Event)
	}
	return out
}

func TestBouncesAreFolded(t *testing.T) {
	got := foldBounces(events(1, "pilot-lift", "pilot-bounce", "disc-lift", "pilot-open", "disc-bounce", "disc-bounce", "disc-full-open"))
	assert.Equal(t, []string{"pilot-lift", "disc-lift", "pilot-open", "disc-full-open"}, names(got))
	assert.Equal(t, 1, got[2].Bounces)
	assert.Equal(t, 2, got[3].Bounces)
}

// Bounces that lead to no rest stand by themselves, once.
func TestLooseBounces(t *testing.T) {
	got := foldBounces(events(0, "disc-lift", "disc-bounce", "disc-bounce", "disc-bounce", "switch-reset", "disc-bounce"))
	assert.Equal(t, []string{"disc-lift", "disc-bounce", "switch-reset"}, names(got))
	assert.Equal(t, 4, got[1].Bounces)
	got = foldBounces(events(0, "disc-full-open", "disc-bounce", "disc-leaves-stop", "disc-seated"))
	assert.Equal(t, []string{"disc-full-open", "disc-bounce", "disc-leaves-stop", "disc-seated"}, names(got))
	assert.Zero(t, got[3].Bounces)
}

// cyclesOf makes rounds that start at these times and take a stretched pace.
func cyclesOf(pace float64, starts ...float64) (out []Cycle) {
	for _, s := range starts {
		out = append(out, Cycle{Moments: []Moment{
			{T: s, Event: "switch-made"}, {T: s + 0.1*pace, Event: "disc-lift"}, {T: s + 0.5*pace, Event: "disc-seated", Bounces: 2}}})
	}
	return out
}

func TestGroups(t *testing.T) {
	all := append(cyclesOf(1, 0, 5, 10), cyclesOf(2, 20)...)
	all = append(all, cyclesOf(1.1, 30, 35)...)
	got := groups(all)
	counts := []int{}
	for _, g := range got {
		counts = append(counts, len(g.Cycles))
	}
	assert.Equal(t, []int{3, 1, 2}, counts)
	assert.Equal(t, 4, got[2].First)
	assert.False(t, alike(all[0], Cycle{Moments: all[0].Moments[:2]}), "one has more in it")
}

// Regular rounds take one table, however many there are; irregular ones are
// cut in the middle.
func TestLongRunsDoNotFlood(t *testing.T) {
	var b bytes.Buffer
	var starts []float64
	for i := range 5000 {
		starts = append(starts, 5*float64(i))
	}
	writeCycles(&b, cyclesOf(1, starts...), nil)
	assert.Contains(t, b.String(), "in cycles 2 to 5000")
	assert.Contains(t, b.String(), "disc seated, 2 bounces")
	assert.Contains(t, b.String(), "The other 4999 go alike, one every 5.000 s.")
	assert.Less(t, strings.Count(b.String(), "\n"), 10)

	b.Reset()
	var wild []Cycle
	for i := range 1000 {
		wild = append(wild, cyclesOf(1+float64(i%2), 5*float64(i))...)
	}
	writeCycles(&b, wild, []happening{{at: 4000, text: "fault pilot-leaks"}})
	assert.Contains(t, b.String(), "cycles 5 to 998 are not alike")
	assert.Contains(t, b.String(), "-- at 4000 s: fault pilot-leaks")
	assert.Less(t, strings.Count(b.String(), "\n"), 50)

	b.Reset()
	var lifts []Lift
	for i := range 1000 {
		lifts = append(lifts, Lift{T: float64(i), Pressure: 12e5 + 2e3*float64(i%3), Surroundings: 101325})
	}
	writeLifts(&b, lifts)
	assert.Less(t, strings.Count(b.String(), "\n"), 18)
	assert.Contains(t, b.String(), "lifts 13 to 1000")
}

func TestBlowdown(t *testing.T) {
	b, ok := Lift{Pressure: 12e5, Reseat: 11e5, Reseated: true, Surroundings: 1e5}.Blowdown()
	assert.True(t, ok)
	assert.InDelta(t, 100.0/11, b, 1e-12)
	_, ok = Lift{Pressure: 12e5, Surroundings: 1e5}.Blowdown()
	assert.False(t, ok, "it has not reseated")
	_, ok = Lift{Pressure: 0.9e5, Reseat: 0.8e5, Reseated: true, Surroundings: 1e5}.Blowdown()
	assert.False(t, ok, "it was pushed open from behind")
}
