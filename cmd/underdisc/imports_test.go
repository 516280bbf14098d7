package main_test

import (
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// levels lists the top folders from the lowest to the highest: a package may
// import its own level and those before it.
var levels = []string{"sim", "model", "scenarios", "viz", "cmd"}

// The top level holds these, and beside them only what topOptional lists,
// names that begin with a dot, and what .gitignore keeps out.
var (
	topNeeded   = []string{"sim", "model", "viz", "cmd", "scenarios", "README.md", "DEVELOPERS.md", "go.mod"}
	topOptional = []string{"go.sum", "LICENSE"}
)

// onlyIn names folders outside of which a package must not be imported, tests
// included.
var onlyIn = []struct{ pkg, folder string }{
	{"github.com/hajimehoshi/ebiten", "viz/screen"},
	{"github.com/ebitenui/ebitenui", "viz/screen"},
}

// never names what a folder may reach neither by its own imports nor by those
// of what it imports.
var never = []struct{ folder, pkg string }{
	{"model/explain", "underdisc/model/fault"},
	{"viz/scene", "underdisc/scenarios"},
	{"model", "image"},
	{"model", "golang.org/x/image"},
	{"model", "gonum.org/v1/plot"},
	{"sim", "image"},
	{"sim", "golang.org/x/image"},
	{"sim", "gonum.org/v1/plot"},
}

// foreign are sources that make a build need a C or Fortran compiler.
var foreign = []string{".c", ".cc", ".cpp", ".cxx", ".h", ".hh", ".hpp", ".m", ".f", ".f90", ".swig"}

// source is one Go file.
type source struct {
	name, folder string
	test         bool
	outside      bool // the test of a package from outside, package x_test
	imports      []string
}

// violations lists what in a tree breaks the rules. Folders that the go tool
// does not look into are left out, but that even in testdata no Go file may
// import C.
//
// The test of a package from outside it, package x_test, is no part of the
// package: nothing can import it, and it may import what it likes but for the
// rules on C and on onlyIn; in sim, which has problems of its own to test with,
// the levels hold for it too.
func violations(tree fs.FS) ([]string, error) {
	found, err := topLevel(tree)
	if err != nil {
		return nil, err
	}
	report := func(format string, args ...any) { found = append(found, fmt.Sprintf(format, args...)) }
	var sources []source
	err = fs.WalkDir(tree, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		base := path.Base(name)
		if d.IsDir() {
			if name != "." && (strings.HasPrefix(base, ".") || strings.HasPrefix(base, "_")) {
				return fs.SkipDir
			}
			return nil
		}
		if slices.Contains(strings.Split(name, "/"), "testdata") {
			if s, err := read(tree, name); err == nil && slices.Contains(s.imports, "C") {
				report("%s: imports C", name)
			}
			return nil
		}
		if slices.Contains(foreign, path.Ext(name)) {
			report("%s: C and the like belong in a testdata folder", name)
		}
		if path.Ext(name) != ".go" {
			return nil
		}
		s, err := read(tree, name)
		sources = append(sources, s)
		return err
	})
	if err != nil {
		return nil, err
	}
	graph := map[string]map[string]bool{} // of package paths, tests left out
	for _, s := range sources {
		for _, i := range s.imports {
			s.check(i, report)
			if !s.test {
				self := path.Join("underdisc", s.folder)
				if graph[self] == nil {
					graph[self] = map[string]bool{}
				}
				graph[self][i] = true
			}
		}
	}
	for _, self := range slices.Sorted(maps.Keys(graph)) {
		for _, rule := range never {
			if !under(self, "underdisc/"+rule.folder) {
				continue
			}
			if way := reaches(graph, self, rule.pkg, map[string]bool{}); way != nil {
				report("%s: must not reach %s, but does: %s", strings.TrimPrefix(self, "underdisc/"), rule.pkg, strings.Join(way, " -> "))
			}
		}
	}
	return found, nil
}

func topLevel(tree fs.FS) (found []string, err error) {
	entries, err := fs.ReadDir(tree, ".")
	if err != nil {
		return nil, err
	}
	ignore, _ := fs.ReadFile(tree, ".gitignore") // a tree may do without
	have := map[string]bool{}
	for _, e := range entries {
		name := e.Name()
		have[name] = true
		known := strings.HasPrefix(name, ".") || slices.Contains(topNeeded, name) || slices.Contains(topOptional, name)
		for _, pattern := range strings.Fields(string(ignore)) {
			match, _ := path.Match(strings.Trim(pattern, "/"), name)
			known = known || match
		}
		if !known {
			found = append(found, name+": does not belong at the top level")
		}
	}
	for _, name := range topNeeded {
		if !have[name] {
			found = append(found, name+": missing from the top level")
		}
	}
	return found, nil
}

