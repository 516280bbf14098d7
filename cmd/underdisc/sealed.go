package main

import (
	"errors"
	"fmt"
	"strings"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/sim"
)

// reveal reveals what is hidden in the scenario, as far as the arguments do.
func (c *runCmd) reveal(sc *scenarios.Scenario) error {
	if c.Code != "" && sc.Hidden == nil {
		return bad("--code: found a word, but nothing is hidden in %s, want it without", c.Scenario)
	}
	if !sc.Hidden.Reveal(c.Code) && c.Code != "" {
		for code := range strings.SplitSeq(c.Code, ",") {
			if !sc.Hidden.Reveal(code) {
				return bad("--code: found %q, which reveals nothing here, want the word that it was hidden with", code)
			}
		}
	}
	for _, name := range c.Answer {
		switch _, known := fault.Find(strings.TrimSpace(name)); {
		case sc.Hidden == nil:
			return bad("--answer: found an answer, but nothing is hidden in %s, want it without", c.Scenario)
		case !known:
			return bad("--answer: found %q, which is no fault, want the name of one (underdisc list faults)", name)
		case !sc.Hidden.Answer(name):
			return bad("--answer: found %s, which is not what is hidden here, want what is", strings.TrimSpace(name))
		}
	}
	return nil
}

// allowed refuses what could be used to find out what is hidden, in the same
// words whatever that is. It looks at the paths alone.
func (c *runCmd) allowed(sc *scenarios.Scenario) error {
	if !sc.Sealed() {
		return nil
	}
	for _, set := range c.Set {
		path, _, _ := strings.Cut(set, "=")
		if err := sc.Allows(scenarios.Action{Command: &scenarios.Command{Path: strings.TrimSpace(path)}}); err != nil {
			return bad("--set %q: %w", set, err)
		}
	}
	for _, text := range c.Fault {
		if err := sc.Allows(scenarios.Action{Fault: &fault.Entry{}}); err != nil {
			return bad("--fault %q: %w", text, err)
		}
	}
	return nil
}

// errSealedFailure is all that is said of a run with a hidden fault that failed.
var errSealedFailure = errors.New("the run failed; why stays hidden until what is hidden is revealed (--code WORD)")

// failed is the error of a run that failed.
func failed(sc *scenarios.Scenario, err error) error {
	if sc.Sealed() {
		return errSealedFailure
	}
	return fmt.Errorf("the run failed: %w", err)
}

// cannotStart is the error of a run that could not begin: its scenario is not
// sound, or the solver found no slope.
func cannotStart(sc *scenarios.Scenario, err error) error {
	var broken *sim.NonFinite
	switch {
	case errors.As(err, &broken):
		return failed(sc, err)
	case sc.Sealed():
		return bad("found a scenario whose plant does not fit what is hidden in it, want it as it was made")
	}
	return badInput{err}
}
