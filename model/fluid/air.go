package fluid

import "sync"

// molar is the gas constant that both equations below were made with,
// J/(kmol K).
const molar = 8314.510

// Air is air with the heat capacity of an ideal gas after Lemmon, Jacobsen,
// Penoncello and Friend, J. Phys. Chem. Ref. Data 29 (2000) 331, table 12
// (coefficients seen in public copies), from 60 to 2000 K. Made on first use,
// shared, not to be changed.
var Air = sync.OnceValue(func() *ThermalGas {
	const m = 28.9586
	return NewThermalGas("air", molar/m, HeatCapacity{
		Powers: []Power{{3.490888032, 0}, {2.395525583e-6, 1}, {7.172111248e-9, 2},
			{-3.115413101e-13, 3}, {0.223806688, -1.5}},
		Vibrations: []Vibration{{0.791309509, 3364.011}, {0.212236768, 2242.45}},
		Levels:     []Level{{0.197938904, 11580.4, 2. / 3}},
	}, 60, 2000, Collisions{M: m, Depth: 103.3, Size: 0.360})
})

// Nitrogen is nitrogen with the heat capacity of an ideal gas after Span,
// Lemmon, Jacobsen, Wagner and Yokozeki, J. Phys. Chem. Ref. Data 29 (2000)
// 1361 (coefficients seen in public copies), from 63.151 to 2000 K; the source
// itself vouches for it up to 1000 K. Made on first use, shared, not to be
// changed.
var Nitrogen = sync.OnceValue(func() *ThermalGas {
	const m = 28.01348
	return NewThermalGas("nitrogen", molar/m, HeatCapacity{
		Powers:     []Power{{3.5, 0}, {3.066469e-6, 1}, {4.701240e-9, 2}, {-3.987984e-13, 3}},
		Vibrations: []Vibration{{1.012941, 3364.011}},
	}, 63.151, 2000, Collisions{M: m, Depth: 98.94, Size: 0.3656})
})
