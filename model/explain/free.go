package explain

import (
	"math"

	"underdisc/model/network"
	"underdisc/model/plant"
)

// Free is a change, by itself enough, after which the link that holds the valve
// lets go, everything else standing as it is.
type Free struct {
	Link     Link
	Quantity Quantity
	// Path is the parameter of the plant that Now and Needed are values of;
	// empty where it is no parameter.
	Path        string
	Now, Needed float64 // SI
	Below       bool    // Needed or less lets go; otherwise Needed or more
	// Where the quantity is a position and not a number.
	NowWord, NeededWord string
	By                  Reach
	In                  Opt // s until it gets there as things go now, of By Itself
	// Remedy tells a repair or an act that takes away the cause from what the
	// balance of forces or flows would need beside it, which nobody should do.
	Remedy bool
}

// freer finds what would free a valve. The files free_*.go go through the links.
type freer struct {
	m   *plant.Model
	v   *plant.ValveMap
	st  *plant.ValveState
	p   *paths
	f   *Facts
	pg  *Page
	out []Free
}

// add keeps a change that is safe to name, and sorts it (remedy.go).
func (k *freer) add(f Free) {
	if k.unsafe(&f) {
		return
	}
	f.Remedy = k.cures(&f) || f.Quantity == Wait
	k.out = append(k.out, f)
}

// below and above add a number that must fall, or rise, if it has to.
func (k *freer) below(l Link, q Quantity, path string, now float64, needed Opt, by Reach) {
	if needed.Known && needed.Value >= 0 && needed.Value < now {
		k.add(Free{Link: l, Quantity: q, Path: path, Now: now, Needed: needed.Value, Below: true, By: by})
	}
}

func (k *freer) above(l Link, q Quantity, path string, now float64, needed Opt, by Reach) {
	if needed.Known && needed.Value > now && !math.IsInf(needed.Value, 0) {
		k.add(Free{Link: l, Quantity: q, Path: path, Now: now, Needed: needed.Value, By: by})
	}
}

func (k *freer) position(l Link, q Quantity, path, now, needed string, by Reach) {
	k.add(Free{Link: l, Quantity: q, Path: path, NowWord: now, NeededWord: needed, By: by})
}

// wait adds the time in which a link changes over by itself.
func (k *freer) wait(l Link, in Opt) {
	if in.Known && in.Value > 0 {
		k.add(Free{Link: l, Quantity: Wait, Needed: in.Value, By: Itself, In: in})
	}
}

// of is the path of one of the valve's parameters.
func (k *freer) of(param string) string { return k.v.Name + "." + param }

// part is the path of a parameter of a switch, sensor or relay.
func (k *freer) part(i int, names func(int) string, param string) string {
	if i < 0 {
		return ""
	}
	return names(i) + "." + param
}

func (k *freer) switchPath(param string) string {
	return k.part(k.v.Switch, func(i int) string { return k.m.Net.Switches[i].Name }, param)
}

func (k *freer) sensorPath(param string) string {
	return k.part(k.v.Sensor, func(i int) string { return k.m.Net.Sensors[i].Name }, param)
}

func (k *freer) relayPath(param string) string {
	return k.part(k.v.Relay, func(i int) string { return k.m.Net.Relays[i].Name }, param)
}

// all goes by the reason of the link that holds.
func (k *freer) all() {
	f := k.f
	if k.pg.Question == Cycles {
		k.longer()
		return
	}
	switch f.Why.Link {
	case Switch:
		k.bySwitch()
	case Relay:
		k.byRelay()
	case Coil:
		k.byCoil()
	case Pilot:
		k.byPilot()
	case Chamber:
		k.byChamber()
	case Disc:
		k.byDisc()
	}
	k.lead()
	if k.pg.Question == Rests && f.Disc.Hold == plant.HeldShut && f.Why.Link != Switch && f.Why.Link != Relay {
		k.demand() // what would make it lift in any case
	}
}