func read(tree fs.FS, name string) (source, error) {
	s := source{name: name, folder: path.Dir(name), test: strings.HasSuffix(name, "_test.go")}
	text, err := fs.ReadFile(tree, name)
	if err != nil {
		return s, err
	}
	file, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ImportsOnly)
	if err != nil {
		return s, err
	}
	s.outside = s.test && strings.HasSuffix(file.Name.Name, "_test")
	for _, i := range file.Imports {
		p, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			return s, err
		}
		s.imports = append(s.imports, p)
	}
	return s, nil
}

// check looks at one import of a file.
func (s *source) check(pkg string, report func(string, ...any)) {
	if pkg == "C" {
		report("%s: imports C", s.name)
	}
	for _, rule := range onlyIn {
		if under(pkg, rule.pkg) && !under(s.folder, rule.folder) {
			report("%s: only %s may import %s", s.name, rule.folder, pkg)
		}
	}
	own, is := strings.CutPrefix(pkg, "underdisc/")
	if !is {
		return
	}
	from, to := level(s.folder), level(own)
	if from < 0 || to < 0 {
		report("%s: imports %s across folders that have no level", s.name, pkg)
	} else if to > from && (!s.outside || from == 0) {
		report("%s: imports %s, which is above %s", s.name, pkg, levels[from])
	}
}

func level(folder string) int {
	top, _, _ := strings.Cut(folder, "/")
	return slices.Index(levels, top)
}

// under tells whether a path is root or lies below it.
func under(p, root string) bool { return p == root || strings.HasPrefix(p, root+"/") }

// reaches is a way from a package to one at or below target, nil if there is
// none.
func reaches(graph map[string]map[string]bool, from, target string, seen map[string]bool) []string {
	seen[from] = true
	for _, next := range slices.Sorted(maps.Keys(graph[from])) {
		if under(next, target) {
			return []string{from, next}
		}
		if !seen[next] {
			if way := reaches(graph, next, target, seen); way != nil {
				return append([]string{from}, way...)
			}
		}
	}
	return nil
}

// TestImports holds the whole tree against the rules.
func TestImports(t *testing.T) {
	tree := os.DirFS("../..")
	found, err := violations(tree)
	require.NoError(t, err)
	assert.Empty(t, found, "see DEVELOPERS.md, \"The tree\"")

	// It has looked at the tree, and not past it.
	files := 0
	for _, top := range levels {
		require.NoError(t, fs.WalkDir(tree, top, func(name string, _ fs.DirEntry, err error) error {
			if path.Ext(name) == ".go" {
				files++
			}
			return err
		}))
	}
	assert.Greater(t, files, 50)
}

