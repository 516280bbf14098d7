package live

import (
	"math"

	"underdisc/model/network"
	"underdisc/model/plant"
)

// watched is a finished exercise, seen every tenth of a second.
type watched struct {
	run *Run
	at  []*plant.Snapshot
}

const watchEvery = 0.1 // s

// watch reads off the exercise what SignColumns lists.
func watch(r *Run) (map[string]float64, error) {
	w := &watched{run: r}
	for k := 0; float64(k)*watchEvery < r.Scenario.Until; k++ {
		s, _, err := r.At(float64(k) * watchEvery)
		if err != nil {
			return nil, err
		}
		w.at = append(w.at, s)
	}
	out := map[string]float64{}
	w.atRest(out)
	w.stroked(out)
	w.rejected(out)
	w.late(out)
	w.isolated(out)
	return out, nil
}

// valve is the valve at a time.
func (w *watched) valve(t float64) *plant.ValveState {
	return &w.snapshot(t).Valves[0]
}

func (w *watched) snapshot(t float64) *plant.Snapshot {
	return w.at[min(int(math.Round(t/watchEvery)), len(w.at)-1)]
}

// most and least are the extremes of a quantity of the valve between two times.
func (w *watched) most(from, to float64, of func(*plant.ValveState) float64) float64 {
	out := math.Inf(-1)
	for _, s := range w.at {
		if s.T >= from && s.T <= to {
			out = math.Max(out, of(&s.Valves[0]))
		}
	}
	return out
}

func (w *watched) least(from, to float64, of func(*plant.ValveState) float64) float64 {
	return -w.most(from, to, func(v *plant.ValveState) float64 { return -of(v) })
}

// first is when an event first happens in from..to; not a number if never.
func (w *watched) first(name string, from, to float64) float64 {
	for _, e := range w.run.Sim.Events() {
		if e.Name == name && e.T >= from && e.T <= to {
			return e.T
		}
	}
	return none
}

func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func lift(v *plant.ValveState) float64     { return v.Disc.Lift }
func share(v *plant.ValveState) float64    { return v.Below / v.Above }
func vesselOf(v *plant.ValveState) float64 { return v.Vessel }
func lowPoint(v *plant.ValveState) float64 { return v.LowPoint.T }
func tail(v *plant.ValveState) float64     { return v.OutletWall.T }
func dump(v *plant.ValveState) float64     { return v.DumpWall.T }
func current(v *plant.ValveState) float64  { return v.Coil.Current }

func (w *watched) atRest(out map[string]float64) {
	v := w.valve(strokeAt - 1)
	out["rest-vessel"], out["rest-body"], out["rest-chamber"], out["rest-share"] = v.Vessel, v.Above, v.Below, share(v)
	out["rest-lift"], out["rest-outlet"], out["rest-dump"], out["rest-tail"] = v.Disc.Lift, v.Outlet, dump(v), tail(v)
	out["rest-header"] = w.headerAt(strokeAt - 1)
	out["rest-current"], out["rest-relay"] = v.Coil.Current, yes(v.Control.RelayOn)
	out["rest-gauge"] = v.Control.Reading - v.Vessel
}

func (w *watched) stroked(out map[string]float64) {
	to := strokeAt + strokeFor
	out["stroke-lift"] = w.most(strokeAt, to, lift)
	out["stroke-delay"] = w.first("disc-lift", strokeAt, to) - strokeAt
	out["stroke-pilot"] = w.first("pilot-lift", strokeAt, to) - strokeAt
	out["stroke-share"] = w.least(strokeAt, to, share)
	out["stroke-seat"] = none
	if !math.IsNaN(out["stroke-delay"]) {
		out["stroke-seat"] = w.first("disc-seated", to, rejectAt) - to
	}
	out["stroke-current"] = w.valve(to - watchEvery).Coil.Current
	out["stroke-dip"] = w.valve(strokeAt).Vessel - w.least(strokeAt, to+2, vesselOf)
	out["stroke-body"] = w.least(strokeAt, to, func(v *plant.ValveState) float64 { return v.Above })
	out["stroke-tail"] = w.most(strokeAt, rejectAt-1, tail)
	out["stroke-low"] = w.most(strokeAt, rejectAt-1, lowPoint)
	out["stroke-water"] = w.most(strokeAt, rejectAt-1, func(v *plant.ValveState) float64 { return v.OutletFluid.Water })
	out["stroke-dump"] = w.most(strokeAt, rejectAt-1, dump)
}

