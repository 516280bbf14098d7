package live

import (
	"context"
	"fmt"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"

	"underdisc/model/fault"
	"underdisc/scenarios"
)

// SignCase is a row of the table that is to be computed.
type SignCase struct {
	On    *scenarios.Scenario
	Entry fault.Entry // a name of "": the plant as it is
}

// SignCases are the healthy plant and every fault of the catalogue on it, with
// the severities of the scenarios plant-NAME, which show them on the boiler
// plant. A fault that the plant cannot have, or whose scenario gives that plant
// other values, comes on the plant of its own scenario, after that plant without
// it; of two faults in a scenario it is the first. A fault without such a scenario befalls benches only.
func SignCases(sc *scenarios.Scenario) ([]SignCase, error) {
	boiler, err := scenarios.Load("boiler-plant")
	if err != nil {
		return nil, err
	}
	built := scenarios.Names()
	healthy := *sc
	out := []SignCase{{On: &healthy}}
	others := map[string]bool{}
	var after []SignCase
	for _, f := range fault.All() {
		if !slices.Contains(built, "plant-"+f.Name) {
			continue
		}
		shown, err := scenarios.Load("plant-" + f.Name)
		if err != nil {
			return nil, err
		}
		e := shown.Faults[0]
		e.At = 0
		asIs := reflect.DeepEqual(shown.Plant, boiler.Plant)
		if asIs && fault.Conflicts(sc.Plant, append(sc.Faults[:len(sc.Faults):len(sc.Faults)], e)) == nil {
			out = append(out, SignCase{On: sc, Entry: e})
			continue
		}
		own := *shown
		own.Faults = shown.Faults[1:]
		own.Name = shown.Name + " without its fault"
		if !others[own.Name] {
			others[own.Name] = true
			after = append(after, SignCase{On: &own})
		}
		after = append(after, SignCase{On: &own, Entry: e})
	}
	return append(out, after...), nil
}

// SignTable computes rows, as many at once as there are processors; done is told
// how many are there. It stops when the context ends.
func SignTable(ctx context.Context, cases []SignCase, rtol float64, done func(int)) ([]SignRow, error) {
	rows, errs := make([]SignRow, len(cases)), make([]error, len(cases))
	next := make(chan int)
	var wait sync.WaitGroup
	var mutex sync.Mutex
	ready := 0
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				row, err := SignsOf(cases[i].On, cases[i].Entry, rtol)
				if err != nil {
					errs[i] = fmt.Errorf("%s: %w", strings.TrimSpace(cases[i].On.Name+" "+cases[i].Entry.Name), err)
					continue
				}
				rows[i] = *row
				mutex.Lock()
				ready++
				done(ready)
				mutex.Unlock()
			}
		})
	}
	for i := range cases {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wait.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return rows, nil
}

// Healthy is the row of the same plant without a fault; nil if there is none.
func Healthy(rows []SignRow, of SignRow) *SignRow {
	for i := range rows {
		if rows[i].Fault == "" && rows[i].Plant == of.Plant {
			return &rows[i]
		}
	}
	return nil
}