// leads is what a reason is about, where the order of free_*.go does not put it
// first.
var leads = map[Reason]Quantity{CoilHot: WindingTemperature, StrokeShort: LostStroke, GuideOutruns: GuideFlow, DumpBacksUp: DumpArea,
	CoverLeaks: CoverLeakArea, NoInflow: BleedArea, FillsTooSlowly: BleedArea}

// lead brings it to the front.
func (k *freer) lead() {
	q, ok := leads[k.f.Why.Reason]
	if !ok {
		return
	}
	for i := range k.out {
		if k.out[i].Quantity == q {
			f := k.out[i]
			copy(k.out[1:i+1], k.out[:i])
			k.out[0] = f
			return
		}
	}
}

// longer is what would make a cycling valve stay open longer, or lift no more.
func (k *freer) longer() {
	n, c := &k.pg.Cycle, &k.f.Switch
	if k.f.Cycle.Chatter {
		k.chatter()
		return
	}
	if k.f.Why.Reason == InletDrops {
		// At a small drop the loss goes with 1/A^2: what brings it down to
		// dropShare of the deadband.
		a := k.st.LineArea * math.Sqrt(k.f.Cycle.InletDrop.Value/(dropShare*n.Deadband))
		by := IsolatedWork
		if b := &k.st.Block; b.Fitted && b.Opening < 1 {
			by = Operators
		}
		k.above(Switch, LineArea, "", k.st.LineArea, some(a), by)
		return
	}
	if k.f.Why.Reason == RunsNearSet {
		k.add(Free{Link: Switch, Quantity: VesselPressure, Now: k.st.Vessel, Needed: c.Set - c.Offset, Below: true, By: Operators})
		return
	}
	k.above(Switch, Deadband, "", n.Deadband, n.NeededDeadband, IsolatedWork)
	if n.NeededDeadband.Known {
		drift := k.drift()
		k.below(Switch, ResetPressure, k.switchPath("reset"), c.Reset-drift, some(c.Set-n.NeededDeadband.Value-drift), IsolatedWork)
	}
	k.below(Switch, VesselPressure, "", k.st.Vessel, some(c.Set-c.Offset), Operators)
}

// chatter is what would keep a disc that lifts unasked on its seat: a smaller
// leak, or an outlet that does not lift it against a full chamber,
//
//	pT <= pA + (F0 + Fc - m g)/As
//
// the balance at x = 0 and pB = pA solved for pT, with the lowest pA of the lifts
// that were seen. It may stand below that at the moment, between two lifts.
func (k *freer) chatter() {
	d, sp := &k.st.Disc, k.v.Spec
	if k.f.Cycle.FromOutlet() || k.st.Outlet > k.st.Above {
		body := k.st.Above
		if low := k.f.Cycle.LowestBody; low.Known {
			body = math.Min(body, low.Value)
		}
		k.add(Free{Link: Disc, Quantity: OutletPressure, Now: k.st.Outlet, Below: true, By: Operators,
			Needed: body + (d.Preload+d.Stick+d.BondShut-d.Weight)/d.SeatArea})
	}
	if low := k.f.Thresholds.LiftBelow; k.st.PilotLeak > 0 && low > 0 {
		k.below(Pilot, PilotLeakArea, k.of("pilot.leak-area"), sp.Pilot.LeakArea, over(k.p.leakFor(low, 1), sp.Pilot.Coefficient), IsolatedWork)
	}
}

// drift is by how much set and reset act off their setting, Pa.
func (k *freer) drift() float64 {
	if k.v.Switch < 0 {
		return 0
	}
	sw, ok := plant.Spec[plant.Switch](k.m.Plant, k.m.Net.Switches[k.v.Switch].Name)
	if !ok {
		return 0
	}
	return sw.Drift
}

// selector is the word of a position.
func selector(d network.Demand) string {
	switch d {
	case network.HoldOn:
		return "open"
	case network.HoldOff:
		return "off"
	}
	return "auto"
}

// hasSelector tells whether the relay has a hand switch.
func (k *freer) hasSelector() bool {
	if k.v.Relay < 0 {
		return false
	}
	r, ok := plant.Spec[plant.Relay](k.m.Plant, k.m.Net.Relays[k.v.Relay].Name)
	return ok && r.Selector != nil
}
