package live_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// TestVerifyOfSpringValves changes one expectation at a time of a run that shows what
// it says.
func TestVerifyOfSpringValves(t *testing.T) {
	sc, err := scenarios.Load("spring-reference")
	require.NoError(t, err)
	r := played(t, sc)
	require.Empty(t, live.Verify(r))
	yes, none := true, 0
	num := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		name string
		of   scenarios.OfValve
		want string
	}{
		{"too many lifts", scenarios.OfValve{Lifts: &scenarios.Count{Exactly: &none}}, "lifts of safety; want exactly 0"},
		{"on its seat", scenarios.OfValve{SeatedAtEnd: &yes}, "safety seated at the end: false; want true"},
		{"another state", scenarios.OfValve{StateAtEnd: []string{"tight", "gagged"}}, "safety at the end: partly-lifted; want tight or gagged"},
		{"pops sooner", scenarios.OfValve{Pops: &scenarios.Bounds{AtMost: num(40e5)}}, "lift 1 of safety, pops at: 41.0"},
		{"more blowdown", scenarios.OfValve{Blowdown: &scenarios.Bounds{AtLeast: num(0.06)}}, "blowdown: 0.04"},
		{"more accumulation", scenarios.OfValve{Accumulation: &scenarios.Bounds{AtLeast: num(0.05)}}, "accumulation: "},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.of.Valve = "safety"
			changed, run := *sc, *r
			changed.Shows, run.Scenario = &scenarios.Shows{Valves: []scenarios.OfValve{c.of}}, &changed
			found := live.Verify(&run)
			require.NotEmpty(t, found)
			assert.Contains(t, found[0], c.want)
		})
	}
	for _, c := range []struct {
		shows scenarios.Shows
		want  string
	}{
		{scenarios.Shows{Never: []string{"pop:safety"}}, "pop:safety happens at "},
		{scenarios.Shows{Never: []string{"pop:vessel"}}, ""},
		{scenarios.Shows{SeatedAtEnd: &yes}, "safety seated at the end: false"},
		{scenarios.Shows{StateAtEnd: []string{"tight"}}, "safety at the end: partly-lifted"},
		{scenarios.Shows{StateAtEnd: []string{"shut"}}, ""}, // a word for valves of another kind
		{scenarios.Shows{Lifts: &scenarios.Count{Exactly: &none}}, "lifts; want exactly 0"},
	} {
		changed, run := *sc, *r
		changed.Shows, run.Scenario = &c.shows, &changed
		found := live.Verify(&run)
		if c.want == "" {
			assert.Empty(t, found)
			continue
		}
		require.NotEmpty(t, found)
		assert.Contains(t, found[0], c.want)
	}
}

// TestVerifyWithoutALift: bounds on lifts are not met by a valve that has none.
func TestVerifyWithoutALift(t *testing.T) {
	sc, err := scenarios.Load("spring-reference")
	require.NoError(t, err)
	sc.Until = 1
	most := 0.06
	sc.Shows = &scenarios.Shows{Valves: []scenarios.OfValve{{Valve: "safety", Blowdown: &scenarios.Bounds{AtMost: &most}}}}
	assert.Equal(t, []string{"safety has no lift of its own that has a blowdown; want one"}, live.Verify(played(t, sc)))
}
