package explain

import "underdisc/model/plant"

// What the tests look at from inside.

var (
	Root       = root
	LagReaches = lagReaches
)

const (
	SlowRefill  = slowRefill
	ShortDemand = shortDemand
	CycleLifts  = cycleLifts
)

type Paths struct{ p paths }

func PathsOf(m *plant.Model, s *plant.Snapshot, valve int) *Paths {
	return &Paths{pathsOf(m, s, valve)}
}
func (p *Paths) In(pB float64) float64               { return p.p.in(pB) }
func (p *Paths) Out(pB, pilot float64) float64       { return p.p.out(pB, pilot) }
func (p *Paths) Steady(pilot float64) Opt            { return p.p.steady(pilot) }
func (p *Paths) Time(a, b, pilot float64, s Opt) Opt { return p.p.time(a, b, pilot, s) }
func (p *Paths) Full() float64                       { return p.p.full }
func (p *Paths) Rate(pB, pilot float64) (pascalPerS float64) { // dpB/dt
	net := p.p.in(pB) - p.p.out(pB, pilot)
	return stiffness(&p.p.chamber) / p.p.volume * net
}

var Arrives = arrives
