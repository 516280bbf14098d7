package unit

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The factors are those of the definitions (NIST SP 811, 2008, appendix B;
// SI brochure): inch 25.4 mm, pound 0.45359237 kg, standard gravity
// 9.80665 m/s2, standard atmosphere 101325 Pa, all exact. Trust: memory for
// the definitions, which are laid down by law; the quotients are computed.
func TestParse(t *testing.T) {
	const (
		lbf = 0.45359237 * 9.80665 // 4.4482216152605
		psi = 6894.757293168361    // lbf/(25.4 mm)^2, to 16 digits
	)
	for _, c := range []struct {
		text string
		dim  Dimension
		want float64
	}{
		{"12.0 bar abs", Pressure, 12.0e5},
		{"11.3 bar abs", Pressure, 11.3e5},
		{"1.01325 bar abs", Pressure, 101325},
		{"0 bar g", Pressure, 101325},
		{"10 barg", Pressure, 1101325},
		{"10 bar(g)", Pressure, 1101325},
		{"10 bar gauge", Pressure, 1101325},
		{"10 bar (a)", Pressure, 1e6},
		{"10 bara", Pressure, 1e6},
		{"10 bar absolute", Pressure, 1e6},
		{"-0.5 bar g", Pressure, 51325},
		{"101.325 kPa abs", Pressure, 101325},
		{"1.2 MPa abs", Pressure, 1.2e6},
		{"7 Pa abs", Pressure, 7},
		{"1 psia", Pressure, psi},
		{"1 psi abs", Pressure, psi},
		{"160 psig", Pressure, 1204486.1669069377}, // 160 psi + 101325 Pa
		{"14.7 psi g", Pressure, 202677.9322095749},
		{"1 kgf/cm2 g", Pressure, 98066.5 + 101325},

		{"0.5 bar", PressureDifference, 0.5e5},
		{"-3 mbar", PressureDifference, -300},
		{"2 psi", PressureDifference, 2 * psi},

		{"250 degC", Temperature, 523.15},
		{"250 °C", Temperature, 523.15},
		{"-273.15 degC", Temperature, 0},
		{"300 K", Temperature, 300},
		{"32 degF", Temperature, 273.15},
		{"212 deg F", Temperature, 373.15},
		{"491.67 degR", Temperature, 273.15},
		{"15 degC", TemperatureDifference, 15},
		{"9 degF", TemperatureDifference, 5},

		{"4 mm2", Area, 4e-6},
		{"4mm2", Area, 4e-6},
		{"4 mm²", Area, 4e-6},
		{"4 mm^2", Area, 4e-6},
		{"5026.5 mm2", Area, 5026.5e-6},
		{"2 cm2", Area, 2e-4},
		{"1 in2", Area, 6.4516e-4},
		{"50 mm", Length, 0.05},
		{"20 µm", Length, 20e-6},
		{"2 in", Length, 0.0508},
		{"1 ft", Length, 0.3048},
		{"0.3 L", Volume, 0.3e-3},
		{"10 l", Volume, 10e-3},
		{"5 m3", Volume, 5},
		{"7 cm3", Volume, 7e-6},
		{"1 ft3", Volume, 0.028316846592},
		{"1 kg/s", MassFlow, 1},
		{"3600 kg/h", MassFlow, 1},
		{"3600 lb/h", MassFlow, 0.45359237},
		{"3.6 t/h", MassFlow, 1},
		{"1 lb", Mass, 0.45359237},
		{"250 g", Mass, 0.25},
		{"20 N s/m", Damping, 20},
		{"20 N·s/m", Damping, 20},
		{"20 N*s / m", Damping, 20},
		{"20 N/mm", SpringRate, 20e3},
		{"1 lbf/in", SpringRate, 175.12683524647636},
		{"100 lbf", Force, 100 * lbf},
		{"1 kgf", Force, 9.80665},
		{"1 kN", Force, 1000},
		{"10 mm/s", Speed, 0.01},
		{"36 km/h", Speed, 10},
		{"9.81 m/s2", Acceleration, 9.81},
		{"60 s", Time, 60},
		{"50 ms", Time, 0.05},
		{"2 min", Time, 120},
		{"1 h", Time, 3600},
		{"15 %", Ratio, 0.15},
		{"15%", Ratio, 0.15},
		{"0.85", Ratio, 0.85},
		{" .5 ", Ratio, 0.5},
		{"1.", Ratio, 1},
		{"+1e-3", Ratio, 1e-3},
		{"2.5E+2", Ratio, 250},
		{"287.05 J/(kg K)", GasConstant, 287.05},
		{"287.05 J/(kg·K)", GasConstant, 287.05},
		{"0.28705 kJ/(kg K)", GasConstant, 287.05},
		{"287.05 J/kg/K", GasConstant, 287.05},
		{"18.5 uPa s", Viscosity, 18.5e-6},
		{"1 cP", Viscosity, 1e-3},
		{"2 H", Inductance, 2},
		{"150 mH", Inductance, 0.15},
		{"50 ohm", Resistance, 50},
		{"50 Ω", Resistance, 50},
		{"1 Mohm", Resistance, 1e6},
		{"1 mohm", Resistance, 1e-3},
		{"125 V", Voltage, 125},
		{"40 mA", Current, 0.04},
		{"160 N/A2", PullFactor, 160},
		{"430 J/K", HeatCapacity, 430},
		{"5.7 W/K", Conductance, 5.7},
		{"14 MJ", Energy, 14e6},
		{"1 kWh", Energy, 3.6e6},
		{"3 kW", Power, 3000},

		{"1e-999999999 mm2", Area, 0},
		{"-0 N", Force, 0},
	} {
		t.Run(c.text+" as "+string(c.dim), func(t *testing.T) {
			got, err := Parse(c.text, c.dim)
			require.NoError(t, err)
			if c.want == 0 {
				assert.Zero(t, got)
				return
			}
			// An ulp for the values above that are products themselves.
			assert.LessOrEqual(t, math.Abs(got-c.want), math.Abs(c.want)*0x1p-52, "%.17g, want %.17g", got, c.want)
		})
	}
}

func TestParseIsCorrectlyRounded(t *testing.T) {
	for _, c := range []struct {
		text string
		dim  Dimension
		want float64
	}{
		// Products that come out an ulp off in floating point.
		{"5026.5 mm2", Area, 5026.5e-6},
		{"11.3 bar abs", Pressure, 11.3e5},
		{"1.1 mm", Length, 1.1e-3},
		{"0.3 L", Volume, 0.3e-3},
		{"26.85 degC", Temperature, 300},
		{"70 mm", Length, 0.07},
	} {
		got, err := Parse(c.text, c.dim)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, got, c.text)
	}
	rapid.Check(t, func(t *rapid.T) {
		digits := strconv.Itoa(rapid.IntRange(-1e9, 1e9).Draw(t, "digits"))
		exponent := rapid.IntRange(-30, 30).Draw(t, "exponent")
		want, err := strconv.ParseFloat(digits+"e"+strconv.Itoa(exponent-6), 64)
		require.NoError(t, err)
		got, err := Parse(digits+"e"+strconv.Itoa(exponent)+" mm2", Area)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	})
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		name, text  string
		dim         Dimension
		found, want string
	}{
		{"pressure without reference", "12 bar", Pressure, "does not say gauge or absolute", "12.0 bar abs or 11.0 bar g"},
		{"psi without reference", "160psi", Pressure, "does not say gauge or absolute", "bar abs"},
		{"pressure without unit", "12", Pressure, "has no unit", "such as 12.0 bar abs (in bar abs, bar g"},
		{"difference that says gauge", "0.5 bar g", PressureDifference, "says gauge or absolute", "such as 0.5 bar"},
		{"difference that says absolute", "7 psia", PressureDifference, "says gauge or absolute", "such as 0.5 bar"},
		{"area without unit", "4", Area, "has no unit", "an area such as 4 mm2 (in mm2, cm2, m2, in2, ft2)"},
		{"zero without unit", "0", Area, "has no unit", "an area"},
		{"length for an area", "4 mm", Area, `"4 mm" is a length`, "an area such as 4 mm2"},
		{"pressure for an area", "4 bar abs", Area, "is a gauge or absolute pressure", "an area"},
		{"mass flow for a damping", "20 kg/s", Damping, "is a mass flow", "a damping such as 20 N s/m"},
		{"number for a force", "15 %", Force, "is a ratio", "a force such as 200 N"},
		{"force for a ratio", "15 N", Ratio, "is a force", "a ratio such as 0.85"},
		{"unknown unit", "4 furlong", Length, "has an unknown unit", "a length such as 50 mm (in mm, um, cm, m, in, ft)"},
		{"unknown unit of a ratio", "4 foo", Ratio, "has an unknown unit", "a plain number such as 0.85, or one in %"},
		{"wrong capitals", "4 Kg", Mass, "has an unknown unit", "capitals matter: kg"},
		{"milli for mega", "1 mPa abs", Pressure, "has an unknown unit", "capitals matter: MPa abs"},
		{"nothing", "", Length, `"" is not a decimal number`, "a length"},
		{"unit alone", "mm", Length, "is not a decimal number", "a length"},
		{"sign alone", "- mm", Length, "is not a decimal number", "a length"},
		{"not a number", "NaN mm", Length, "is not a decimal number", "a length"},
		{"infinity", "Inf mm", Length, "is not a decimal number", "a length"},
		{"negative infinity", "-inf", Ratio, "is not a decimal number", "a plain number"},
		{"hexadecimal", "0x10 mm", Length, "in a form that is not read", "a decimal number"},
		{"underscore", "1_000 mm", Length, "in a form that is not read", "a decimal number"},
		{"decimal comma", "1,5 mm", Length, "in a form that is not read", "a decimal number"},
		{"two points", "1.5.2 mm", Length, "in a form that is not read", "a decimal number"},
		{"grouped digits", "1 000 mm", Length, "in a form that is not read", "a decimal number"},
		{"two signs", "+-1 mm", Length, "is not a decimal number", "a length"},
		{"exponent without digits", "1e mm", Length, "has an unknown unit", "a length"},
		{"number too large", "1e400 m", Length, "is too large", "a length"},
		{"value too large", "1e308 bar abs", Pressure, "is too large", "pressure"},
		{"endless digits", strings.Repeat("1", 200) + " m", Length, "is not a decimal number", "a length"},
		{"below a vacuum", "-1.5 bar g", Pressure, "lies below absolute zero", "0 Pa abs or more"},
		{"below zero absolute", "-1 Pa abs", Pressure, "lies below absolute zero", "0 Pa abs or more"},
		{"below absolute zero", "-300 degC", Temperature, "lies below absolute zero", "0 K or more"},
		{"unknown dimension", "1 m", Dimension("torque"), `dimension "torque" is not known`, "length, area"},
	} {
		t.Run(c.name, func(t *testing.T) {
			v, err := Parse(c.text, c.dim)
			assert.Zero(t, v)
			var e *Error
			require.ErrorAs(t, err, &e)
			assert.Contains(t, e.Found, c.found)
			assert.Contains(t, e.Want, c.want)
			assert.Equal(t, e.Found+"; want "+e.Want, err.Error())
		})
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"12.0 bar abs", "160 psig", "4 mm²", "1e-3", "15 %", "1e999 m", "0x1p-2 m", "-.5e+3 N s/m", "1 \xff", "1e-400 bar g"} {
		for i := range book {
			f.Add(s, uint8(i))
		}
	}
	f.Fuzz(func(t *testing.T, text string, i uint8) {
		dim := book[int(i)%len(book)].dim
		v, err := Parse(text, dim)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Found == "" || e.Want == "" || v != 0 {
				t.Fatalf("Parse(%q, %s) = %g, %v", text, dim, v, err)
			}
			return
		}
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("Parse(%q, %s) = %g", text, dim, v)
		}
		back, err := Parse(Exact(v, dim), dim)
		if err != nil || back != v {
			t.Fatalf("%q as %s is %g; its exact form %q gives %g, %v", text, dim, v, Exact(v, dim), back, err)
		}
	})
}