// sound is a small tree that keeps every rule.
func sound() fstest.MapFS {
	tree := fstest.MapFS{}
	for name, text := range map[string]string{
		"README.md": "", "DEVELOPERS.md": "", "go.mod": "module underdisc", "go.sum": "", "LICENSE": "",
		".gitignore":                     "cover.out\n*.prof\n/underdisc\n/underdisc-out/\n",
		".ci/run":                        "",
		"underdisc-out/trace.csv":        "",
		"cpu.prof":                       "",
		"sim/run.go":                     "package sim\nimport (\"math\"; \"underdisc/sim/method\")",
		"sim/method/lu.go":               "package method",
		"model/plant/plant.go":           "package plant\nimport \"underdisc/sim\"",
		"model/plant/plant_test.go":      "package plant_test\nimport \"underdisc/scenarios/live\"",
		"model/plant/testdata/bench.c":   "int main(void) { return 0; }",
		"model/plant/testdata/broken.go": "pakage broken",
		"model/explain/facts.go":         "package explain\nimport \"underdisc/model/plant\"",
		"model/explain/facts_test.go":    "package explain_test\nimport \"underdisc/model/fault\"",
		"model/fault/fault.go":           "package fault\nimport \"underdisc/model/plant\"",
		"scenarios/load.go":              "package scenarios\nimport \"underdisc/model/fault\"",
		"scenarios/live/live.go":         "package live\nimport (\"underdisc/scenarios\"; \"underdisc/sim\")",
		"viz/words/words.go":             "package words\nimport \"underdisc/model/explain\"",
		"viz/scene/scene.go":             "package scene\nimport (\"image/color\"; \"underdisc/viz/words\")",
		"viz/screen/screen.go":           "package screen\nimport (\"github.com/hajimehoshi/ebiten/v2\"; \"github.com/ebitenui/ebitenui/widget\"; \"underdisc/viz/scene\")",
		"viz/report/report.go":           "package report\nimport \"underdisc/scenarios/live\"",
		"cmd/underdisc/main.go":          "package main\nimport (\"underdisc/viz/screen\"; \"underdisc/scenarios\")",
	} {
		tree[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return tree
}

// TestImportsBite: the rules report nothing in a sound tree, and each breach of
// one, put into that tree alone, is reported.
func TestImportsBite(t *testing.T) {
	found, err := violations(sound())
	require.NoError(t, err)
	require.Empty(t, found)

	for _, c := range []struct{ name, file, text, want string }{
		{"model looks at viz", "model/plant/x.go", "package plant\nimport \"underdisc/viz/words\"", "model/plant/x.go: imports underdisc/viz/words, which is above model"},
		{"model looks at scenarios", "model/plant/x.go", "package plant\nimport \"underdisc/scenarios\"", "imports underdisc/scenarios, which is above model"},
		{"a test inside a package too", "model/plant/x_test.go", "package plant\nimport \"underdisc/scenarios\"", "model/plant/x_test.go: imports underdisc/scenarios, which is above model"},
		{"sim looks at model", "sim/x.go", "package sim\nimport \"underdisc/model/plant\"", "sim/x.go: imports underdisc/model/plant, which is above sim"},
		{"sim's tests from outside too", "sim/x_test.go", "package sim_test\nimport \"underdisc/model/plant\"", "sim/x_test.go: imports underdisc/model/plant, which is above sim"},
		{"scenarios look at viz", "scenarios/x.go", "package scenarios\nimport \"underdisc/viz/words\"", "which is above scenarios"},
		{"viz looks at cmd", "viz/words/x.go", "package words\nimport \"underdisc/cmd/underdisc\"", "which is above viz"},
		{"the game library outside the screen", "viz/paper/x.go", "package paper\nimport \"github.com/hajimehoshi/ebiten/v2/vector\"", "viz/paper/x.go: only viz/screen may import github.com/hajimehoshi/ebiten/v2/vector"},
		{"in a test as well", "viz/paper/x_test.go", "package paper_test\nimport \"github.com/hajimehoshi/ebiten/v2\"", "only viz/screen may import"},
		{"in a folder of a like name", "viz/screens/x.go", "package screens\nimport \"github.com/hajimehoshi/ebiten/v2\"", "only viz/screen may import"},
		{"the widgets outside the screen", "cmd/underdisc/x.go", "package main\nimport \"github.com/ebitenui/ebitenui\"", "only viz/screen may import github.com/ebitenui/ebitenui"},
		{"explain knows a fault", "model/explain/x.go", "package explain\nimport \"underdisc/model/fault\"", "model/explain: must not reach underdisc/model/fault"},
		{"the scene knows scenarios", "viz/scene/x.go", "package scene\nimport \"underdisc/scenarios/live\"", "viz/scene: must not reach underdisc/scenarios"},
		{"the scene knows them by way of another", "viz/scene/x.go", "package scene\nimport \"underdisc/viz/report\"", "viz/scene -> underdisc/viz/report -> underdisc/scenarios/live"},
		{"model plots", "model/plant/x.go", "package plant\nimport \"gonum.org/v1/plot/vg\"", "model/plant: must not reach gonum.org/v1/plot"},
		{"model paints", "model/fault/x.go", "package fault\nimport \"image/color\"", "model/fault: must not reach image"},
		{"sim paints", "sim/method/x.go", "package method\nimport \"golang.org/x/image/font\"", "sim/method: must not reach golang.org/x/image"},
		{"cgo", "viz/paper/x.go", "package paper\nimport \"C\"", "viz/paper/x.go: imports C"},
		{"cgo in testdata", "viz/paper/testdata/x.go", "package x\nimport \"C\"", "viz/paper/testdata/x.go: imports C"},
		{"C beside Go", "model/plant/bench.c", "", "model/plant/bench.c: C and the like belong in a testdata folder"},
		{"a header alone", "viz/bench.h", "", "viz/bench.h: C and the like"},
		{"a file at the top", "notes.txt", "", "notes.txt: does not belong at the top level"},
		{"a folder at the top", "tools/x.go", "package tools", "tools: does not belong at the top level"},
		{"a package without a level", "model/plant/x.go", "package plant\nimport \"underdisc/tools\"", "imports underdisc/tools across folders that have no level"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tree := sound()
			tree[c.file] = &fstest.MapFile{Data: []byte(c.text)}
			found, err := violations(tree)
			require.NoError(t, err)
			assert.True(t, slices.ContainsFunc(found, func(f string) bool { return strings.Contains(f, c.want) }),
				"reported is %q, not %q", found, c.want)
		})
	}
	for _, name := range topNeeded {
		t.Run("without "+name, func(t *testing.T) {
			tree := sound()
			maps.DeleteFunc(tree, func(n string, _ *fstest.MapFile) bool { return n == name || strings.HasPrefix(n, name+"/") })
			found, err := violations(tree)
			require.NoError(t, err)
			assert.Equal(t, []string{name + ": missing from the top level"}, found)
		})
	}
	t.Run("a file that is no Go", func(t *testing.T) {
		tree := sound()
		tree["sim/x.go"] = &fstest.MapFile{Data: []byte("pakage sim")}
		_, err := violations(tree)
		assert.ErrorContains(t, err, "sim/x.go")
	})
}
