package runlog

import (
	"bytes"

	"underdisc/scenarios"
)

// Text is the log that a scenario was read from, written anew; of a scenario
// that was not read from a log, its own text.
func Text(sc *scenarios.Scenario) ([]byte, error) {
	log := sc.Log
	if log == nil {
		return []byte(sc.Text()), nil
	}
	var b bytes.Buffer
	w, err := New(&b, log.Start, Tolerance(log.RelTol))
	if err != nil {
		return nil, err
	}
	for _, a := range log.Did {
		if err := w.Did(a); err != nil {
			return nil, err
		}
	}
	if log.Reached > 0 {
		if err := w.Reached(log.Reached); err != nil {
			return nil, err
		}
	}
	return b.Bytes(), w.Close()
}
