package main

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/model/procedure"
	"underdisc/model/unit"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/report"
)

type runCmd struct {
	Scenario string   `arg:"" name:"NAME|FILE" help:"A built-in scenario (underdisc list), or the path of a file: a scenario, or the log of a run."`
	Until    string   `placeholder:"TIME" help:"End of the run, such as 60s; the scenario's own if left out."`
	RTol     string   `name:"rtol" placeholder:"NUMBER" help:"Relative tolerance of a step; if left out 1e-6, or that of the log."`
	Set      []string `sep:"none" placeholder:"PATH=VALUE" help:"Give a parameter another value from the start, such as valve.bleed.area=6mm2. Repeatable."`
	Fault    []string `sep:"none" placeholder:"NAME[=SEVERITY][@TIME]" help:"Add a fault, such as pilot-leaks=6mm2@2s. Repeatable."`
	Do       []string `sep:"none" placeholder:"PROCEDURE[:VALVE]@TIME" help:"Do a procedure of the plant, such as isolate@60s (underdisc list procedures). Repeatable."`
	Code     string   `placeholder:"WORD" help:"Reveal what is hidden: the word that it was hidden with; several separated by commas."`
	Answer   []string `sep:"none" placeholder:"FAULT" help:"Reveal what is hidden by naming it; a wrong name ends the program with status 2. Repeatable."`
	Out      string   `placeholder:"DIR" help:"Folder for tables and pictures; made if it is not there. Only files that underdisc wrote are replaced."`
	JSON     bool     `name:"json" help:"Print the summary as one JSON object instead of the report."`
}

// Bounds of what may be asked for.
const (
	finest   = 1e-12 // relative tolerance: below it, rounding is all that is left
	coarsest = 0.1
	longest  = 1e7 // s: catches a wrong unit, not a wish

	usualRTol = "1e-6"
)

// keptBlocks is how many blocks of 256 steps of the trajectory stay in memory;
// what is older is computed again when it is asked for.
const keptBlocks = 256

// Run reads everything first, so that bad input leaves no trace; then it runs,
// and in the end it writes.
func (c *runCmd) Run(p *program) error {
	sc, sets, rtol, err := c.read()
	if err != nil {
		return err
	}
	var into *folder
	if c.Out != "" {
		if into, err = openFolder(c.Out, report.IsFile); err != nil {
			return err
		}
	}
	run, err := live.Start(sc, live.Options{RelTol: rtol, Keep: keptBlocks})
	if err != nil {
		return cannotStart(sc, err)
	}
	wall, err := p.drive(run)
	if err != nil {
		return err
	}
	rec, err := report.NewRecord(run, wall)
	if err != nil {
		return err
	}
	rec.Sets = sets
	rec.Altered = len(sets) > 0 || len(c.Fault) > 0 || len(c.Do) > 0 || c.Until != "" || sc.Log != nil
	if !rec.Altered && !sc.Sealed() { // what it says of itself holds for what it was
		rec.Unmet = live.Verify(run)
	}
	var text bytes.Buffer
	if c.JSON {
		err = rec.WriteSummary(&text, p.env.version)
	} else {
		err = rec.Text(&text)
	}
	if err != nil {
		return err
	}
	if into != nil {
		if err := c.save(p, rec, into); err != nil {
			return err
		}
		if !c.JSON {
			fmt.Fprintf(&text, "\nTables and pictures are in %s\n", into.path)
		}
	}
	_, err = text.WriteTo(p.out)
	return err
}

