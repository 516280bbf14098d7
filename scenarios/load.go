package scenarios

import (
	"embed"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"

	"underdisc/model/plant"
)

//go:embed *.yaml
var embedded embed.FS

// builtIn stands before the name of an embedded file in messages, so that a
// copy of it on disk is another file.
const builtIn = "built-in/"

// Names lists the embedded scenarios, sorted.
func Names() []string {
	entries, err := embedded.ReadDir(".")
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".yaml"))
	}
	slices.Sort(names) // the folder sorts with the ending, which puts a-b before a
	return names
}

// Sample is Names without most of the faults of the boiler's plant and of its
// safety valves: what a look at every kind of scenario takes.
func Sample() []string {
	return slices.DeleteFunc(Names(), func(name string) bool {
		if strings.HasPrefix(name, "safety-") {
			return !slices.Contains([]string{"safety-lifts", "safety-seat-debris", "safety-hand-lift-not-told"}, name)
		}
		return strings.HasPrefix(name, "plant-") && name > "plant-bleed-plugged" && name != "plant-water-in-tailpipe"
	})
}

// Load reads the embedded scenario of that name, or else the file at that
// path. The error is an *Error.
func Load(nameOrPath string) (*Scenario, error) {
	file, data, err := openEmbedded(nameOrPath)
	if err != nil {
		if file, data, err = openFile(nameOrPath); err != nil {
			found := "a file that cannot be read (" + reason(err) + ")"
			want := "the path of a scenario file"
			if errors.Is(err, fs.ErrNotExist) {
				found = "no scenario and no file of that name"
				want = wantScenario(nameOrPath) + ", or the path of a scenario file"
			}
			return nil, &Error{File: nameOrPath, Found: found, Want: want, Err: err}
		}
	}
	return Parse(file, data, open)
}

// open finds what a file includes.
func open(name string) (string, []byte, error) {
	if isPath(name) {
		return openFile(name)
	}
	return openEmbedded(name)
}

func openEmbedded(name string) (string, []byte, error) {
	data, err := embedded.ReadFile(path.Join(".", name+".yaml"))
	return builtIn + name + ".yaml", data, err
}

// openFile reads a file up to just past the limit, which Parse then reports.
func openFile(name string) (string, []byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return name, nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxLogBytes+1))
	return name, data, err
}

// Set returns a plant with parameters changed, each by an assignment such as
// "valve.bleed.area=6 mm2". The plant that they lead to together must be a
// sound one. The error is an *Error without a place.
func Set(p *plant.Plant, assignments ...string) (*plant.Plant, error) {
	out := p
	for _, assignment := range assignments {
		name, text, ok := strings.Cut(assignment, "=")
		name, text = strings.TrimSpace(name), strings.TrimSpace(text)
		if !ok || name == "" || text == "" {
			return nil, &Error{Found: quote(assignment), Want: "path=value, such as valve.bleed.area=6mm2"}
		}
		prm, err := out.Get(name)
		if err != nil {
			return nil, place{}.explain("", name, err)
		}
		val, err := (&node{text: text}).value(name, prm)
		if err != nil {
			return nil, err
		}
		if out, err = out.With(name, val); err != nil {
			return nil, place{}.explain(name, text, err)
		}
	}
	if issues := out.Check(); len(issues) > 0 {
		return nil, &Error{Key: issues[0].Path, Found: issues[0].Found, Want: issues[0].Want}
	}
	return out, nil
}
