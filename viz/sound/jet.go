package sound

import "math"

// What flows is taken for air: a state does not say which gas it is, and the
// ear would not hear the difference.
const (
	gamma       = 1.4
	gasConstant = 287.0 // J/(kg K)
	anyGas      = 300.0 // K, where no temperature is known
)

// Of the methods for the noise of control valves (IEC 60534-8-3), from memory
// and without the pipe around the jet: the stream power of a choked jet is that
// at the speed of sound; a share eta of it becomes sound, 1e-4 where it just
// chokes, and rising with the Mach number of the free jet to the power 6.6 FL2;
// the peak is at a Strouhal number of 0.2. FL2, the square of the factor of
// pressure recovery, is that of a plain orifice. The share never passes one
// hundredth.
const (
	etaSonic = 1e-4
	etaMost  = 1e-2
	fl2      = 0.81
	strouhal = 0.2
)

// jet is what a flow sounds like where it leaves a narrow place.
type jet struct {
	power float64 // acoustic, W
	peak  float64 // of its spectrum, Hz
}

// jetOf finds the jet of a mass flow [kg/s] from one pressure to another [Pa],
// the gas before it at a temperature [K]. The flow may go either way. Without
// flow, or with numbers that are none, there is no jet.
func jetOf(flow, from, to, temperature float64) jet {
	if flow < 0 {
		flow, from, to = -flow, to, from
	}
	if !(flow > 0 && from > to && to > 0) || math.IsInf(flow, 0) || math.IsInf(from, 0) {
		return jet{}
	}
	if !(temperature > 0) || math.IsInf(temperature, 0) {
		temperature = anyGas
	}
	free := mach(to / from)        // of the jet when it has come down to the pressure around it
	narrow := math.Min(free, 1)    // in the narrowest place
	share := etaSonic * pow5(free) // Lighthill: power goes with the eighth power of speed, so the share with the fifth
	if free > 1 {
		share = math.Min(etaSonic*math.Pow(free, 6.6*fl2), etaMost)
	}
	cool := temperature / (1 + (gamma-1)/2*narrow*narrow)
	sonic := math.Sqrt(gamma * gasConstant * cool)
	speed := narrow * sonic
	pressure := from * math.Pow(cool/temperature, gamma/(gamma-1))
	area := flow / (speed * pressure / (gasConstant * cool))
	return jet{
		power: share * flow * speed * speed / 2,
		peak:  strouhal * free * sonic / math.Sqrt(4/math.Pi*area),
	}
}

// mach is the Mach number that a ratio of pressures drives a jet to.
func mach(ratio float64) float64 {
	return math.Sqrt(2 / (gamma - 1) * (math.Pow(ratio, -(gamma-1)/gamma) - 1))
}

func pow5(x float64) float64 { return x * x * x * x * x }
