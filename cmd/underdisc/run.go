package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/alecthomas/kong"
)

// Exit status of the program.
const (
	exitGood        = 0
	exitFailed      = 1 // the run failed, or its results could not be written
	exitBadInput    = 2 // nothing has been run and nothing written
	exitInterrupted = 130
)

// environment is what the program takes from where it runs.
type environment struct {
	version  string
	terminal bool // whether the error output is a terminal
}

// program is one call of the program.
type program struct {
	ctx      context.Context
	out, err io.Writer
	env      environment
}

// What is taken when no scenario is named.
const (
	defaultScenario = "gas-bench"      // for the paths that list params shows
	liveScenario    = "gas-bench-plus" // for the live picture
)

// grammar is the command line.
type grammar struct {
	Show    showCmd    `cmd:"" help:"Show the live picture in a window, or where there is no display in a browser. What is done without a command."`
	Run     runCmd     `cmd:"" help:"Run a scenario and report what happened."`
	Explain explainCmd `cmd:"" help:"Say why a valve will not reseat, will not lift or cycles, which link holds it, and what would free it."`
	List    listCmd    `cmd:"" help:"List scenarios, faults, procedures, and the paths that --set takes."`
	Print   printCmd   `cmd:"" help:"Draw a scenario at a moment, or a sequence of moments."`
	Map     mapCmd     `cmd:"" help:"Find every lift at which a valve's disc can stand, by pressure: pop, reseat, simmer, hysteresis."`
	Signs   signsCmd   `cmd:"" help:"Put a plant and its faults through one exercise, and table what shows."`
	Hide    hideCmd    `cmd:"" help:"Hide faults in a scenario, for others to find."`
	Serve   serveCmd   `cmd:"" help:"Serve the live picture to the browsers of this machine."`
	Check   checkCmd   `cmd:"" help:"Check a scenario file without running it. What it says under shows is held against the run by run."`
	Schema  schemaCmd  `cmd:"" help:"Print the JSON Schema of scenario files."`
	Version versionCmd `cmd:"" help:"Print the version."`

	makersGrammar `embed:""`
}

const about = `Computes what happens inside a pilot-operated relief valve, and in the spring-loaded safety valves beside it.

Without arguments it opens the live picture of a valve on its bench: in a window, or, where there is no display, in a browser.

Exit status: 0 good, 1 the run failed, 2 bad input, 130 interrupted. After 2 and 130 nothing has been written.

It teaches and explains. It never replaces the plant's procedure, the manufacturer's instructions, local code or licensed practice.`

// badInput marks an error in what the user has given.
type badInput struct{ error }

func (e badInput) Unwrap() error { return e.error }

// bad makes an error of what the user has given.
func bad(format string, args ...any) error { return badInput{fmt.Errorf(format, args...)} }

// errInterrupted ends a run that the user has broken off.
var errInterrupted = errors.New("interrupted; nothing has been written")

// run is the whole program: arguments in, exit status out.
func run(ctx context.Context, args []string, out, errs io.Writer, env environment) int {
	if len(args) == 0 {
		args = []string{"show"}
	}
	p := &program{ctx: ctx, out: out, err: errs, env: env}
	err := p.call(args)
	if err == nil {
		return exitGood
	}
	fmt.Fprintln(errs, "underdisc:", oneLine(err.Error()))
	var input badInput
	switch {
	case errors.Is(err, errInterrupted):
		return exitInterrupted
	case errors.As(err, &input):
		return exitBadInput
	}
	return exitFailed
}

// call reads the arguments and does what they say.
func (p *program) call(args []string) error {
	printed := false
	parser, err := kong.New(&grammar{}, kong.Name("underdisc"), kong.Description(about),
		kong.Writers(p.out, p.err), kong.Exit(func(int) { printed = true }),
		kong.Vars{"scenario": defaultScenario, "live": liveScenario, "logs": logFolder},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}))
	if err != nil {
		return err
	}
	args = joined(helped(args))
	if err := known(parser, args); err != nil {
		return err
	}
	c, err := parser.Parse(args)
	if printed { // the parser has printed the help and gone on
		return nil
	}
	if err != nil {
		return bad("%v (underdisc --help lists what there is)", err)
	}
	return c.Run(p)
}

// oneLine keeps a message to one line.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
