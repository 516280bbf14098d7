package plant

import "underdisc/model/network"

// Water at rest between 20 and 60 degC: conductivity, W/(m K), and heat capacity
// by volume, J/(m3 K) (IAPWS R15-11 and R7-97: 0.60 to 0.65, 4.17e6 to 4.11e6).
const waterConductivity, waterCapacity = 0.6, 4.15e6

// wall is the low point as a wall beside its pipe: metal and water of one
// temperature, behind the film and, in series with it, half the depth of the
// water,
//
//	1/c = 1/inside + (water/surface)/2/(0.6 W/(m K) surface).
//
// That holds for a pool which is heated from above and so does not stir.
func (l *LowPoint) wall(name string, pipe network.Node, around float64) network.Wall {
	c := l.Inside
	if l.Water > 0 {
		c = 1 / (1/c + l.Water/(2*waterConductivity*l.Surface*l.Surface))
	}
	return network.Wall{Name: name, Node: pipe, HeatCapacity: l.HeatCapacity + waterCapacity*l.Water,
		Inside: c, Outside: l.Outside, Ambient: around, Start: around}
}
