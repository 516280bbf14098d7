package unit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		v    float64
		dim  Dimension
		want string
	}{
		{12e5, Pressure, "12 bar abs"},
		{1204486.17, Pressure, "12.0449 bar abs"},
		{101325, Pressure, "1.01325 bar abs"},
		{0, Pressure, "0 bar abs"},
		{0.5e5, PressureDifference, "0.5 bar"},
		{-5e4, PressureDifference, "-0.5 bar"},
		{250, PressureDifference, "250 Pa"},
		{0, PressureDifference, "0 bar"},
		{300, Temperature, "26.85 degC"},
		{523.15, Temperature, "250 degC"},
		{273.15, Temperature, "0 degC"},
		{273.15 + 1e-9, Temperature, "0 degC"},
		{0, Temperature, "0 K"},
		{4e-6, Area, "4 mm2"},
		{5026.5e-6, Area, "5026.5 mm2"},
		{0, Area, "0 mm2"},
		{0.05, Length, "50 mm"},
		{18e-6, Length, "0.018 mm"},
		{2e-6, Length, "2 um"},
		{3, Length, "3 m"},
		{0.3e-3, Volume, "0.3 L"},
		{5, Volume, "5 m3"},
		{20e-6, Volume, "20 cm3"},
		{1, MassFlow, "1 kg/s"},
		{0.0074, MassFlow, "7.4 g/s"},
		{1.5, Mass, "1.5 kg"},
		{0.02, Mass, "20 g"},
		{60, Time, "60 s"},
		{0.05, Time, "50 ms"},
		{0, Time, "0 s"},
		{20e3, SpringRate, "20 N/mm"},
		{200, Force, "200 N"},
		{12345.678, Force, "12.3457 kN"},
		{20, Damping, "20 N s/m"},
		{0.01, Speed, "10 mm/s"},
		{50, Resistance, "50 ohm"},
		{1e6, Resistance, "1 Mohm"},
		{1.0 / 3, Ratio, "0.333333"},
		{2e-7, Ratio, "2e-7"},
		{2.5e10, Ratio, "2.5e10"},
		{287.05, GasConstant, "287.05 J/(kg K)"},
		{18.5e-6, Viscosity, "18.5 uPa s"},
		{14e6, Energy, "14 MJ"},
		{900, Energy, "900 J"},
		{math.Inf(1), Ratio, "+Inf"},
		{math.Inf(1), Temperature, "+Inf degC"},
		{math.NaN(), Pressure, "NaN bar abs"},
		{1.5, Dimension("torque"), "1.5"},
	} {
		assert.Equal(t, c.want, Format(c.v, c.dim), "%g as %s", c.v, c.dim)
	}
}

func TestIn(t *testing.T) {
	for _, c := range []struct {
		v          float64
		dim        Dimension
		unit, want string
	}{
		{1234567, Pressure, "bar g", "11.3324 bar g"},
		{12e5, Pressure, "psig", "159.349 psig"},
		{101325, Pressure, "psi g", "0 psig"},
		{300, Temperature, "K", "300 K"},
		{300, Temperature, "degF", "80.33 degF"},
		{0.15, Ratio, "%", "15 %"},
		{0.5, MassFlow, "lb/h", "3968.32 lb/h"},
	} {
		got, ok := In(c.v, c.dim, c.unit)
		assert.True(t, ok, c.unit)
		assert.Equal(t, c.want, got)
	}
	for _, c := range []struct {
		dim  Dimension
		unit string
	}{{Pressure, "bar"}, {Area, "mm"}, {Dimension("torque"), "N m"}} {
		_, ok := In(1, c.dim, c.unit)
		assert.False(t, ok, "%s as %s", c.unit, c.dim)
	}
}

func TestExact(t *testing.T) {
	for _, c := range []struct {
		v    float64
		dim  Dimension
		want string
	}{
		{12e5, Pressure, "1200000 Pa abs"},
		{4e-6, Area, "4e-6 m2"},
		{0.1, Time, "0.1 s"},
		{1.0 / 3, Ratio, "0.3333333333333333"},
		{math.Copysign(0, -1), Force, "0 N"},
		{1e300, Force, "1e300 N"},
		{300, Temperature, "300 K"},
		{1.5, Dimension("torque"), "1.5"},
	} {
		assert.Equal(t, c.want, Exact(c.v, c.dim))
	}
	_, err := Parse(Exact(math.NaN(), Force), Force)
	assert.Error(t, err, "a NaN does not come back")
}

// anyNumber draws a finite number that a quantity of dim can have.
func anyNumber(t *rapid.T, dim Dimension) float64 {
	v := rapid.Float64().Filter(func(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }).Draw(t, "v")
	if dim == Pressure || dim == Temperature {
		v = math.Abs(v)
	}
	return v
}

func TestExactComesBackToTheBit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dim := rapid.SampledFrom(Dimensions()).Draw(t, "dim")
		v := anyNumber(t, dim)
		back, err := Parse(Exact(v, dim), dim)
		require.NoError(t, err)
		require.Equal(t, v, back+0)
	})
}

func TestFormatComesBackToSixDigits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dim := rapid.SampledFrom(Dimensions()).Draw(t, "dim")
		size := rapid.Float64Range(-9, 9).Draw(t, "size") // the numbers of a plant
		v := math.Pow(10, size) * rapid.SampledFrom([]float64{1, -1}).Draw(t, "sign")
		if dim == Pressure || dim == Temperature {
			v = 10 + math.Abs(v) // nearer to zero, rounding may lead below it
		}
		for _, text := range append(inAll(t, v, dim), Format(v, dim)) {
			back, err := Parse(text, dim)
			require.NoError(t, err)
			zero := 0.0 // what the digits count from besides v itself
			switch dim {
			case Pressure:
				zero = StandardAtmosphere
			case Temperature:
				zero = 273.15
			}
			require.InDelta(t, v, back, 5.1e-6*max(math.Abs(v), zero), text)
		}
	})
}

func inAll(t *rapid.T, v float64, dim Dimension) []string {
	var out []string
	for _, u := range Units(dim) {
		text, ok := In(v, dim, u)
		require.True(t, ok, u)
		out = append(out, text)
	}
	return out
}
