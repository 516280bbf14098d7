package network

import (
	"fmt"
	"math"
)

// liquidSlack is how many times the relative tolerance the pressure of a volume
// full of water may be off.
const liquidSlack = 10

// Judge implements sim.Judge: the largest relative error of pressure in a volume
// full of water, by liquidSlack, and of position between faces that touch. There a mass that is right to a millionth leaves
// the pressure off by a thousandth, and the square root in the law of flow never
// settles. Elsewhere pressure is as exact as mass and energy are.
//
// It takes the volume's slopes from where the equations were last evaluated,
// which is the end of the step or next to it.
func (n *Network) Judge(e, y []float64) float64 {
	worst := 0.0
	for i := range n.Volumes {
		nd := &n.nodes[i]
		if nd.water == nil || nd.st.X > 0 {
			continue
		}
		st := &nd.st
		im := 1 / y[nd.m]
		v, u := -st.V*im*e[nd.m], (e[nd.u]-st.U*e[nd.m])*im
		for k := range nd.faces {
			v += nd.faces[k].area * im * e[nd.cols[2+k]]
		}
		worst = max(worst, math.Abs(st.Pv*v+st.Pu*u)/st.P)
	}
	worst /= liquidSlack
	for i := range n.Movers {
		f := n.Movers[i].Seat
		if f == nil {
			continue
		}
		if x := y[n.parts[i].x]; n.gap(i, x, y) < touching*f.Length {
			worst = max(worst, math.Abs(e[n.parts[i].x])/(facesSlack*f.Length))
		}
	}
	return worst
}

// Faces that touch are followed to a share of their own length, not of a travel that
// is thousands of times as long: facesSlack lengths times the relative tolerance,
// while the gap is below touching lengths.
const touching, facesSlack = 10, 100

// Within implements sim.Bounds: steam and water must stay where their tables
// hold.
func (n *Network) Within(t float64, y []float64) error {
	for i := range n.Volumes {
		nd := &n.nodes[i]
		if nd.water == nil {
			continue
		}
		// Most states are far inside, which the last evaluation shows.
		if st := &nd.st; st.P > 2000 && st.P < 160e5 && st.T > 274 && st.T < 620 {
			continue
		}
		v, u := nd.vol/y[nd.m], y[nd.u]/y[nd.m]
		if nd.water.Valid(v, u) {
			continue
		}
		return fmt.Errorf("at %.9g s what is in %s has left the range of steam's tables: %.4g bar abs, %.4g K (0.02 to 165 bar abs, steam to 220 bar abs and 1073 K, water to 300 bar abs)",
			t, n.Volumes[i].Name, nd.st.P/1e5, nd.st.T)
	}
	return nil
}