// read makes a scenario of the arguments, and lists what they set in it.
func (c *runCmd) read() (*scenarios.Scenario, []report.Set, float64, error) {
	asked := c.RTol
	if asked == "" {
		asked = usualRTol
	}
	rtol, err := strconv.ParseFloat(asked, 64)
	if err != nil || !(rtol >= finest && rtol <= coarsest) {
		return nil, nil, 0, bad("--rtol: found %q, want a number from %g to %g such as 1e-6", asked, finest, coarsest)
	}
	sc, err := scenarios.Load(c.Scenario)
	if err != nil {
		return nil, nil, 0, badInput{err}
	}
	if sc.Log != nil && sc.Log.RelTol > 0 && c.RTol == "" {
		rtol = sc.Log.RelTol
	}
	if err := c.reveal(sc); err != nil {
		return nil, nil, 0, err
	}
	if c.Until != "" {
		if sc.Until, err = unit.Parse(c.Until, unit.Time); err != nil {
			return nil, nil, 0, bad("--until: found %w", err)
		}
		if !(sc.Until > 0 && sc.Until <= longest) {
			return nil, nil, 0, bad("--until: found %q, want more than 0 s and at most %s", c.Until, unit.Format(longest, unit.Time))
		}
	}
	if err := c.allowed(sc); err != nil {
		return nil, nil, 0, err
	}
	was := sc.Plant
	if sc.Plant, err = scenarios.Set(was, c.Set...); err != nil {
		return nil, nil, 0, bad("--set: %w", err)
	}
	var sets []report.Set
	for i, old := range was.Params() {
		if now := sc.Plant.Params()[i]; now.Value != old.Value {
			sets = append(sets, report.Set{Path: now.Path, From: plant.FormatValue(old), To: plant.FormatValue(now)})
		}
	}
	for _, text := range c.Fault {
		e, err := fault.ParseEntry(sc.Plant, text)
		if err != nil {
			return nil, nil, 0, bad("--fault %q: %w", text, err)
		}
		if e.At > sc.Until {
			return nil, nil, 0, bad("--fault %q: found a time after the end of the run, want at most %s", text, unit.Format(sc.Until, unit.Time))
		}
		sc.Faults = append(sc.Faults, e)
	}
	return sc, sets, rtol, c.work(sc)
}

// work adds what the procedures set to the scenario's commands.
func (c *runCmd) work(sc *scenarios.Scenario) error {
	for _, text := range c.Do {
		name, at, ok := strings.Cut(text, "@")
		if !ok {
			return bad("--do %q: found no time, want PROCEDURE@TIME, such as stroke@20s", text)
		}
		d, valve, err := procedure.Parse(name)
		if err != nil {
			return bad("--do %q: %w", text, err)
		}
		t, err := unit.Parse(at, unit.Time)
		if err != nil {
			return bad("--do %q: found %w", text, err)
		}
		if !(t >= 0 && t <= sc.Until) {
			return bad("--do %q: found a time outside of the run, want 0 s to %s", text, unit.Format(sc.Until, unit.Time))
		}
		settings, err := d.On(sc.Plant, valve, t)
		if err != nil {
			return bad("--do %q: %w", text, err)
		}
		for _, s := range settings {
			a := scenarios.Action{Command: &scenarios.Command{At: s.At, Path: s.Path, Value: s.Value}}
			if err := sc.Allows(a); err != nil {
				return bad("--do %q: %w", text, err)
			}
			sc.Record(a)
		}
	}
	return nil
}

// drive runs the scenario to its end, a few steps at a time, so that it can be
// broken off and watched. It returns how long the solver took.
func (p *program) drive(run *live.Run) (time.Duration, error) {
	const budget = 500 // steps; about two milliseconds
	bar := newBar(p.err, p.env.terminal, "computing", run.Scenario.Until)
	defer bar.clear()
	var wall time.Duration
	for done := false; !done; {
		if p.ctx.Err() != nil {
			return 0, errInterrupted
		}
		began := time.Now()
		var err error
		if done, err = run.Sim.Advance(run.Scenario.Until, budget); err == nil && done {
			err = run.Finish()
		}
		wall += time.Since(began)
		if err != nil {
			return 0, failed(run.Scenario, err)
		}
		bar.at(math.Min(run.Sim.State().T, run.Scenario.Until))
	}
	return wall, nil
}

// save writes the files of a run, all of them or none.
func (c *runCmd) save(p *program, rec *report.Record, into *folder) error {
	defer into.abandon()
	bar := newBar(p.err, p.env.terminal, "writing", rec.Until())
	defer bar.clear()
	err := rec.Files(p.ctx, p.env.version, bar.at, into.add)
	if err == nil && p.ctx.Err() == nil {
		err = into.commit()
	}
	switch {
	case p.ctx.Err() != nil:
		return errInterrupted
	case err != nil:
		return fmt.Errorf("the results could not be written: %w", err)
	}
	return nil
}
