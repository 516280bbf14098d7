package network

import "math"

// Wear is a relative index of how much a seat has been worn, by what passes the
// gap x between its faces and by impacts on it:
//
//	dw/dt = Rate S(x) z^(Exponent/2) + c v^2/Impact
//	S(x) = x/(x + Start) (1 + x/Gap)^(-1/2), x > 0
//	z = min(1, (1 - p_down/p_up)/Choke)
//
// z is the square of the speed in the gap over its highest, so speed does not
// tell a simmer from a full lift: time and gap do. c v^2 is what an impact loses.
// All constants are assumed. The index compares one way of using a valve with
// another; it is no loss of metal.
type Wear struct {
	Name       string
	Mover      Part
	Flow       int
	Rate       float64 // 1/s
	Gap, Start float64 // m
	Exponent   float64
	Choke      float64 // share of the pressure lost at which the gap is choked
	Impact     float64 // J
}

// worn is the compiled form.
type worn struct {
	w   int     // variable
	jac []int32 // by the flow's pressures, then position, speed, debris
}

// cut is the rate by flow, with slopes by p_up, p_down and x.
func (w *Wear) cut(up, down, x float64) (rate, byUp, byDown, byX float64) {
	if !(x > 0) || up <= down {
		return 0, 0, 0, 0
	}
	root := math.Sqrt(1 + x/w.Gap)
	s := x / (x + w.Start) / root
	ds := w.Start/((x+w.Start)*(x+w.Start))/root - s/(2*(w.Gap+x))
	z := (1 - down/up) / w.Choke
	if z >= 1 {
		return w.Rate * s, 0, 0, w.Rate * ds
	}
	k := w.Exponent / 2
	zk := math.Pow(z, k)
	dz := k * zk / z / w.Choke
	return w.Rate * s * zk, w.Rate * s * dz * down / (up * up), -w.Rate * s * dz / up, w.Rate * ds * zk
}

func (n *Network) compileWear(i int, s *slots) {
	w, k := &n.worn[i], &n.Wears[i]
	e, p := &n.edges[k.Flow], &n.parts[k.Mover]
	for _, nd := range []*node{e.from, e.to} {
		for _, c := range nd.cols {
			w.jac = append(w.jac, s.at(w.w, c))
		}
	}
	w.jac = append(w.jac, s.at(w.w, p.x), s.at(w.w, p.v))
	if n.Movers[k.Mover].Seat != nil {
		w.jac = append(w.jac, s.at(w.w, p.faced.debris), s.at(w.w, p.faced.nut))
	}
}

// hits is what impacts on soft faces lose, W, with its slopes by position and
// speed.
func (n *Network) hits(i int, y []float64) (rate, byX, byV float64) {
	p, m := &n.parts[i], &n.Movers[i]
	if m.Seat == nil {
		return 0, 0, 0
	}
	c, dc := m.Seat.drag(n.gap(i, p.pos, y), m.Mass)
	return c * p.vel * p.vel, dc * p.vel * p.vel, 2 * c * p.vel
}

func (n *Network) wearRates(y []float64, modes []int8, dy []float64) {
	for i := range n.Wears {
		w := &n.Wears[i]
		e := &n.edges[w.Flow]
		rate, _, _, _ := w.cut(e.from.st.P, e.to.st.P, n.parts[w.Mover].pos)
		if travelling(modes[n.parts[w.Mover].mode]) {
			hit, _, _ := n.hits(int(w.Mover), y)
			rate += hit / w.Impact
		}
		dy[n.worn[i].w] = rate
	}
}

func (n *Network) wearJacobian(y []float64, modes []int8, j []float64) {
	for i := range n.Wears {
		w, k := &n.Wears[i], n.worn[i].jac
		e := &n.edges[w.Flow]
		_, byUp, byDown, byX := w.cut(e.from.st.P, e.to.st.P, n.parts[w.Mover].pos)
		q := 0
		for _, d := range e.from.dp {
			j[k[q]] += byUp * d
			q++
		}
		for _, d := range e.to.dp {
			j[k[q]] += byDown * d
			q++
		}
		if !travelling(modes[n.parts[w.Mover].mode]) {
			continue // its position stands still
		}
		_, hitX, hitV := n.hits(int(w.Mover), y)
		j[k[q]] += byX + hitX/w.Impact
		j[k[q+1]] += hitV / w.Impact
		if n.Movers[w.Mover].Seat != nil {
			if _, debris := n.off(int(w.Mover), y); debris {
				j[k[q+2]] -= hitX / w.Impact
			} else {
				j[k[q+3]] -= hitX / w.Impact
			}
		}
	}
}

// struck enters an impact of mover i on its lower stop, J.
func (n *Network) struck(i int, lost float64, y []float64) {
	for k := range n.Wears {
		if w := &n.Wears[k]; int(w.Mover) == i {
			y[n.worn[k].w] += lost / w.Impact
		}
	}
}
