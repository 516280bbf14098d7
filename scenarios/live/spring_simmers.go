package live

import "underdisc/model/plant"

// Simmer is a stretch in which the faces of a spring-loaded valve were parted
// without a lift, or before it.
type Simmer struct {
	From, Until float64 // s; Until is the end of the run where it goes on
	Inlet       float64 // pressure at the inlet when it began, Pa absolute
	Lifted      bool    // it ended in a lift
	GoesOn      bool
	Wear        float64
}

// Simmers are the times at which a spring-loaded valve simmered; bounces on its seat
// are none.
func Simmers(r *Run, valve string) []Simmer {
	k := springIndex(r.Present(), valve)
	if k < 0 {
		return nil
	}
	var out []Simmer
	part := r.Present().Net.Movers[r.Present().Springs[k].Disc].Name
	open := false
	begin := 0.0 // wear
	start := func(t float64, v *plant.SpringState) {
		out, open, begin = append(out, Simmer{From: t, Inlet: v.Inlet}), true, v.Wear
	}
	stop := func(t float64, v *plant.SpringState, lifted bool) {
		if open {
			l := &out[len(out)-1]
			l.Until, l.Lifted, l.Wear = t, lifted, v.Wear-begin
			if !lifted && t-l.From < bounces {
				out = out[:len(out)-1]
			}
		}
		open = false
	}
	for i := range r.Sim.Events() {
		e := &r.Sim.Events()[i]
		if e.Part != part {
			continue
		}
		switch e.Name {
		case "simmer", "pop", "tight", "reseat":
			_, after := r.AtEvent(e)
			v := &after.Springs[k]
			stop(e.T, v, e.Name == "pop")
			if e.Name == "simmer" || e.Name == "reseat" {
				start(e.T, v)
			}
		}
	}
	if open {
		now := r.Now()
		out[len(out)-1].GoesOn = true
		stop(now.T, &now.Springs[k], false)
	}
	return out
}
