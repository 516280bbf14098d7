package explain

// CycleNumbers say why a valve lifts again and again, and what it would take to
// end that. Absent where the run has not shown it yet.
type CycleNumbers struct {
	Lifts            int
	Seen             int     // those that are kept, the last ones
	Span             Opt     // s, from the first of these to the last
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
	if k := min(p.Lifts, keepLifts); k > 1 {
		n.Seen, n.Span = k, some(p.Recent[0].At.Value-p.Recent[k-1].At.Value)
	}
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

// pageLifts is how many lifts make a page ask why there are so many. The state
// asks for more, and for regular ones (cycle.go).
const pageLifts = 3

// soundBand is the least deadband, as a share of the set pressure, of a valve
// that blows long enough to bring a boiler's pressure down: 2 % is the least
// blowdown that rules for boilers have asked of safety valves (ASME I PG-72,
// from memory).
const soundBand = 0.02

// again says of a valve that does as it is asked now, but has lifted at least
// pageLifts times, each on demand, why it lifts so often.
func (p *Past) again(f *Facts) (Reason, bool) {
	c := &f.Switch
	switch f.Acts.Reason {
	case BelowSet, AboveReset, SensorLags, PickUpDelay, DropOutDelay, CurrentRising, CurrentDecaying, PilotMoving, ChamberEmptying, ChamberFilling, DiscMoving:
	default:
		return NoReason, false
	}
	if p.Lifts < pageLifts || !c.Fitted {
		return NoReason, false
	}
	for i := range p.Recent[:pageLifts] {
		l := &p.Recent[i]
		if !l.Asked || i > 0 && !(l.Ended.Known && l.Seated.Known) {
			return NoReason, false
		}
	}
	band := c.Set - c.Reset
	switch d := f.Cycle.InletDrop; {
	case d.Known && d.Value > dropShare*band:
		return InletDrops, true
	case band < soundBand*c.Set:
		return DeadbandShort, true
	}
	return RunsNearSet, true
}
