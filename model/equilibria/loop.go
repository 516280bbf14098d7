package equilibria

import "math"

// fill makes a map of the path.
func (f *follower) fill(m *Map) {
	m.Folds, m.Short = f.folds(), f.short
	m.Branches = f.branches(m)
	m.Simmer = math.NaN()
	if f.soft {
		for i := range f.path {
			if f.path[i].parts && f.path[i].stable {
				m.Simmer = f.path[i].Vessel
				break
			}
		}
	}
	m.Loop, m.Pop, m.Reseat = f.loop(m.Folds)
}

// folds are where the pressure turns back along the path.
func (f *follower) folds() (out []Fold) {
	for i := 1; i+1 < len(f.path); i++ {
		q := &f.path[i]
		before, after := q.Vessel-f.path[i-1].Vessel, f.path[i+1].Vessel-q.Vessel
		corner := false
		if before == 0 || after == 0 { // a corner is there twice
			if f.path[i-1].hard == q.hard || i < 2 {
				continue
			}
			before, corner = q.Vessel-f.path[i-2].Vessel, true
		}
		if before*after >= 0 {
			continue
		}
		kind := Pops
		if before < 0 {
			kind = Reseats
		}
		out = append(out, Fold{Kind: kind, Point: q.Point, Corner: corner})
	}
	return out
}

// branches cuts the path into runs of one kind. A fold belongs to both sides.
func (f *follower) branches(m *Map) (out []Branch) {
	popped := math.Inf(1)
	for _, k := range m.Folds {
		if k.Kind == Pops {
			popped = k.Lift
			break
		}
	}
	kind := func(q *place) Kind {
		switch {
		case q.hard == atStop:
			return Stopped
		case q.hard == atSeat:
			return Seated
		case !q.stable && !q.fold:
			return Unstable
		case q.Lift < math.Max(m.Off, 0) && q.Lift <= popped:
			return Seated
		case f.soft && q.Lift <= popped && !math.IsInf(popped, 1):
			return Simmer
		}
		return Lifted
	}
	for i := range f.path {
		q := &f.path[i]
		k := kind(q)
		if (q.fold || q.parts) && len(out) > 0 {
			// It ends the run before it and begins the next.
			last := &out[len(out)-1]
			last.Points = append(last.Points, q.Point)
			if i+1 < len(f.path) {
				next := kind(&f.path[i+1])
				out = append(out, Branch{Kind: next, Stable: next != Unstable, Points: []Point{q.Point}})
			}
			continue
		}
		if len(out) == 0 || out[len(out)-1].Kind != k {
			b := Branch{Kind: k, Stable: k != Unstable}
			if len(out) > 0 {
				before := out[len(out)-1].Points
				b.Points = append(b.Points, before[len(before)-1])
			}
			out = append(out, b)
		}
		last := &out[len(out)-1]
		last.Points = append(last.Points, q.Point)
	}
	return out
}

// loop is a slow rise of the pressure to the first pop, and a slow fall from
// where the disc then stands to where it is back below that fold.
func (f *follower) loop(folds []Fold) (jumps []Jump, pop, reseat *Fold) {
	at := -1
	for i := range folds {
		if folds[i].Kind == Pops {
			pop, at = &folds[i], f.index(&folds[i])
			break
		}
	}
	if pop == nil {
		return nil, nil, nil
	}
	land, up, ok := f.above(at, pop.Vessel)
	if !ok {
		return nil, pop, nil // beyond the highest pressure
	}
	jumps = append(jumps, Jump{Vessel: pop.Vessel, From: pop.Lift, To: up.Lift, Flow: up.Flow})
	for range len(folds) {
		// Down the branch to its least pressure, which is a fold.
		for land > 0 && f.path[land-1].Vessel <= f.path[land].Vessel {
			land--
		}
		var low *Fold
		for i := range folds {
			if folds[i].Kind == Reseats && folds[i].Vessel == f.path[land].Vessel {
				low = &folds[i]
			}
		}
		if low == nil {
			return jumps, pop, nil
		}
		next, down, ok := f.below(land, low.Vessel)
		if !ok {
			return jumps, pop, nil // open at every pressure below
		}
		jumps = append(jumps, Jump{Vessel: low.Vessel, From: low.Lift, To: down.Lift, Flow: down.Flow})
		if next < at {
			return jumps, pop, low
		}
		land = next
	}
	return jumps, pop, nil
}

func (f *follower) index(k *Fold) int {
	for i := range f.path {
		if f.path[i].Point.Vessel == k.Vessel && f.path[i].Lift == k.Lift {
			return i
		}
	}
	return -1
}

// above is the next equilibrium along the path, from i, at which the pressure
// rises through p: the index of the point before it, and it.
func (f *follower) above(i int, p float64) (int, Point, bool) {
	for i++; i+1 < len(f.path); i++ {
		if a, b := &f.path[i], &f.path[i+1]; a.Vessel < p && b.Vessel >= p {
			return i, between(&a.Point, &b.Point, p), true
		}
	}
	return 0, Point{}, false
}

// below is the same backwards.
func (f *follower) below(i int, p float64) (int, Point, bool) {
	for i--; i > 0; i-- {
		if a, b := &f.path[i-1], &f.path[i]; a.Vessel < p && b.Vessel >= p {
			return i - 1, between(&a.Point, &b.Point, p), true
		}
	}
	return 0, Point{}, false
}

// between is the equilibrium at the pressure p on the chord of two.
func between(a, b *Point, p float64) Point {
	s := (p - a.Vessel) / (b.Vessel - a.Vessel)
	mid := func(x, y float64) float64 { return x + s*(y-x) }
	return Point{Lift: mid(a.Lift, b.Lift), Vessel: p, Inlet: mid(a.Inlet, b.Inlet), Chamber: mid(a.Chamber, b.Chamber),
		Outlet: mid(a.Outlet, b.Outlet), Flow: mid(a.Flow, b.Flow), Slope: mid(a.Slope, b.Slope), Held: mid(a.Held, b.Held), Wave: math.NaN()}
}

// rubbed are the limits with a force added while the disc rises, and one while it
// falls.
func (f *follower) rubbed(rising, falling float64) *Limits {
	out := &Limits{}
	g := *f
	for _, c := range []struct {
		force  float64
		into   **Fold
		reseat bool
	}{{rising, &out.Pop, false}, {falling, &out.Reseat, true}} {
		g.s.push(c.force)
		if g.follow() == nil {
			folds := g.folds()
			_, pop, reseat := g.loop(folds)
			if c.reseat {
				pop = reseat
			}
			*c.into = pop
		}
	}
	g.s.push(0)
	return out
}
