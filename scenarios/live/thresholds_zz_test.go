package live_test

import (
	"fmt"
	"testing"
"time"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

func zrun(t *testing.T, base, f string, sev float64, until float64, set ...string) *live.Run {
	sc, err := scenarios.Load(base)
	if err != nil {
		t.Fatal(err)
	}
	sc.Plant, err = scenarios.Set(sc.Plant, set...)
	if err != nil {
		t.Fatal(err)
	}
	if f != "" {
		s := sev
		sc.Faults = append(sc.Faults, fault.Entry{Name: f, Severity: &s})
	}
	sc.Until = until
	r, err := live.Start(sc, live.Options{RelTol: 1e-6, Bare: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Finish(); err != nil {
		t.Fatal(err)
	}
	return r
}

func zdump(r *live.Run, n int) {
	for i := range r.Sim.Events() {
		if i > n {
			break
		}
		e := &r.Sim.Events()[i]
		b, _ := r.AtEvent(e)
		v := b.Valves[0]
		fmt.Printf("  %9.5f %-18s pV %.4f pA %.4f pB %.4f pT %.4f x %.3f s %.3f i %.3f TA %.1f TB %.1f\n", e.T, e.Name, v.Vessel/1e5, v.Above/1e5, v.Below/1e5, v.Outlet/1e5, v.Disc.Lift*1e3, v.Pilot.Lift*1e3, v.Coil.Current, v.AboveTemperature, v.BelowTemperature)
	}
	s := r.Now()
	v := s.Valves[0]
	fmt.Printf("  end %.3f pV %.4f pA %.4f pB %.4f pT %.4f x %.3f s %.3f i %.3f TA %.1f TB %.1f\n", s.T, v.Vessel/1e5, v.Above/1e5, v.Below/1e5, v.Outlet/1e5, v.Disc.Lift*1e3, v.Pilot.Lift*1e3, v.Coil.Current, v.AboveTemperature, v.BelowTemperature)
}

func TestZZ(t *testing.T) {
	r := zrun(t, "gas-bench", "pilot-leaks", 8.45e-6, 800)
	zdump(r, 0)
	fmt.Println(r.Sim.Stats())
	g := rigOf(r.Scenario.Plant)
	pV := g.balance(g.Cseat(g.xMax))
	_, pA, pT := g.open(pV)
	fmt.Println(pV, pA, pT, g.toLeave(pA, pT))
	for _, p := range []float64{8.38e-6, 8.385e-6,8.39e-6} {
	r := zrun(t, "gas-bench", "pilot-leaks", p, 800)
	zdump(r, 20)
	}
	calm := stand(t, "gas-bench", 30, "vessel.volume=1e5 m3", "vessel.pressure=11.3 bar abs", "switch.set=11.2 bar abs", "switch.reset=11.1 bar abs")
	calm = set(calm, 3, "switch.drift", 1*bar)
	for _, l := range []float64{4, 5, 5.05, 5.09, 5.0985, 5.1, 6} {
		t0 := time.Now()
		r := played(t, with(calm, "pilot-leaks", l*mm2, 0), "disc-leaves-stop")
		fmt.Println(l, time.Since(t0), r.Sim.Stats(), first(r, "disc-leaves-stop") != nil)
	}
	t0 := time.Now()
	hangsOpen(t)
	fmt.Println(time.Since(t0))
}
