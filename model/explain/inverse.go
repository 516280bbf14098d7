package explain

import "math"

// What follows turns the balance of the chamber's flows round: which opening
// would hold it at a pressure p. In all of them
//
//	bore(p) + guide(p) = pilot(p) + cover(p)
//
// and each flow is an effective area times a mass flux that does not depend on
// it, so the one that is looked for follows from the others without trial. A
// dump line behind the pilot passes the pilot's flow W; its pressure pD is where
// its own orifice passes W. Body and outlet stand still.

// boreFlux is the mass flux of the bleed's bore into a chamber at p, kg/(s m2).
func (p *paths) boreFlux(pB float64) float64 {
	p.at(&p.chamber, pB)
	return rate(p.bore, 1, &p.body, &p.chamber)
}

func (p *paths) inGuide(pB float64) float64 {
	if p.guide == nil {
		return 0
	}
	p.at(&p.chamber, pB)
	return rate(p.guide, p.aGuide, &p.body, &p.chamber)
}

// through is the pilot's flux from a chamber at pB while W (kg/s) goes through
// it, kg/(s m2), with the dump line at the pressure that W makes there; absent
// if the line cannot pass W even with the whole pB ahead of it.
func (p *paths) through(pB, w float64) Opt {
	p.at(&p.chamber, pB)
	if p.end == nil {
		return some(rate(p.seat, 1, &p.chamber, &p.back))
	}
	passes := func(pD float64) float64 {
		p.at(&p.dump, pD)
		return rate(p.end, p.aEnd, &p.dump, &p.back)
	}
	if passes(pB) <= w {
		return Opt{}
	}
	pD := root(p.outlet, pB, rootTolerance*math.Max(pB, p.outlet), func(pD float64) float64 { return passes(pD) - w })
	p.at(&p.dump, pD)
	return some(rate(p.seat, 1, &p.chamber, &p.dump))
}

// leakFor is the effective pilot area that holds the chamber at pB, m2, with
// the cover's leak counted as cover times what it is (0 or 1):
//
//	A = (bore + guide - cover)/G_pilot
//
// Absent where no area does: the dump line does not pass it, or the flow runs
// the other way.
func (p *paths) leakFor(pB, cover float64) Opt {
	if pB <= p.outlet || pB > p.above {
		return Opt{}
	}
	w := p.in(pB) - cover*p.outCover(pB)
	if w < 0 {
		return Opt{}
	}
	g := p.through(pB, w)
	if !g.Known || g.Value <= 0 {
		return Opt{}
	}
	return some(w / g.Value)
}

// bleedFor is the effective bore that holds the chamber at pB against a pilot of
// that effective area, m2: A = (pilot + cover - guide)/G_bore, zero if the guide
// alone passes more.
func (p *paths) bleedFor(pB, pilot float64) Opt {
	g := p.boreFlux(pB)
	if g <= 0 {
		return Opt{}
	}
	return some(math.Max(0, (p.out(pB, pilot)-p.inGuide(pB))/g))
}

// coverFor is the effective leak of the cover that holds the chamber at pB, m2:
// A = (bore + guide - pilot)/G_cover.
func (p *paths) coverFor(pB, pilot float64) Opt {
	if p.aCover == 0 {
		return Opt{}
	}
	g := p.outCover(pB) / p.aCover
	a := (p.in(pB) - p.outPilot(pB, pilot)) / g
	if !(g > 0 && a >= 0) {
		return Opt{}
	}
	return some(a)
}

// dumpFor is the effective area of the dump line that holds the chamber at pB
// with that pilot, m2: A = W/G_end(pD), W = bore + guide - cover, pD where the
// pilot passes W. Absent where the pilot passes less even into the outlet.
func (p *paths) dumpFor(pB, pilot float64) Opt {
	if p.end == nil || pB <= p.outlet {
		return Opt{}
	}
	w := p.in(pB) - p.outCover(pB)
	passes := func(pD float64) float64 {
		p.at(&p.chamber, pB)
		p.at(&p.dump, pD)
		return rate(p.seat, pilot, &p.chamber, &p.dump)
	}
	if w <= 0 || passes(p.outlet) <= w {
		return Opt{}
	}
	pD := root(p.outlet, pB, rootTolerance*pB, func(pD float64) float64 { return passes(pD) - w })
	p.at(&p.dump, pD)
	g := rate(p.end, 1, &p.dump, &p.back)
	if g <= 0 {
		return Opt{}
	}
	return some(w / g)
}
