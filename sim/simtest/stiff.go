package simtest

import (
	"underdisc/sim"
	"underdisc/sim/method"
)

// dense lists all n x n elements row by row.
func dense(n int) []method.Entry {
	var e []method.Entry
	for i := range n {
		for j := range n {
			e = append(e, method.Entry{Row: i, Col: j})
		}
	}
	return e
}

// Rober is Robertson's reaction, y1' = -0.04 y1 + 1e4 y2 y3, y3' = 3e7 y2^2,
// y2' = -y1' - y3', from (1, 0, 0): the classic of stiffness, until 40 or
// until 1e11 s.
func Rober(until float64) Problem {
	sys := &ODE{
		Lay: sim.Layout{Vars: names("y", 3), Scales: []float64{1e-8, 1e-14, 1e-8}, Entries: dense(3)},
		F: func(_ float64, y, dy, _ []float64) {
			a, b, c := 0.04*y[0], 1e4*y[1]*y[2], 3e7*y[1]*y[1]
			dy[0], dy[1], dy[2] = b-a, a-b-c, c
		},
		J: func(_ float64, y, e []float64) {
			e[0], e[1], e[2] = -0.04, 1e4*y[2], 1e4*y[1]
			e[3], e[4], e[5] = 0.04, -1e4*y[2]-6e7*y[1], -1e4*y[1]
			e[6], e[7], e[8] = 0, 6e7*y[1], 0
		},
	}
	p := Problem{Name: "ROBER", Source: "Test Set, ROBER, t = 1e11 (seen, reproduced)",
		System: sys, Start: start(&sys.Lay, 0, 1, 0, 0), End: until}
	switch until {
	case 40:
		p.Source = "Test Set, ROBER, t = 40 (seen, reproduced)"
		p.Want = []float64{0.71582706872, 9.1855347646e-6, 0.28416374575}
	case 1e11:
		p.Want = []float64{0.2083340149701255e-7, 0.8333360770334713e-13, 0.9999999791665050}
	}
	return p
}

// Hires is the photomorphogenesis of a plant, eight reactions of moderate
// stiffness with a late transient.
func Hires() Problem {
	ent := []method.Entry{{Row: 0, Col: 0}, {Row: 0, Col: 1}, {Row: 0, Col: 2}, {Row: 1, Col: 0}, {Row: 1, Col: 1},
		{Row: 2, Col: 2}, {Row: 2, Col: 3}, {Row: 2, Col: 4}, {Row: 3, Col: 1}, {Row: 3, Col: 2}, {Row: 3, Col: 3},
		{Row: 4, Col: 4}, {Row: 4, Col: 5}, {Row: 4, Col: 6}, {Row: 5, Col: 3}, {Row: 5, Col: 4}, {Row: 5, Col: 5}, {Row: 5, Col: 6}, {Row: 5, Col: 7},
		{Row: 6, Col: 5}, {Row: 6, Col: 6}, {Row: 6, Col: 7}, {Row: 7, Col: 5}, {Row: 7, Col: 6}, {Row: 7, Col: 7}}
	sys := &ODE{
		Lay: sim.Layout{Vars: names("y", 8), Scales: scales(8, 1e-4), Entries: ent},
		F: func(_ float64, y, dy, _ []float64) {
			r := 280 * y[5] * y[7]
			dy[0] = -1.71*y[0] + 0.43*y[1] + 8.32*y[2] + 0.0007
			dy[1] = 1.71*y[0] - 8.75*y[1]
			dy[2] = -10.03*y[2] + 0.43*y[3] + 0.035*y[4]
			dy[3] = 8.32*y[1] + 1.71*y[2] - 1.12*y[3]
			dy[4] = -1.745*y[4] + 0.43*y[5] + 0.43*y[6]
			dy[5] = -r + 0.69*y[3] + 1.71*y[4] - 0.43*y[5] + 0.69*y[6]
			dy[6] = r - 1.81*y[6]
			dy[7] = -r + 1.81*y[6]
		},
		J: func(_ float64, y, e []float64) {
			a, b := 280*y[7], 280*y[5]
			copy(e, []float64{-1.71, 0.43, 8.32, 1.71, -8.75, -10.03, 0.43, 0.035, 8.32, 1.71, -1.12,
				-1.745, 0.43, 0.43, 0.69, 1.71, -a - 0.43, 0.69, -b, a, -1.81, b, -a, 1.81, -b})
		},
	}
	return Problem{Name: "HIRES", Source: "Test Set, HIRES, t = 321.8122 (seen, reproduced)",
		System: sys, Start: start(&sys.Lay, 0, 1, 0, 0, 0, 0, 0, 0, 0.0057), End: 321.8122,
		Want: []float64{0.7371312573325668e-3, 0.1442485726316185e-3, 0.5888729740967575e-4, 0.1175651343283149e-2,
			0.2386356198831331e-2, 0.6238968252742796e-2, 0.2849998395185769e-2, 0.2850001604814231e-2}}
}

// Vdpol is van der Pol's oscillator, y1' = y2, eps y2' = (1 - y1^2) y2 - y1,
// with eps = 1e-6: slow creep and sudden jumps.
func Vdpol() Problem {
	const eps = 1e-6
	sys := &ODE{
		Lay: sim.Layout{Vars: names("y", 2), Scales: scales(2, 1e-3), Entries: dense(2)},
		F: func(_ float64, y, dy, _ []float64) {
			dy[0], dy[1] = y[1], ((1-y[0]*y[0])*y[1]-y[0])/eps
		},
		J: func(_ float64, y, e []float64) {
			e[0], e[1] = 0, 1
			e[2], e[3] = (-2*y[0]*y[1]-1)/eps, (1-y[0]*y[0])/eps
		},
	}
	return Problem{Name: "VDPOL", Source: "Test Set, VDPOL, eps = 1e-6, t = 2 (seen, reproduced)",
		System: sys, Start: start(&sys.Lay, 0, 2, 0), End: 2,
		Want: []float64{1.706167732170483, -0.8928097010247975}}
}
