package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"underdisc/model/unit"
	"underdisc/scenarios/live"
	"underdisc/viz/paper"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

type printCmd struct {
	Scenario  string   `arg:"" name:"NAME|FILE|LOG" help:"A built-in scenario (underdisc list), or the path of a file: a scenario, or the log of a run."`
	At        string   `placeholder:"TIME" help:"The moment to draw, such as 3.6s."`
	From      string   `placeholder:"TIME" help:"First moment of a sequence."`
	To        string   `placeholder:"TIME" help:"Last moment of a sequence."`
	Every     string   `placeholder:"TIME" help:"Time between the moments of a sequence, such as 2ms."`
	Slowed    bool     `help:"Of a sequence: as the live picture runs, slowed down by itself where something fast happens; --every is then time of the clock."`
	Out       string   `required:"" placeholder:"FILE" help:"Where to: FILE.png, FILE.svg or FILE.pdf; of a sequence FILE-0001.png and so on, or one moving FILE.gif. A file of that name is replaced."`
	Valve     string   `placeholder:"PART" help:"The valve to draw; if left out, the piloted one, and in a plant without any the first with a spring."`
	Size      string   `default:"1600x900" placeholder:"WxH" help:"Size of the picture (${default}); at least 1024x640."`
	Projector bool     `help:"Fewer and larger things, for a room."`
	Units     string   `default:"bar,abs" placeholder:"LIST" help:"Units, separated by commas: bar, psi or kPa; abs or gauge; degC or degF; kg/h, kg/s or lb/h (${default})."`
	Set       []string `sep:"none" placeholder:"PATH=VALUE" help:"Give a parameter another value from the start. Repeatable."`
	Fault     []string `sep:"none" placeholder:"NAME[=SEVERITY][@TIME]" help:"Add a fault, such as pilot-leaks=6mm2@2s. Repeatable."`
	Do        []string `sep:"none" placeholder:"PROCEDURE[:VALVE]@TIME" help:"Do a procedure of the plant, such as isolate@60s (underdisc list procedures). Repeatable."`
	Code      string   `placeholder:"WORD" help:"Reveal what is hidden: the word that it was hidden with; several separated by commas."`
}

// Bounds of what may be asked for.
const (
	mostPictures = 5000
	mostFrames   = 600 // of a moving picture, which is held in memory
	leastWidth   = 1024
	leastHeight  = 640
	largest      = 8000 // px, of either side
)

// Run reads everything first, so that bad input leaves no trace; then it runs,
// draws under temporary names and renames in the end.
func (c *printCmd) Run(p *program) error {
	times, err := c.times()
	if err != nil {
		return err
	}
	if c.Slowed {
		if times, err = c.slowed(times); err != nil {
			return err
		}
	}
	format, err := c.format(len(times))
	if err != nil {
		return err
	}
	opt, err := c.look()
	if err != nil {
		return err
	}
	out, err := openFiles(c.names(len(times), format))
	if err != nil {
		return err
	}
	defer out.abandon()
	run, err := c.drive(p, times[len(times)-1])
	if err != nil {
		return err
	}
	opt.Valve = max(0, slices.Index(scene.ValveNames(run.Present()), c.Valve))
	span := view.RangeOf(run, opt.Valve)
	opt.Range = &span
	if err := c.draw(p, run, times, format, opt, out); err != nil {
		if errors.Is(err, errInterrupted) {
			return err
		}
		return fmt.Errorf("the picture could not be made: %w", err)
	}
	if err := out.commit(); err != nil {
		return fmt.Errorf("the picture could not be written: %w", err)
	}
	if n := len(out.names); n > 1 {
		_, err = fmt.Fprintf(p.out, "%d pictures, %s to %s\n", n, out.names[0], out.names[n-1])
	} else {
		_, err = fmt.Fprintf(p.out, "%s\n", out.names[0])
	}
	return err
}

