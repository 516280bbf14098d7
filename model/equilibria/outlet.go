package equilibria

import (
	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
)

// outlet is the row of pipes that a valve discharges through. In each, what
// enters leaves: by its end, and by its drain to the surroundings.
type outlet struct {
	m     *plant.Model
	law   flow.Law
	pipes []outPipe
	end   float64 // pressure of the surroundings, Pa
}

type outPipe struct {
	exit, drain float64 // effective areas, m2
	beside      []source
}

// source is another valve that discharges into a pipe, from a state of its own.
type source struct {
	st   fluid.State
	area float64
}

func newOutlet(m *plant.Model, first string) *outlet {
	o := &outlet{m: m, law: law(m)}
	_, air, _ := m.Plant.Around(first)
	o.end = air.Pressure
	for name := first; ; {
		t, ok := plant.Spec[plant.Tailpipe](m.Plant, name)
		if !ok {
			return o
		}
		q := outPipe{exit: t.Area * t.Coefficient}
		if t.Drain != nil {
			q.drain = t.Drain.Area * t.Drain.Coefficient
		}
		for _, n := range m.Plant.OfKind("neighbour") {
			if s := n.Spec.(*plant.Neighbour); s.Into == name && s.Opening > 0 {
				e := source{area: s.Area * s.Coefficient * s.Opening}
				v := vessel{m: m}
				v.at(s.Pressure, &e.st)
				q.beside = append(q.beside, e)
			}
		}
		o.pipes = append(o.pipes, q)
		name = t.To
	}
}

// residual fills r with what more enters each pipe than leaves it, kg/s, with
// pressures p and the flow w of that state from the valve.
func (o *outlet) residual(w float64, from *fluid.State, p, r []float64) {
	h := from.H
	for i := range o.pipes {
		q := &o.pipes[i]
		energy := w * h
		for k := range q.beside {
			s := &q.beside[k]
			if s.st.P > p[i] {
				in := s.area * o.law.Flux(&s.st, p[i])
				w += in
				energy += in * s.st.H
			}
		}
		if w > 0 {
			h = energy / w
		}
		like := *from
		like.H = h
		var st fluid.State
		o.m.Throttle(&like, p[i], &st)
		next := o.end
		if i+1 < len(p) {
			next = p[i+1]
		}
		on := rate(o.law, o.m, &st, next, q.exit)
		r[i] = w - on - rate(o.law, o.m, &st, o.end, q.drain)
		w = on
	}
}
