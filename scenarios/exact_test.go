package scenarios

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/model/unit"
)

func TestExactly(t *testing.T) {
	for _, c := range []struct {
		v    float64
		dim  unit.Dimension
		want string
	}{
		{4e-6, unit.Area, "4 mm2"},
		{5026.5e-6, unit.Area, "5026.5 mm2"},
		{12e5, unit.Pressure, "12 bar abs"},
		{101325, unit.Pressure, "101325 Pa abs"},
		{-0.2e5, unit.PressureDifference, "-0.2 bar"},
		{300, unit.Temperature, "300 K"},
		{0.05, unit.Time, "50 ms"},
		{0.3e-3, unit.Volume, "0.3 L"},
		{1.4, unit.Ratio, "1.4"},
		{18.5e-6, unit.Viscosity, "18.5 uPa s"},
		{20e3, unit.SpringRate, "20 N/mm"},
		{1.0 / 3, unit.Length, "333.3333333333333 mm"},
		{0, unit.Area, "0 mm2"},
		{math.Copysign(0, -1), unit.PressureDifference, "0 Pa"},
		{100, unit.Volume, "100 m3"},
	} {
		assert.Equal(t, c.want, exactly(c.v, c.dim))
	}
	assert.Equal(t, "3.2000000000000006 s", second(3.2000000000000006), "always in seconds")
	assert.Equal(t, "1e-9 s", second(1e-9))
}

// readsBack tells whether a number is written so that reading gives the same
// bits.
func readsBack(t require.TestingT, v float64, dim unit.Dimension) {
	for _, text := range []string{exactly(v, dim), second(v)} {
		of := dim
		if text == second(v) {
			of = unit.Time
		}
		back, err := unit.Parse(text, of)
		require.NoError(t, err, text)
		require.Equal(t, math.Float64bits(v), math.Float64bits(back), "%s is %v, not %v", text, back, v)
	}
}

// Any finite number of any dimension is read back as it was, bit for bit.
func TestExactlyReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dim := rapid.SampledFrom(unit.Dimensions()).Draw(t, "dimension")
		v := math.Float64frombits(rapid.Uint64Range(0, math.Float64bits(math.MaxFloat64)).Draw(t, "bits"))
		if dim != unit.Pressure && dim != unit.Temperature && v != 0 && rapid.Bool().Draw(t, "negative") {
			v = -v
			back, err := unit.Parse(exactly(v, dim), dim)
			require.NoError(t, err)
			require.Equal(t, v, back)
			return
		}
		readsBack(t, v, dim)
	})
}

// Numbers as people give them, too: few digits in any unit.
func TestExactlyReadsBackWhatPeopleWrite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dim := rapid.SampledFrom(unit.Dimensions()).Draw(t, "dimension")
		name := rapid.SampledFrom(unit.Units(dim)).Draw(t, "unit")
		number := rapid.StringMatching(`[0-9]{1,4}(\.[0-9]{1,3})?`).Draw(t, "number")
		v, err := unit.Parse(number+" "+name, dim)
		require.NoError(t, err)
		readsBack(t, v, dim)
	})
}

func FuzzExactly(f *testing.F) {
	for _, v := range []float64{0, 4e-6, 1.0 / 3, 101325, 5e-324, math.MaxFloat64, 0.1} {
		f.Add(math.Float64bits(v), uint8(3))
	}
	f.Fuzz(func(t *testing.T, bits uint64, kind uint8) {
		v := math.Abs(math.Float64frombits(bits))
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return
		}
		all := unit.Dimensions()
		readsBack(t, v, all[int(kind)%len(all)])
	})
}
