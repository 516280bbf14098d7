package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"underdisc/scenarios"
	"underdisc/scenarios/runlog"
	"underdisc/viz/screen"
	"underdisc/viz/session"
)

// logFolder is where the logs of live runs go that are given no place.
const logFolder = "underdisc-out/live"

type showCmd struct {
	Scenario  string   `arg:"" optional:"" name:"NAME|FILE|LOG" default:"${live}" help:"A built-in scenario (underdisc list), or the path of a file or of the log of a run (${default})."`
	Projector bool     `help:"Fewer and larger things, for a room."`
	Units     string   `default:"bar,abs" placeholder:"LIST" help:"Units, separated by commas: bar, psi or kPa; abs or gauge; degC or degF; kg/h, kg/s or lb/h (${default}). They can be changed at any time."`
	Log       string   `placeholder:"FILE" help:"Where the log of the run goes; by default a new file in ./${logs}."`
	Words     bool     `help:"Say in the terminal, in words and numbers, what the picture shows."`
	Set       []string `sep:"none" placeholder:"PATH=VALUE" help:"Give a parameter another value from the start. Repeatable."`
	Fault     []string `sep:"none" placeholder:"NAME[=SEVERITY][@TIME]" help:"Add a fault, such as pilot-leaks=6mm2@2s. Repeatable."`
	Do        []string `sep:"none" placeholder:"PROCEDURE[:VALVE]@TIME" help:"Do a procedure of the plant, such as isolate@60s (underdisc list procedures). Repeatable."`
	Code      string   `placeholder:"WORD" help:"Reveal what the file hides."`
}

// Run opens the window. Where there is no display, it serves the same picture
// to the browser.
func (c *showCmd) Run(p *program) error {
	units, err := parseUnits(c.Units)
	if err != nil {
		return err
	}
	r := runCmd{Scenario: c.Scenario, Set: c.Set, Fault: c.Fault, Do: c.Do, Code: c.Code}
	sc, _, _, err := r.read()
	if err != nil {
		return err
	}
	if !hasDisplay() {
		fmt.Fprintln(p.err, "There is no display here, so the picture is served to a browser.")
		return serve(p.ctx, serveOptions{scenario: sc, out: p.out, err: p.err, terminal: p.env.terminal})
	}
	logs := &laneLogs{first: c.Log}
	if err := os.MkdirAll(logFolder, 0o755); err != nil {
		return err
	}
	host := &screen.Native{Folder: logFolder}
	if c.Words {
		host.Words = p.out
	}
	err = screen.Run(screen.Options{
		Scenario: sc, Host: host, Logs: logs.start, Hear: screen.Aloud, Done: p.ctx.Done(),
		Look: screen.Look{Units: units, Projector: c.Projector},
	})
	for _, path := range logs.made {
		fmt.Fprintf(p.out, "log: %s\n", path)
	}
	if err != nil {
		return fmt.Errorf("the window has ended: %w", err)
	}
	return nil
}

// hasDisplay tells whether a window can be opened.
func hasDisplay() bool {
	switch runtime.GOOS {
	case "windows", "darwin":
		return true
	}
	return os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
}

// laneLogs makes the files that the logs of a sitting go to.
type laneLogs struct {
	first string // of the first log; empty: a new file
	made  []string
}

func (l *laneLogs) start(lane int, sc *scenarios.Scenario, relTol float64) (session.Recorder, error) {
	path := l.first
	if path == "" || len(l.made) > 0 {
		if err := os.MkdirAll(logFolder, 0o755); err != nil {
			return nil, err
		}
		name := fmt.Sprintf("%s-%s%s", sc.Name, time.Now().Format("20060102-150405"), [...]string{"", "-b"}[lane])
		path = unused(filepath.Join(logFolder, name), ".yaml")
	}
	w, err := runlog.Create(path, sc, runlog.Tolerance(relTol))
	if err != nil {
		return nil, err
	}
	l.made = append(l.made, path)
	return w, nil
}

// unused is a name that no file has.
func unused(stem, end string) string {
	path := stem + end
	for n := 2; ; n++ {
		if _, err := os.Lstat(path); err != nil {
			return path
		}
		path = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(stem, end), n, end)
	}
}
