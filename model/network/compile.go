package network

import (
	"fmt"

	"underdisc/sim/method"
)

// slots hands out the places of Jacobian elements, each (row, column) once.
type slots struct {
	known map[method.Entry]int32
	list  []method.Entry
}

func (s *slots) at(row, col int) int32 {
	e := method.Entry{Row: row, Col: col}
	if k, ok := s.known[e]; ok {
		return k
	}
	k := int32(len(s.list))
	s.known[e] = k
	s.list = append(s.list, e)
	return k
}

func (n *Network) compileJacobian() error {
	s := &slots{known: map[method.Entry]int32{}}
	nv := len(n.lay.Vars)
	for i := range n.nodes {
		nd := &n.nodes[i]
		k := len(nd.cols)
		nd.dp, nd.dT, nd.dh = make([]float64, k), make([]float64, k), make([]float64, k)
		nd.dv, nd.du = make([]float64, k), make([]float64, k)
		nd.drawn[All] = &source{st: &nd.st, dv: nd.dv, du: nd.du, dh: nd.dh}
	}
	for i := range n.edges {
		e, f := &n.edges[i], &n.Flows[i]
		e.from, e.to, e.part, e.partAt = n.node(f.From), n.node(f.To), int(f.Opening.Part), -1
		e.law, e.opening = f.Law, &f.Opening
		e.act, e.actAt, e.head = f.Opening.Drive-1, -1, f.Fall
		e.out, e.in = e.from.source(f.FromDraw), e.to.source(f.ToDraw)
		e.area = f.Opening.Leak // stays, unless a part opens more
		place := map[int]int{}
		col := func(c int) int {
			if k, ok := place[c]; ok {
				return k
			}
			place[c] = len(e.cols)
			e.cols = append(e.cols, c)
			return len(e.cols) - 1
		}
		for _, c := range e.from.cols {
			e.fromAt = append(e.fromAt, col(c))
		}
		for _, c := range e.to.cols {
			e.toAt = append(e.toAt, col(c))
		}
		if e.part >= 0 {
			e.partAt = col(n.parts[e.part].x)
		}
		if e.act >= 0 {
			e.actAt = col(n.actVar[e.act])
		}
		e.plain, e.fromAir, e.toAir = len(e.cols), -1, -1
		if e.from.air >= 0 {
			e.fromAir = col(e.from.air)
		}
		if e.to.air >= 0 {
			e.toAir = col(e.to.air)
		}
		e.dw, e.dh, e.da = make([]float64, len(e.cols)), make([]float64, len(e.cols)), make([]float64, len(e.cols))
		row := func(r int, sign float64, kind int8) {
			e.rows = append(e.rows, edgeRow{sign, kind})
			cols := e.cols
			if kind != rowAir {
				cols = cols[:e.plain]
			}
			for _, c := range cols {
				e.jac = append(e.jac, s.at(r, c))
			}
		}
		if !e.from.fixed {
			row(e.from.m, -1, rowMass)
			row(e.from.u, -1, rowEnergy)
		}
		if !e.to.fixed {
			row(e.to.m, 1, rowMass)
			row(e.to.u, 1, rowEnergy)
		}
		row(nv+e.qm, 1, rowMass)
		row(nv+e.qh, 1, rowEnergy)
		if e.from.air >= 0 {
			row(e.from.air, -1, rowAir)
		}
		if e.to.air >= 0 {
			row(e.to.air, 1, rowAir)
		}
		if f.Past != nil {
			e.past = &past{edge: e, law: f.Past.Remembering(), seat: f.Seat, balanced: f.Balanced, df: make([]float64, len(e.cols))}
		}
		if f.Opening.Continuity {
			e.seat = newSeat(e, f.Void)
		}
	}
	for i := range n.parts {
		p := &n.parts[i]
		p.jXV, p.jVX, p.jVV = s.at(p.x, p.v), s.at(p.v, p.x), s.at(p.v, p.v)
		p.jDampV, p.jFrictionV = s.at(nv+p.qDamp, p.v), s.at(nv+p.qFriction, p.v)
		for _, pf := range p.faces {
			nd := &n.nodes[pf.node]
			fc := &nd.faces[pf.at]
			// Force row, then energy row and work quadrature: each over the
			// node's columns, then v.
			for _, c := range nd.cols {
				fc.jac = append(fc.jac, s.at(p.v, c))
			}
			for _, r := range []int{nd.u, nv + nd.work[pf.at]} {
				for _, c := range nd.cols {
					fc.jac = append(fc.jac, s.at(r, c))
				}
				fc.jac = append(fc.jac, s.at(r, p.v))
			}
		}
		if p.load != nil {
			p.jQLoadX, p.jQLoadV = s.at(nv+p.qLoad, p.x), s.at(nv+p.qLoad, p.v)
			for _, nd := range []*node{p.load, p.from} {
				for _, c := range nd.cols {
					p.jLoad = append(p.jLoad, s.at(p.v, c))
					p.jQLoad = append(p.jQLoad, s.at(nv+p.qLoad, c))
				}
			}
		}
		if k := n.Movers[i].FaceFlow; k > 0 {
			p.seat = n.edges[k-1].seat
			if p.seat == nil {
				return fmt.Errorf("network: the face of %s hangs on the flow %s, whose seat has no continuity", n.Movers[i].Name, n.Flows[k-1].Name)
			}
			p.compileFace(s, nv, p.seat.edge)
		}
		if k := n.Movers[i].PastFlow; k > 0 {
			p.past = n.edges[k-1].past
			p.compileFace(s, nv, p.past.edge)
		}
		if n.Movers[i].Seat != nil {
			n.compileFaces(i, s, nv)
		}
		if p.coil >= 0 {
			i := n.coilVar[p.coil]
			p.jVI = s.at(p.v, i)
			p.jPullV, p.jPullX, p.jPullI = s.at(nv+p.qPull, p.v), s.at(nv+p.qPull, p.x), s.at(nv+p.qPull, i)
		}
	}
	for i, c := range n.coilVar {
		j := []int32{s.at(c, c)}
		if p := &n.parts[n.Coils[i].Mover]; n.Coils[i].Moves {
			j = append(j, s.at(c, p.x), s.at(c, p.v))
		}
		n.coilJac = append(n.coilJac, j)
	}
	for i, v := range n.sensorVar {
		j := []int32{s.at(v, v)}
		for _, c := range n.node(n.Sensors[i].Node).cols {
			j = append(j, s.at(v, c))
		}
		n.sensorJac = append(n.sensorJac, j)
	}
	for i := range n.Walls {
		n.wallJac = append(n.wallJac, n.compileWall(i, s, nv))
	}
	for i := range n.channels {
		n.compileChannel(i, s, nv)
	}
	n.compileControl(s, nv)
	for i := range n.Wears {
		n.compileWear(i, s)
	}
	n.lay.Entries = s.list
	return nil
}

// Kinds of row that a flow enters.
const (
	rowMass int8 = iota
	rowEnergy
	rowAir
)
