package scenarios

import (
	"fmt"
	"path/filepath"
	"strings"
)

// maxIncludes is how many files may stand behind each other.
const maxIncludes = 8

// opener finds the file behind a name; see Parse.
type opener func(name string) (file string, data []byte, err error)

// ownKeys say something of one file alone and are not taken from a base: what
// a base is called, and what its run shows, does not hold for what is built
// on it.
var ownKeys = []string{"name", "title", "about", "shows", "include"}

// readFile parses a file and lays it over what it includes. It returns the
// merged keys and the files, outermost first. above are the files that led
// here.
func readFile(file string, data []byte, open opener, above []string) (*node, []string, error) {
	root, err := parseSource(file, data)
	if err != nil {
		return nil, nil, err
	}
	if root.kind != mapping {
		return nil, nil, root.at.wrong("", root.describe(), "a scenario: keys such as name, title, until, plant")
	}
	inc, ok := root.entry["include"]
	if !ok {
		return root, []string{file}, nil
	}
	base, files, err := readBase(inc, open, append(above, file))
	if err != nil {
		return nil, nil, err
	}
	if log, ok := base.entry["log"]; ok {
		return nil, nil, inc.at.wrong("include", fmt.Sprintf("%s, which is the log of a run (%s:%d)", quote(inc.text), log.keyAt.file, log.keyAt.line), "a scenario")
	}
	for _, key := range ownKeys {
		base.drop(key)
	}
	merged, err := merge(base, root, "")
	if err != nil {
		return nil, nil, err
	}
	return merged, append([]string{file}, files...), nil
}

// readBase reads the file that an include names. files are those from the
// outermost down to the one with the include.
func readBase(inc *node, open opener, files []string) (*node, []string, error) {
	const want = "the name of a scenario, such as gas-bench, or the path of a file, such as ./base.yaml"
	if inc.kind != scalar || inc.text == "" {
		return nil, nil, inc.at.wrong("include", inc.describe(), want)
	}
	if len(files) >= maxIncludes {
		return nil, nil, inc.at.wrong("include", fmt.Sprintf("more than %d files that include each other", maxIncludes), "a shorter chain")
	}
	if open == nil {
		return nil, nil, inc.at.wrong("include", quote(inc.text), "no include: there is nowhere to look for it")
	}
	name := inc.text
	if isPath(name) && !filepath.IsAbs(name) {
		name = filepath.Join(filepath.Dir(inc.at.file), name)
	}
	file, data, err := open(name)
	if err != nil {
		found := quote(inc.text) + ", which cannot be read"
		if !isPath(name) {
			want := wantScenario(name) + ", or the path of a file, such as ./base.yaml"
			return nil, nil, causedBy(inc.at.wrong("include", found, want), err)
		}
		return nil, nil, causedBy(inc.at.wrong("include", found+" ("+reason(err)+")", "the path of a scenario file"), err)
	}
	for _, f := range files {
		if f == file {
			return nil, nil, inc.at.wrong("include", quote(inc.text)+", which leads back to "+file, "files that do not include each other in a circle")
		}
	}
	return readFile(file, data, open, files)
}

// isPath tells a path of a file from the name of an embedded scenario.
func isPath(name string) bool {
	return strings.ContainsAny(name, `/\`) || strings.HasSuffix(name, ".yaml") || strings.HasSuffix(name, ".yml")
}

// merge lays the keys of a file over those of its base. Groups of keys are
// merged key by key; any other value, a list too, takes the place of the
// base's. Every value keeps the place it was written at.
func merge(base, over *node, path string) (*node, error) {
	if base.kind != mapping || over.kind != mapping {
		return over, nil
	}
	out := &node{kind: mapping, at: over.at, keyAt: over.keyAt, entry: map[string]*node{}}
	for _, key := range base.keys {
		out.keys = append(out.keys, key)
		out.entry[key] = base.entry[key]
	}
	for _, key := range over.keys {
		old, ok := out.entry[key]
		if !ok {
			out.keys = append(out.keys, key)
			out.entry[key] = over.entry[key]
			continue
		}
		sub := join(path, key)
		if err := sameKind(old, over.entry[key], sub); err != nil {
			return nil, err
		}
		merged, err := merge(old, over.entry[key], sub)
		if err != nil {
			return nil, err
		}
		out.entry[key] = merged
	}
	return out, nil
}

// sameKind refuses a part that is of another kind than in the base: it would
// keep keys of both.
func sameKind(old, now *node, path string) error {
	group, key, ok := cutLast(path)
	if !ok || key != "kind" || strings.Count(group, ".") != 1 || !strings.HasPrefix(group, "plant.") {
		return nil
	}
	if old.kind == scalar && now.kind == scalar && old.text != now.text {
		found := fmt.Sprintf("%s, but the base says %s (%s:%d)", quote(now.text), old.text, old.at.file, old.at.line)
		return now.at.wrong(strings.TrimPrefix(path, "plant."), found, old.text+", or another name for a new part")
	}
	return nil
}

// drop takes a key out of a mapping.
func (n *node) drop(key string) {
	if _, ok := n.entry[key]; !ok {
		return
	}
	delete(n.entry, key)
	for i, k := range n.keys {
		if k == key {
			n.keys = append(n.keys[:i:i], n.keys[i+1:]...)
			return
		}
	}
}

// join appends a key to a path.
func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// cutLast splits a path before its last key.
func cutLast(path string) (group, key string, ok bool) {
	i := strings.LastIndexByte(path, '.')
	if i < 0 {
		return "", path, false
	}
	return path[:i], path[i+1:], true
}