// times are the moments asked for.
func (c *printCmd) times() ([]float64, error) {
	parse := func(flag, text string) (float64, error) {
		t, err := unit.Parse(text, unit.Time)
		if err != nil {
			return 0, bad("%s: found %w", flag, err)
		}
		if !(t >= 0 && t <= longest) {
			return 0, bad("%s: found %q, want 0 s to %s", flag, text, unit.Format(longest, unit.Time))
		}
		return t, nil
	}
	if c.At != "" {
		if c.From+c.To+c.Every != "" {
			return nil, bad("found --at beside --from, --to or --every, want one moment or a sequence")
		}
		t, err := parse("--at", c.At)
		return []float64{t}, err
	}
	if c.From == "" || c.To == "" || c.Every == "" {
		return nil, bad("found no moment, want --at TIME, or --from TIME --to TIME --every TIME")
	}
	from, err := parse("--from", c.From)
	if err != nil {
		return nil, err
	}
	to, err := parse("--to", c.To)
	if err != nil {
		return nil, err
	}
	every, err := parse("--every", c.Every)
	switch {
	case err != nil:
		return nil, err
	case to < from:
		return nil, bad("--to: found %q, want no less than --from, which is %s", c.To, c.From)
	case !(every > 0):
		return nil, bad("--every: found %q, want more than 0 s", c.Every)
	}
	n := math.Floor((to-from)/every + 1e-9)
	if n+1 > mostPictures {
		return nil, bad("--every: found %q, which makes %.0f pictures, want at most %d", c.Every, n+1, mostPictures)
	}
	out := make([]float64, int(n)+1)
	for i := range out {
		out[i] = math.Min(from+every*float64(i), to)
	}
	return out, nil
}

// format is what the name of the output ends in.
func (c *printCmd) format(pictures int) (string, error) {
	format := strings.TrimPrefix(strings.ToLower(filepath.Ext(c.Out)), ".")
	switch format {
	case "png", "svg", "pdf":
	case "gif":
		if c.At != "" {
			return "", bad("--out: found %q for one moment, want .png, .svg or .pdf, or a sequence", c.Out)
		}
		if pictures > mostFrames {
			return "", bad("--every: found %q, which makes %d frames, want at most %d in one .gif", c.Every, pictures, mostFrames)
		}
	default:
		return "", bad("--out: found %q, want a name that ends in .png, .svg, .pdf or .gif", c.Out)
	}
	return format, nil
}

// names of the files: of a sequence they are numbered.
func (c *printCmd) names(pictures int, format string) []string {
	if c.At != "" || format == "gif" {
		return []string{c.Out}
	}
	ext := filepath.Ext(c.Out)
	stem := strings.TrimSuffix(c.Out, ext)
	var out []string
	for i := range pictures {
		out = append(out, fmt.Sprintf("%s-%04d%s", stem, i+1, ext))
	}
	return out
}

// look reads size and units.
func (c *printCmd) look() (view.Options, error) {
	o := view.Options{Projector: c.Projector}
	var w, h int
	if n, err := fmt.Sscanf(c.Size+"!", "%dx%d!", &w, &h); n != 2 || err != nil || w < leastWidth || h < leastHeight || w > largest || h > largest {
		return o, bad("--size: found %q, want width and height such as 1600x900, %dx%d to %dx%d", c.Size, leastWidth, leastHeight, largest, largest)
	}
	o.Size = scene.Point{X: float64(w), Y: float64(h)}
	var err error
	o.Units, err = parseUnits(c.Units)
	return o, err
}

// unitWords are the words of --units; those of one row exclude each other.
var unitWords = [][]string{{"bar", "psi", "kPa"}, {"abs", "gauge"}, {"degC", "degF"}, {"kg/h", "kg/s", "lb/h"}}

