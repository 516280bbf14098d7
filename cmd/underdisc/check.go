package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"

	"underdisc/model/unit"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

type checkCmd struct {
	File string `arg:"" name:"FILE" help:"Path of the file, a scenario or the log of a run, or name of a built-in scenario."`
}

// Run checks a file as the start of a run would.
func (c *checkCmd) Run(p *program) error {
	sc, err := scenarios.Load(c.File)
	if err != nil {
		return badInput{err}
	}
	if _, err := live.Start(sc, live.Options{RelTol: 1e-6, Bare: true}); err != nil {
		return badInput{err}
	}
	what := ""
	if sc.Log != nil {
		what = "the log of "
	}
	text := fmt.Sprintf("%s is sound: %s%s, %d parts, %d faults, %d commands, %s to run",
		c.File, what, sc.Name, len(sc.Plant.Parts), len(sc.Faults), len(sc.Commands), unit.Format(sc.Until, unit.Time))
	if sc.Sealed() {
		text += ", and something that is hidden"
	}
	_, err = fmt.Fprintln(p.out, text)
	return err
}

type schemaCmd struct{}

// Run prints the schema.
func (schemaCmd) Run(p *program) error {
	text, err := scenarios.Schema()
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(p.out, "%s\n", text)
	return err
}

type versionCmd struct{}

// Run prints what the program is.
func (versionCmd) Run(p *program) error {
	_, err := fmt.Fprintf(p.out, "underdisc %s, %s, %s/%s\n", p.env.version, runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return err
}

// version says which source the program was built from: the module's version,
// else the revision, with a plus where the source had been changed.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	revision, changed := "", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			revision = s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = "+"
		}
	}
	switch v := strings.Trim(info.Main.Version, "()"); {
	case v != "" && v != "devel":
		return v
	case revision != "":
		return revision + changed
	}
	return "devel"
}
