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
	t0 := time.Now()
	header := stand(t, "gas-bench", 8, "inflow.mass-flow=0kg/s", "vessel.pressure=1.6 bar abs", "switch.set=1.5 bar abs", "switch.reset=1.2 bar abs")
	header = set(header, 5, "surroundings.pressure", 1.6*bar)
	for _, p := range []float64{30, 60, 120} {
	zdump(played(t, with(header, "spring-weak", p, 0)), 50)
	}
	t0 = time.Now()
	hangsOpen(t)
	fmt.Println(time.Since(t0))
}
