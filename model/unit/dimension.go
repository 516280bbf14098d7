package unit

// Dimension names what a number measures, as in the dim tags of a plant's
// parameters. Two dimensions may share an SI unit and still differ in what is
// accepted: a pressure and a difference of pressures.
type Dimension string

// The dimensions, each with the SI unit that a number of it is kept in.
const (
	Ratio                 Dimension = "ratio"                  // 1
	GasConstant           Dimension = "gas-constant"           // J/(kg K)
	Viscosity             Dimension = "viscosity"              // Pa s, dynamic
	Acceleration          Dimension = "acceleration"           // m/s2
	Pressure              Dimension = "pressure"               // Pa, absolute
	PressureDifference    Dimension = "pressure-difference"    // Pa
	Temperature           Dimension = "temperature"            // K
	MassFlow              Dimension = "mass-flow"              // kg/s
	Length                Dimension = "length"                 // m
	Area                  Dimension = "area"                   // m2
	Volume                Dimension = "volume"                 // m3
	Mass                  Dimension = "mass"                   // kg
	Time                  Dimension = "time"                   // s
	Force                 Dimension = "force"                  // N
	Damping               Dimension = "damping"                // N s/m
	Speed                 Dimension = "speed"                  // m/s
	SpringRate            Dimension = "spring-rate"            // N/m
	Inductance            Dimension = "inductance"             // H
	Resistance            Dimension = "resistance"             // ohm
	Voltage               Dimension = "voltage"                // V
	Current               Dimension = "current"                // A
	PullFactor            Dimension = "pull-factor"            // N/A2
	HeatCapacity          Dimension = "heat-capacity"          // J/K
	Conductance           Dimension = "conductance"            // W/K, thermal
	Energy                Dimension = "energy"                 // J
	Power                 Dimension = "power"                  // W
	TemperatureDifference Dimension = "temperature-difference" // K
	Frequency             Dimension = "frequency"              // Hz
)

// Dimensions lists every dimension, in the order above.
func Dimensions() []Dimension {
	out := make([]Dimension, len(book))
	for i := range book {
		out[i] = book[i].dim
	}
	return out
}

// Known tells whether dim is one of the dimensions above.
func Known(dim Dimension) bool { return find(dim) != nil }

// Units lists the units that Parse accepts for dim, the usual one first,
// without their spelling variants; "" stands for a plain number. It is nil
// for an unknown dimension.
func Units(dim Dimension) []string {
	e := find(dim)
	if e == nil {
		return nil
	}
	out := make([]string, len(e.units))
	for i := range e.units {
		out[i] = e.units[i].name
	}
	return out
}

// Example is a quantity of dim as a person would write it, for messages and
// help; Parse accepts it. It is "" for an unknown dimension.
func Example(dim Dimension) string {
	if e := find(dim); e != nil {
		return e.example
	}
	return ""
}

// Noun names dim with its article, for sentences: "an area". It is "" for an
// unknown dimension.
func Noun(dim Dimension) string {
	if e := find(dim); e != nil {
		return e.noun
	}
	return ""
}

// SI is the unit in which a number of dim is kept inside the program, as
// Parse accepts it: "m2", "Pa abs", "" for a ratio and for an unknown
// dimension.
func SI(dim Dimension) string {
	if e := find(dim); e != nil {
		return e.si
	}
	return ""
}

func find(dim Dimension) *entry {
	for i := range book {
		if book[i].dim == dim {
			return &book[i]
		}
	}
	return nil
}