// parseUnits reads a list of units.
func parseUnits(list string) (u scene.Units, err error) {
	taken := map[int]string{}
	for word := range strings.SplitSeq(list, ",") {
		word = strings.TrimSpace(word)
		row := slices.IndexFunc(unitWords, func(row []string) bool { return slices.Contains(row, word) })
		if row < 0 {
			return u, bad("--units: found %q, want any of %s", word, strings.Join(slices.Concat(unitWords...), ", "))
		}
		if before, ok := taken[row]; ok {
			return u, bad("--units: found %s beside %s, want one of %s", word, before, strings.Join(unitWords[row], ", "))
		}
		taken[row] = word
		switch word {
		case "psi":
			u.Pressure = scene.PSI
		case "kPa":
			u.Pressure = scene.KPa
		case "gauge":
			u.Gauge = true
		case "degF":
			u.Fahrenheit = true
		case "kg/s":
			u.KilogramsPerSecond = true
		case "lb/h":
			u.PoundsPerHour = true
		}
	}
	return u, nil
}

// drive runs the scenario as far as the last moment.
func (c *printCmd) drive(p *program, until float64) (*live.Run, error) {
	r := runCmd{Scenario: c.Scenario, Set: c.Set, Fault: c.Fault, Do: c.Do, Code: c.Code}
	if until > 0 {
		r.Until = unit.Exact(until, unit.Time)
	}
	sc, _, rtol, err := r.read()
	if err != nil {
		return nil, err
	}
	if err := knownValve(sc, c.Valve); err != nil {
		return nil, err
	}
	sc.Until = until
	run, err := live.Start(sc, live.Options{RelTol: rtol, Keep: keptBlocks})
	if err != nil {
		return nil, cannotStart(sc, err)
	}
	if _, err = p.drive(run); err == nil {
		p.noteEnd(c.Scenario, until)
	}
	return run, err
}

// draw makes the pictures.
func (c *printCmd) draw(p *program, run *live.Run, times []float64, format string, opt view.Options, out *files) error {
	bar := newBar(p.err, p.env.terminal, "drawing", float64(len(times)))
	defer bar.clear()
	at := func(i int) (*scene.Scene, error) {
		if p.ctx.Err() != nil {
			return nil, errInterrupted
		}
		bar.at(float64(i))
		v, err := view.At(run, times[i], opt)
		if err != nil {
			return nil, err
		}
		return scene.Draw(v), nil
	}
	if format == "gif" {
		return out.add(0, func(w io.Writer) error { return writeGIF(w, len(times), at) })
	}
	for i := range times {
		s, err := at(i)
		if err != nil {
			return err
		}
		if err := out.add(i, func(w io.Writer) error { return paper.PaintScene(s, w, format, 1) }); err != nil {
			return err
		}
	}
	return nil
}

// files are written under temporary names beside their own and renamed
// together.
type files struct {
	names     []string
	temporary []string
}

// openFiles looks whether files of these names may be written, and changes
// nothing.
func openFiles(names []string) (*files, error) {
	dir := filepath.Dir(names[0])
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return nil, bad("--out: found no folder %s, want a file in one that is there", dir)
	}
	for _, name := range names {
		if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
			return nil, bad("--out: found %s, which is no plain file, want another name", name)
		}
	}
	return &files{names: names, temporary: make([]string, len(names))}, nil
}

// add writes the i-th file.
func (f *files) add(i int, write func(io.Writer) error) error {
	file, err := os.CreateTemp(filepath.Dir(f.names[i]), ".underdisc-*")
	if err != nil {
		return err
	}
	f.temporary[i] = file.Name()
	return errors.Join(write(file), file.Chmod(0o644), file.Close())
}

// commit gives the files their names.
func (f *files) commit() error {
	for i, name := range f.names {
		if err := os.Rename(f.temporary[i], name); err != nil {
			return err
		}
		f.temporary[i] = ""
	}
	return nil
}

// abandon takes back what has not been given its name.
func (f *files) abandon() {
	for _, name := range f.temporary {
		if name != "" {
			os.Remove(name)
		}
	}
}
