package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

type hideCmd struct {
	Scenario string   `arg:"" name:"NAME|FILE" help:"A built-in scenario (underdisc list), or the path of a file. Faults that it has are hidden, too."`
	Set      []string `sep:"none" placeholder:"PATH=VALUE" help:"Give a parameter another value from the start; it can be read in the file. Repeatable."`
	Fault    []string `sep:"none" placeholder:"NAME[=SEVERITY][@TIME]" help:"A fault to hide, such as pilot-leaks=6mm2@2s. Repeatable."`
	Code     string   `required:"" placeholder:"WORD" help:"The word that reveals it."`
	Name     string   `default:"drill" placeholder:"NAME" help:"Name of the new scenario (${default})."`
	Title    string   `default:"Find what is wrong with this valve" placeholder:"TEXT" help:"Its title (${default})."`
	Out      string   `placeholder:"FILE" help:"Where to, such as drill.yaml; a file of that name must not be there yet. If left out, it is printed."`
}

// Help says what hiding does.
func (hideCmd) Help() string {
	return `The new file holds the whole plant, and the faults in a form that a reader does not see through; the program itself does, so it is no secret. Until the word or the right answer reveals them, run, print and the picture say only what a person at the plant reads, hears or feels. Title, description and what must be seen are left out of the new file, as they would tell.`
}

// Run writes the scenario anew.
func (c *hideCmd) Run(p *program) error {
	sc, err := c.read()
	if err != nil {
		return err
	}
	text := "# Something is hidden in this scenario. The word that it was hidden with reveals\n# it: underdisc run FILE --code WORD\n" + sc.Text()
	if again, err := scenarios.Parse(c.Name+".yaml", []byte(text), nil); err != nil {
		return badInput{err}
	} else if _, err := live.Start(again, live.Options{RelTol: 1e-6, Bare: true}); err != nil {
		return badInput{err}
	}
	if c.Out == "" {
		_, err := io.WriteString(p.out, text)
		return err
	}
	if _, err := os.Lstat(c.Out); err == nil {
		return bad("--out: found %s, which is there already, want a new name", c.Out)
	}
	out, err := openFiles([]string{c.Out})
	if err != nil {
		return err
	}
	defer out.abandon()
	err = out.add(0, func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	})
	if err == nil {
		err = out.commit()
	}
	if err != nil {
		return fmt.Errorf("the scenario could not be written: %w", err)
	}
	_, err = fmt.Fprintf(p.out, "%s\n", c.Out)
	return err
}

// read makes the scenario of the arguments. Whoever hides knows the faults, so
// what is wrong with them is said.
func (c *hideCmd) read() (*scenarios.Scenario, error) {
	if strings.TrimSpace(c.Code) == "" {
		return nil, bad("--code: found %q, want a word", c.Code)
	}
	sc, _, _, err := (&runCmd{Scenario: c.Scenario, Set: c.Set, Fault: c.Fault}).read()
	if err != nil {
		return nil, err
	}
	if len(sc.Faults) == 0 {
		return nil, bad("found no fault to hide, want one at least, such as --fault pilot-leaks")
	}
	if err := fault.Conflicts(sc.Plant, sc.Faults); err != nil {
		return nil, badInput{err}
	}
	if _, err := sc.Stages(); err != nil {
		return nil, badInput{err}
	}
	if err := sc.Hide(c.Code, sc.Faults...); err != nil {
		return nil, badInput{err}
	}
	sc.Faults = nil
	sc.Name, sc.Title, sc.About = c.Name, c.Title, ""
	return sc, nil
}
