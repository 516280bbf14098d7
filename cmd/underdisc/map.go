package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"underdisc/model/equilibria"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/viz/paper"
	"underdisc/viz/report"
)

type mapCmd struct {
	Scenario string   `arg:"" name:"NAME|FILE" help:"The scenario whose plant is mapped as it is at the start; its commands are not done."`
	Valve    string   `placeholder:"PART" help:"Only this valve; all that have a map if left out."`
	Set      []string `sep:"none" placeholder:"PATH=VALUE" help:"Give a parameter another value, such as safety.lower-ring.gap=4mm. Repeatable."`
	Fault    []string `sep:"none" placeholder:"NAME[:PART][=SEVERITY]" help:"Add a fault. Repeatable."`
	Out      string   `placeholder:"DIR" help:"Folder for a table (map-VALVE.csv), a picture (PNG and SVG) and the words of each valve; made if it is not there. If left out, the words are printed."`
}

// Run reads everything first, then computes, and writes in the end.
func (c *mapCmd) Run(p *program) error {
	m, title, err := c.model()
	if err != nil {
		return err
	}
	var into *folder
	if c.Out != "" {
		if into, err = openFolder(c.Out, report.IsMapFile); err != nil {
			return err
		}
	}
	maps, err := c.maps(m, title)
	if err != nil {
		return err
	}
	if p.ctx.Err() != nil {
		return errInterrupted
	}
	if into == nil {
		var text bytes.Buffer
		for i := range maps {
			err = errors.Join(err, maps[i].Text(&text))
		}
		if err = errors.Join(err, report.MapCaution(&text)); err != nil {
			return err
		}
		_, err = text.WriteTo(p.out)
		return err
	}
	defer into.abandon()
	for i := range maps {
		y := &maps[i]
		page := y.Page()
		err = errors.Join(err,
			into.add("map-"+y.Valve+".csv", y.CSV),
			into.add("map-"+y.Valve+".txt", func(w io.Writer) error { return errors.Join(y.Text(w), report.MapCaution(w)) }),
			into.add("map-"+y.Valve+".png", func(w io.Writer) error { return (*paper.Page).PNG(page, w) }),
			into.add("map-"+y.Valve+".svg", func(w io.Writer) error { return (*paper.Page).SVG(page, w) }))
	}
	if err == nil {
		err = into.commit()
	}
	if err != nil {
		return fmt.Errorf("the maps could not be written: %w", err)
	}
	_, err = fmt.Fprintf(p.out, "%d of the plant's valves; the maps are in %s\n", len(maps), into.path)
	return err
}

// model is the plant as the scenario starts with it.
func (c *mapCmd) model() (*plant.Model, string, error) {
	r := runCmd{Scenario: c.Scenario, Set: c.Set, Fault: c.Fault}
	sc, _, rtol, err := r.read()
	switch {
	case err != nil:
		return nil, "", err
	case sc.Sealed():
		return nil, "", bad("map %s: found a hidden fault, want a scenario that hides none", c.Scenario)
	}
	for _, f := range sc.Faults[len(sc.Faults)-len(c.Fault):] { // those that were asked for
		if f.At > 0 {
			return nil, "", bad("--fault %s: found a time, want none: the plant is mapped as it is at the start", f.Name)
		}
	}
	run, err := live.Start(sc, live.Options{RelTol: rtol, Keep: keptBlocks})
	if err != nil {
		return nil, "", cannotStart(sc, err)
	}
	return run.Model(0), c.title(sc.Title), nil
}

// title is the scenario's, with what was changed.
func (c *mapCmd) title(of string) string {
	if with := slices.Concat(c.Set, c.Fault); len(with) > 0 {
		of += ", with " + strings.Join(with, ", ")
	}
	return of
}

// maps makes those that were asked for. A valve that has none is passed over,
// unless it was asked for or there is no other.
func (c *mapCmd) maps(m *plant.Model, title string) ([]report.Maps, error) {
	names := equilibria.Valves(m)
	if c.Valve != "" {
		names = []string{c.Valve}
	}
	if len(names) == 0 {
		return nil, bad("map %s: found a plant without a valve, want one with a valve", c.Scenario)
	}
	var out []report.Maps
	var first error
	for _, name := range names {
		y, err := valveMaps(m, name, title)
		if err != nil {
			first = errors.Join(first, err)
			continue
		}
		out = append(out, *y)
	}
	switch {
	case c.Valve != "" && first != nil:
		return nil, bad("--valve: %w", first)
	case len(out) == 0:
		return nil, bad("map %s: %w", c.Scenario, first)
	}
	return out, nil
}

// valveMaps are the maps of one valve: of a piloted one that with its pilot open
// first.
func valveMaps(m *plant.Model, name, title string) (*report.Maps, error) {
	y := &report.Maps{Title: title, Valve: name}
	k, err := equilibria.Of(m, name, equilibria.Options{})
	if err != nil {
		return nil, err
	}
	y.Maps = append(y.Maps, k)
	if k.Pilot == equilibria.Open {
		if k, err = equilibria.Of(m, name, equilibria.Options{Pilot: equilibria.Shut}); err != nil {
			return nil, err
		}
		y.Maps = append(y.Maps, k)
	}
	return y, nil
}
