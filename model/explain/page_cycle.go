package explain

// CycleNumbers say why a valve lifts again and again, and what it would take to
// end that. Absent where the run has not shown it yet.
type CycleNumbers struct {
	Lifts            int
	Deadband         float64 // set less reset, Pa
	Period           Opt     // s
	FallRate         Opt     // Pa/s, the vessel's while the disc is at its stop
	ClosingDelay     Opt     // s, from the end of the demand to the seat
	ShortestBlowdown Opt     // Pa, fall rate times closing delay and sensor lag
	AskedOpen        Opt     // s, from lift to the end of the demand
	Needed           Opt     // s, the demand that would count as a sound lift
	// NeededDeadband is the deadband that makes the demand that long, Pa:
	//
	//	D + r (t_needed - t_asked)
	//
	// D the present deadband, r the fall rate: what the vessel falls by in the
	// time that is lacking. Derived here; the rate is taken as it is.
	NeededDeadband Opt
}

// numbers gathers what concerns cycling.
func (p *Past) numbers(f *Facts) CycleNumbers {
	c := &f.Cycle
	n := CycleNumbers{Lifts: c.Lifts, Deadband: f.Switch.Set - f.Switch.Reset, Period: c.Period, FallRate: c.FallRate,
		ClosingDelay: c.ClosingDelay, ShortestBlowdown: c.ShortestBlowdown, AskedOpen: c.AskedOpen}
	for i := range p.Recent {
		l := &p.Recent[i]
		if !(l.Seated.Known && l.Ended.Known) {
			continue
		}
		if q := l.quickest(); q < farthest {
			n.Needed = some(shortDemand * q)
		}
		break
	}
	if n.Needed.Known && n.AskedOpen.Known && n.FallRate.Known && n.FallRate.Value > 0 {
		n.NeededDeadband = some(n.Deadband + n.FallRate.Value*(n.Needed.Value-n.AskedOpen.Value))
	}
	return n
}
