package runlog

import (
	"errors"

	"underdisc/scenarios"
)

// Open reads the log in a file: what was done is among the faults, hidden faults
// and commands of the scenario, Until is how far the run came, and Log has the
// rest. The error is a *scenarios.Error.
func Open(path string) (*scenarios.Scenario, error) {
	sc, err := scenarios.Load(path)
	if err != nil {
		return nil, err
	}
	return log(sc, path)
}

// Parse reads a log from memory; name is for messages.
func Parse(data []byte, name string) (*scenarios.Scenario, error) {
	sc, err := scenarios.Parse(name, data, nil)
	if err != nil {
		return nil, err
	}
	return log(sc, name)
}

// log refuses a scenario that is none.
func log(sc *scenarios.Scenario, name string) (*scenarios.Scenario, error) {
	if sc.Log == nil {
		return nil, &scenarios.Error{File: name, Key: "log", Found: "a scenario that is no log", Want: "the log of a run",
			Err: errors.New("not a log")}
	}
	return sc, nil
}
