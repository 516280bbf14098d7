package explain

import (
	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
)

// mostTurned is how many times as far open as it is a ring is looked for.
const mostTurned = 8.0

// rings adds where the rings would have to stand for the disc to begin to shut at
// the present lift and pressures: the height h, or the gap g, at which
//
//	F(p, pT, x; h) = F0 + k x + m g
//
// Only those who may set a safety valve may move one, and it moves the pop as well.
func (k *springFreer) rings() {
	sp, lacks := k.st.Spec, k.f.Forces.Net
	if !(lacks > 0) || k.f.State == SpringChattering {
		return
	}
	up, ok := k.upstream()
	if !ok {
		return
	}
	air := surroundings(k.m, sp)
	// over is the net force with the valve as v describes it.
	now := k.force(sp, &up, air)
	over := func(v *plant.SpringValve) float64 { return lacks + k.force(v, &up, air) - now }
	if r := sp.UpperRing; r != nil {
		turned := func(h float64) float64 {
			v, u := *sp, *r
			u.Height = h
			v.UpperRing = &u
			return over(&v)
		}
		k.ring(UpperRingHeight, k.path("upper-ring.exit-height"), r.Height, turned)
	}
	if r := sp.LowerRing; r != nil {
		turned := func(g float64) float64 {
			v, l := *sp, *r
			l.Gap = g
			v.LowerRing = &l
			return over(&v)
		}
		k.ring(LowerRingGap, k.path("lower-ring.gap"), r.Gap, turned)
	}
}

// ring adds one of them, if opening it wider turns the balance.
func (k *springFreer) ring(q SpringQuantity, path string, now float64, over func(float64) float64) {
	far := mostTurned*now + 1e-3
	if !(over(far) < 0) {
		return
	}
	k.add(SpringFree{Quantity: q, Path: path, Now: now, Needed: root(now, far, 1e-7, over), Does: ReseatsIt, By: IsolatedWork, Remedy: true})
}

func (k *springFreer) force(v *plant.SpringValve, up *fluid.State, air float64) float64 {
	var p flow.Past
	k.m.PastDisc(v, air).At(up, k.st.Outlet, k.st.Lift, &p)
	return p.Force
}

// upstream is what the nozzle takes: of a drum that holds both, what it draws.
func (k *springFreer) upstream() (up fluid.State, ok bool) {
	up = k.m.NodeState(k.s, k.v.Inlet)
	if k.m.Water != nil && k.v.Inlet == k.v.Vessel && up.X > 0 && up.X < 1 {
		x := 1.0
		switch k.st.Spec.Draws {
		case "all":
			x = up.X
		case "water":
			x = 0
		}
		v, u, err := k.m.Water.PX(up.P, x)
		if err != nil {
			return up, false
		}
		k.m.At(v, u, &up)
	}
	return up, up.P > k.st.Outlet
}
