package explain

import "math"

// The rule for cycling. The last four lifts must lie apart by three periods
// that differ by no more than regularSpread of their mean, the last of them no
// longer ago than goneAfter periods, and each of the three complete lifts must
// be short in one of two ways:
//
//   - The demand went on for no longer than shortDemand times the quickest of
//     the valve's own three stages: from demand to lift, from the end of demand
//     to the pilot's shutting, from there to the seat. In a sound valve the
//     three are alike, so such a lift is asked for no longer than twice what the
//     valve takes to answer, and delays rule its blowdown more than the deadband
//     does. The quickest is taken so that one stage that has become slow, which
//     makes a blowdown long, does not pass for cycling.
//   - It seated again before the demand ended, or with no demand at all and
//     without having been held at its stop: it chatters. (A pilot that leaks too
//     much also lifts its valve unasked, now and then, but leaves it at its stop
//     until the system has fallen a long way.)
//
// A valve with a sound deadband may lift as often as its plant makes it, and is
// not cycling: the reference bench lifts every 5.3 s and stays asked open for
// nineteen times its quickest stage. Common practice, no source.
const (
	cycleLifts    = 4
	regularSpread = 0.25
	goneAfter     = 1.5
	shortDemand   = 6
)

// cycleFacts are what the past says of repeated lifts at time t; lag is the
// sensor's time constant, s.
func (p *Past) cycleFacts(t, lag float64) CycleFacts {
	f := CycleFacts{Lifts: p.Lifts, BodyAt: p.Recent[0].BodyAt, OutletAt: p.Recent[0].OutletAt}
	for i := range p.Recent[:min(p.Lifts, keepLifts)] {
		if b := p.Recent[i].BodyAt; b.Known && !p.Recent[i].Asked && (!f.LowestBody.Known || b.Value < f.LowestBody.Value) {
			f.LowestBody = b
		}
	}
	p.closing(&f, lag)
	if p.Lifts < cycleLifts {
		return f
	}
	first, last := p.Recent[cycleLifts-1].At.Value, p.Recent[0].At.Value
	mean := (last - first) / (cycleLifts - 1)
	f.Period = some(mean)
	if t-last > goneAfter*mean {
		return f
	}
	least, most := p.period(0), p.period(0)
	short, chatter := true, true
	for i := 1; i < cycleLifts; i++ {
		l := &p.Recent[i]
		least, most = min(least, p.period(i-1)), max(most, p.period(i-1))
		short = short && l.Asked && l.Ended.Known && l.Seated.Known && l.Ended.Value-l.At.Value <= shortDemand*l.quickest()
		chatter = chatter && l.Seated.Known && !l.Ended.Known && (l.Asked || !l.FullOpen.Known)
	}
	f.Cycling = (short || chatter) && most-least <= regularSpread*mean
	f.Chatter = f.Cycling && chatter
	return f
}

// quickest is the shortest of the stages of a lift that ran its course, s.
func (l *Lift) quickest() float64 {
	q := math.Inf(1)
	stage := func(from, to Opt) {
		if from.Known && to.Known && to.Value > from.Value {
			q = min(q, to.Value-from.Value)
		}
	}
	stage(l.Began, l.At)
	stage(l.Ended, l.PilotShut)
	stage(l.PilotShut, l.Seated)
	return q
}

// period is the time from the lift before the i-th newest to that one, s.
func (p *Past) period(i int) float64 { return p.Recent[i].At.Value - p.Recent[i+1].At.Value }

// closing fills in what the last lift that ran its course has shown.
func (p *Past) closing(f *CycleFacts, lag float64) {
	for i := range p.Recent {
		l := &p.Recent[i]
		if !(l.Seated.Known && l.Ended.Known) {
			continue
		}
		f.AskedOpen = some(l.Ended.Value - l.At.Value)
		f.ClosingDelay = some(l.Seated.Value - l.Ended.Value)
		from, to, p0, p1 := l.FullOpen, l.LeavesStop, l.VesselFullOpen, l.VesselLeavesStop
		if !from.Known || !to.Known {
			from, to, p0, p1 = l.At, l.Seated, l.VesselAt, l.VesselSeated
		}
		if p0.Known && p1.Known && to.Value > from.Value {
			f.FallRate = some((p0.Value - p1.Value) / (to.Value - from.Value))
			f.ShortestBlowdown = some(f.FallRate.Value * (f.ClosingDelay.Value + lag))
		}
		return
	}
}
