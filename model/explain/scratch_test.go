package explain_test

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

func TestScratch(t *testing.T) {
	for _, c := range strings.Split(os.Getenv("CASES"), "|") {
		w := strings.SplitN(c, ":", 3)
		sc, err := scenarios.Load(w[0])
		if err != nil {
			t.Fatal(err)
		}
		if w[2] != "" {
			sc.Plant, err = scenarios.Set(sc.Plant, strings.Split(w[2], ";")...)
			if err != nil {
				t.Fatal(err)
			}
		}
		fmt.Sscan(w[1], &sc.Until)
		t0 := time.Now()
		r, err := live.Start(sc, live.Options{RelTol: 1e-6})
		if err != nil {
			t.Fatal(err)
		}
		if err := r.Finish(); err != nil {
			t.Error(err)
		}
		fmt.Println("==", c, len(r.Sim.Events()), time.Since(t0))
		n := 0
		for _, e := range r.Sim.Events() {
			if strings.Contains(e.Name, "bounce") { continue }
			if n++; n > 40 { break }
			_, s := r.AtEvent(&e)
			v := &s.Valves[0]
			fmt.Printf("  %9.6f %-18s pA %.3f pB %.3f pT %.3f pW %.3f Tb %.0f Ta %.0f x %.2f i %.3f\n", e.T, e.Name, v.Above/1e5, v.Below/1e5, v.Outlet/1e5, v.Vessel/1e5, v.BelowTemperature, v.AboveTemperature, v.Disc.Lift*1e3, v.Coil.Current)
		}
		s := r.Now()
		v := &s.Valves[0]
		fmt.Printf("  end pA %.3f pB %.3f pT %.3f pD %.3f pW %.3f x %.2f v %.4f a %.4f hold %d pilot %d\n", v.Above/1e5, v.Below/1e5, v.Outlet/1e5, v.Dump/1e5, v.Vessel/1e5, v.Disc.Lift*1e3, v.Disc.Speed, v.Disc.Acceleration, v.Disc.Hold, v.Pilot.Hold)
	}
}
