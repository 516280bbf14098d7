package main

import (
	"errors"
	"fmt"
	"io"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/report"
)

type signsCmd struct {
	Scenario string   `arg:"" optional:"" default:"boiler-plant" name:"NAME|FILE" help:"The scenario whose plant is put through the exercise; boiler-plant if left out. Its commands are not done."`
	Fault    []string `sep:"none" placeholder:"NAME[:PART][=SEVERITY]" help:"Only this fault, beside the plant without it. Repeatable; the whole catalogue if left out."`
	Out      string   `placeholder:"DIR" help:"Folder for signs.md and signs.csv; made if it is not there. If left out, the page is printed."`
}

// signsRTol is the tolerance of the runs of the table.
const signsRTol = 1e-5

// Run reads everything first, then computes, and writes in the end.
func (c *signsCmd) Run(p *program) error {
	cases, err := c.cases()
	if err != nil {
		return err
	}
	var into *folder
	if c.Out != "" {
		if into, err = openFolder(c.Out, report.IsSignsFile); err != nil {
			return err
		}
	}
	bar := newBar(p.err, p.env.terminal, "exercising", float64(len(cases)))
	rows, err := live.SignTable(p.ctx, cases, signsRTol, func(n int) { bar.at(float64(n)) })
	bar.clear()
	switch {
	case p.ctx.Err() != nil:
		return errInterrupted
	case err != nil:
		return err
	}
	if into == nil {
		return report.SignsPage(p.out, rows, p.env.version)
	}
	defer into.abandon()
	err = errors.Join(
		into.add("signs.md", func(w io.Writer) error { return report.SignsPage(w, rows, p.env.version) }),
		into.add("signs.csv", func(w io.Writer) error { return report.SignsCSV(w, rows) }))
	if err == nil {
		err = into.commit()
	}
	if err != nil {
		return fmt.Errorf("the table could not be written: %w", err)
	}
	_, err = fmt.Fprintf(p.out, "%d runs; the table is in %s\n", len(rows), into.path)
	return err
}

// cases lists what is to be run, and refuses what cannot be.
func (c *signsCmd) cases() ([]live.SignCase, error) {
	sc, err := scenarios.Load(c.Scenario)
	if err != nil {
		return nil, badInput{err}
	}
	if sc.Sealed() {
		return nil, bad("signs %s: found a hidden fault, want a scenario that hides none", c.Scenario)
	}
	if _, err := live.Exercised(sc, fault.Entry{}); err != nil {
		return nil, bad("signs %s: %w", c.Scenario, err)
	}
	if len(c.Fault) == 0 {
		return live.SignCases(sc)
	}
	cases := []live.SignCase{{On: sc}}
	for _, text := range c.Fault {
		e, err := fault.ParseEntry(sc.Plant, text)
		if err != nil {
			return nil, bad("--fault %q: %w", text, err)
		}
		if e.At > 0 {
			return nil, bad("--fault %q: found a time, want none: the fault is there from the start", text)
		}
		if _, err := live.Exercised(sc, e); err != nil {
			return nil, bad("--fault %q: %w", text, err)
		}
		cases = append(cases, live.SignCase{On: sc, Entry: e})
	}
	return cases, nil
}