func (w *watched) rejected(out map[string]float64) {
	made := w.first("switch-made", rejectAt, lateAt)
	opens := w.first("disc-lift", rejectAt, lateAt)
	reset := w.first("switch-reset", opens, lateAt)
	lifts, last, cycles := 0, none, 0.0
	for _, e := range w.run.Sim.Events() {
		if e.Name != "disc-lift" || e.T < rejectAt || e.T > lateAt {
			continue
		}
		if lifts++; lifts > 1 {
			cycles += e.T - last
		}
		last = e.T
	}
	out["lifts"], out["cycle"] = float64(lifts), none
	if lifts > 1 {
		out["cycle"] = cycles / float64(lifts-1)
	}
	out["opens"] = none
	if lifts > 0 {
		out["opens"] = w.valve(opens).Vessel
	}
	out["highest"] = w.most(rejectAt, lateAt, vesselOf)
	out["lowest"] = w.least(rejectAt, lateAt, vesselOf)
	out["switch-to-lift"] = opens - made
	out["reset-to-seat"] = w.first("disc-seated", reset, lateAt) - reset
	out["reset-to-pilot"] = w.first("pilot-shut", reset, lateAt) - reset
	out["longest-lift"] = w.longest(rejectAt, lateAt)
	out["peak-current"] = w.most(rejectAt, lateAt, current)
	out["lamp-after-coil"] = w.lampAfter(reset)
}

// longest is how long the disc was off its seat at most.
func (w *watched) longest(from, to float64) float64 {
	n, most := 0, 0
	for _, s := range w.at {
		if s.T < from || s.T > to || s.Valves[0].Disc.Hold == plant.HeldShut {
			n = 0
			continue
		}
		n++
		most = max(most, n)
	}
	return float64(most) * watchEvery
}

// lampAfter is how long the last lamp that stands for the valve's position is
// lit after the coil has lost its voltage.
func (w *watched) lampAfter(reset float64) float64 {
	off := w.first("coil-off", reset, lateAt)
	if math.IsNaN(off) || len(w.snapshot(off).Lamps) < 2 {
		return none
	}
	lit := 0.0
	for _, s := range w.at {
		if s.T < off || s.T > lateAt {
			continue
		}
		if !s.Lamps[1].Lit {
			break
		}
		lit = s.T - off
	}
	return lit
}

func (w *watched) late(out map[string]float64) {
	s := w.snapshot(lateAt)
	v := &s.Valves[0]
	out["late-body"], out["late-chamber"], out["late-share"], out["late-lift"] = v.Above, v.Below, share(v), v.Disc.Lift
	out["late-dump"], out["late-tail"] = dump(v), tail(v)
	out["late-current"], out["late-coil"] = v.Coil.Current, v.Coil.Temperature
	out["late-relay"], out["late-fuse"] = yes(v.Control.RelayOn), yes(v.Control.Fuse == network.FuseIn)
	out["late-lamp"] = none
	if len(s.Lamps) > 0 {
		out["late-lamp"] = yes(s.Lamps[0].Lit)
	}
}

func (w *watched) isolated(out map[string]float64) {
	v := w.valve(shutInAt)
	out["shut-in"], out["isolated-tail"] = v.Above, tail(v)
	out["isolated-lift"] = w.most(drainAt, shutInAt, lift)
	out["return-lift"] = w.most(returnAt, exerciseEnd, lift)
}

// headerAt is the temperature of the pipe that the tailpipe leads into.
func (w *watched) headerAt(t float64) float64 {
	m, s := w.run.Present(), w.snapshot(t)
	behind := s.Look.Nodes[m.Valves[0].Behind].Name
	for _, l := range s.Look.Walls {
		if l.Name == behind+"-wall" {
			return l.T
		}
	}
	return none
}
