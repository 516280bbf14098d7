package main

import (
	"bytes"
	"slices"
	"strings"

	"underdisc/model/unit"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/report"
)

type explainCmd struct {
	Scenario string   `arg:"" name:"NAME|FILE|LOG" help:"A built-in scenario (underdisc list), or the path of a file: a scenario, or the log of a run."`
	At       string   `placeholder:"TIME" help:"The moment to explain, such as 3.6s; the end of the scenario if left out, of a log where it ends."`
	Valve    string   `placeholder:"PART" help:"The valve to explain; if left out, the piloted ones, and in a plant without any the first with a spring."`
	Units    string   `default:"bar,abs" placeholder:"LIST" help:"Units, separated by commas: bar, psi or kPa; abs or gauge; degC or degF; kg/h, kg/s or lb/h (${default})."`
	Set      []string `sep:"none" placeholder:"PATH=VALUE" help:"Give a parameter another value from the start. Repeatable."`
	Fault    []string `sep:"none" placeholder:"NAME[=SEVERITY][@TIME]" help:"Add a fault, such as pilot-leaks=6mm2@2s. Repeatable."`
	Do       []string `sep:"none" placeholder:"PROCEDURE[:VALVE]@TIME" help:"Do a procedure of the plant, such as isolate@60s (underdisc list procedures). Repeatable."`
	Code     string   `placeholder:"WORD" help:"Reveal what is hidden: the word that it was hidden with; several separated by commas."`
	JSON     bool     `name:"json" help:"Print the answer as one JSON object."`
}

// Run reads everything first; then it runs to the moment and answers.
func (c *explainCmd) Run(p *program) error {
	units, err := parseUnits(c.Units)
	if err != nil {
		return err
	}
	at := -1.0
	if c.At != "" {
		if at, err = unit.Parse(c.At, unit.Time); err != nil {
			return bad("--at: found %w", err)
		}
		if !(at >= 0 && at <= longest) {
			return bad("--at: found %q, want 0 s to %s", c.At, unit.Format(longest, unit.Time))
		}
	}
	r := runCmd{Scenario: c.Scenario, Set: c.Set, Fault: c.Fault, Do: c.Do, Code: c.Code}
	if at > 0 {
		r.Until = unit.Exact(at, unit.Time)
	}
	sc, _, rtol, err := r.read()
	if err != nil {
		return err
	}
	if at < 0 {
		at = sc.Until
	}
	sc.Until = at
	if err := knownValve(sc, c.Valve); err != nil {
		return err
	}
	run, err := live.Start(sc, live.Options{RelTol: rtol, Keep: keptBlocks})
	if err != nil {
		return cannotStart(sc, err)
	}
	if _, err = p.drive(run); err != nil {
		return err
	}
	p.noteEnd(c.Scenario, at)
	why := report.Why{Run: run, At: at, Units: units, Valve: c.Valve}
	var text bytes.Buffer
	if c.JSON {
		err = why.WriteJSON(&text, p.env.version)
	} else {
		err = why.Text(&text)
	}
	if err != nil {
		return err
	}
	_, err = text.WriteTo(p.out)
	return err
}

// knownValve refuses the name of a valve that the plant does not have.
func knownValve(sc *scenarios.Scenario, name string) error {
	var names []string
	for _, kind := range []string{"piloted-valve", "spring-valve"} {
		for _, q := range sc.Plant.OfKind(kind) {
			names = append(names, q.Name)
		}
	}
	switch {
	case name == "" || slices.Contains(names, name):
		return nil
	case len(names) == 0:
		return bad("--valve: found %q, want none: %s has no valve", name, sc.Name)
	}
	return bad("--valve: found %q, want one of the valves of %s: %s", name, sc.Name, strings.Join(names, ", "))
}
