package scenarios

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/model/fault"
	"underdisc/model/plant"
)

// again reads what Text writes, without anything to include.
func again(t require.TestingT, s *Scenario) *Scenario {
	out, err := Parse("again.yaml", []byte(s.Text()), nil)
	require.NoError(t, err, s.Text())
	return out
}

// alike asserts that two scenarios run alike, to the last bit.
func alike(t require.TestingT, want, got *Scenario) {
	require.Equal(t, want.Name, got.Name)
	require.Equal(t, math.Float64bits(want.Until), math.Float64bits(got.Until))
	require.Equal(t, want.Plant, got.Plant)
	require.Equal(t, want.Faults, got.Faults)
	require.Equal(t, want.Commands, got.Commands)
	require.Equal(t, want.Hidden != nil, got.Hidden != nil)
	if want.Hidden != nil {
		require.Equal(t, want.Hidden.Faults, got.Hidden.Faults)
		require.Equal(t, want.Hidden.texts(), got.Hidden.texts())
	}
}

func TestTextReadsBack(t *testing.T) {
	for _, name := range Names() {
		s, err := Load(name)
		require.NoError(t, err)
		got := again(t, s)
		alike(t, s, got)
		assert.Equal(t, strings.Fields(s.Title+" "+s.About), strings.Fields(got.Title+" "+got.About))
	}
	s, err := Parse("rich.yaml", []byte(rich), openEmbeddedOnly)
	require.NoError(t, err)
	require.NoError(t, s.Hide("word", fault.Entry{Name: "spring-weak", At: 1.25}))
	s.Title = "a: \"b\" \\ 'c' # d\n\te\u0000\u2028 é \U0001F600"
	s.About = "# no comment\n- no list\n\n: | > " + strings.Repeat("long ", 40)
	alike(t, s, again(t, s))
	assert.Equal(t, `a: "b" \ 'c' # d e é `+"\U0001F600", again(t, s).Title)
	assert.Equal(t, s.Text(), again(t, s).Text())
}

// Any values that a plant may have are read back bit for bit.
func TestTextOfAnyValues(t *testing.T) {
	base, err := Load("gas-bench-plus")
	require.NoError(t, err)
	params := base.Plant.Params()
	rapid.Check(t, func(t *rapid.T) {
		s := *base
		for range 8 {
			prm := rapid.SampledFrom(params).Draw(t, "parameter")
			val := plant.Value{Number: rapid.Float64Range(math.Max(prm.Range.Lo, -1e9), math.Min(prm.Range.Hi, 1e9)).Draw(t, "value")}
			if prm.Enum != nil {
				val = plant.Value{Word: rapid.SampledFrom(prm.Enum).Draw(t, "word")}
			}
			if val.Number == 0 {
				val.Number = 0 // not a negative one
			}
			p, err := s.Plant.With(prm.Path, val)
			if err == nil && p.Check() == nil {
				s.Plant = p
			}
		}
		s.Until = rapid.Float64Range(1e-6, longest).Draw(t, "until")
		s.Commands = []Command{{At: s.Until * 0.3, Path: "inflow.mass-flow", Value: plant.Value{Number: rapid.Float64Range(0, 1e4).Draw(t, "flow")}}}
		alike(t, &s, again(t, &s))
	})
}
