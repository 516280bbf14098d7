package view

import (
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/viz/scene"
)

// The curves of a probe; between two lines of the grid the first ones are
// followed, of which the thresholds are made; the walls are slow.
const (
	above = iota
	below
	outlet
	vessel
	lift
	pilot
	current
	liftBelow
	dropAbove
	tailWall
	dumpWall
	curves

	followed = liftBelow
)

// The curves of a probe of a spring-loaded valve, in the same places; its inlet is
// above.
const (
	huddle = below
	under  = pilot
	passes = current // kg/s
	wear   = dropAbove
	upward = liftBelow
	down   = dumpWall
)

// probe is what the charts show of a moment.
type probe struct {
	t     float64
	y     [curves]float64
	event bool // one side of an event
	keep  bool // while a cell is sifted
}

// probeOf is what the charts show of a state. A threshold is drawn while it can
// decide: that to lift unless the disc is held at its stop, that to go back
// unless it is held on its seat, and neither while friction holds it in between,
// where others count.
func probeOf(t float64, v *plant.ValveState) probe {
	th := explain.ThresholdsOf(v)
	stuck := v.Disc.Hold == plant.Sticking
	if v.Disc.Hold == plant.HeldOpen || stuck {
		th.LiftBelow = math.NaN()
	}
	if v.Disc.Hold == plant.HeldShut || stuck {
		th.DropAbove = math.NaN()
	}
	return probe{t: t, y: [curves]float64{above: v.Above, below: v.Below, outlet: v.Outlet, vessel: v.Vessel, lift: v.Disc.Lift,
		pilot: v.Pilot.Lift, current: v.Coil.Current, liftBelow: th.LiftBelow, dropAbove: th.DropAbove,
		tailWall: warmth(&v.OutletWall), dumpWall: warmth(&v.DumpWall)}}
}

// springProbe is what the charts show of a spring-loaded valve.
func springProbe(t float64, v *plant.SpringState) probe {
	p := probe{t: t, y: [curves]float64{above: v.Inlet, huddle: v.Huddle, under: v.Under, outlet: v.Outlet, vessel: v.Vessel, lift: v.Lift,
		passes: v.W, wear: v.Wear, down: v.Spring + v.Weight, tailWall: warmth(&v.OutletWall)}}
	p.y[upward] = v.SeatForce + v.Momentum + v.HuddleForce + v.UpperForce + v.Jet + v.Back + v.LeverForce
	return p
}

// warmth is the temperature of a wall, K; NaN where there is none.
func warmth(w *plant.WallState) float64 {
	if !w.Fitted {
		return math.NaN()
	}
	return w.T
}

// add appends a sample to a trace.
func (g *grid) add(tr *scene.Trace, p *probe) {
	tr.T = append(tr.T, p.t)
	if g.spring {
		addSpring(tr, p)
		return
	}
	tr.Above = append(tr.Above, p.y[above])
	tr.Below = append(tr.Below, p.y[below])
	tr.Outlet = append(tr.Outlet, p.y[outlet])
	tr.Vessel = append(tr.Vessel, p.y[vessel])
	tr.LiftBelow = append(tr.LiftBelow, p.y[liftBelow])
	tr.DropAbove = append(tr.DropAbove, p.y[dropAbove])
	tr.Lift = append(tr.Lift, p.y[lift])
	tr.Pilot = append(tr.Pilot, p.y[pilot])
	tr.Current = append(tr.Current, p.y[current])
	tr.TailWall = append(tr.TailWall, p.y[tailWall])
	tr.DumpWall = append(tr.DumpWall, p.y[dumpWall])
}

func addSpring(tr *scene.Trace, p *probe) {
	tr.Above = append(tr.Above, p.y[above])
	tr.Huddle = append(tr.Huddle, p.y[huddle])
	tr.Under = append(tr.Under, p.y[under])
	tr.Outlet = append(tr.Outlet, p.y[outlet])
	tr.Vessel = append(tr.Vessel, p.y[vessel])
	tr.Lift = append(tr.Lift, p.y[lift])
	tr.Flow = append(tr.Flow, p.y[passes])
	tr.Wear = append(tr.Wear, p.y[wear])
	tr.Up = append(tr.Up, p.y[upward])
	tr.Down = append(tr.Down, p.y[down])
	tr.TailWall = append(tr.TailWall, p.y[tailWall])
}
