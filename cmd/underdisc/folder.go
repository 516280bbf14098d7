package main

import (
	"bufio"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// folder is where the results of a run go. It overwrites nothing that the
// program did not write: a file in the folder lists what was written there
// and a digest of each, and a file that it does not list, or that has been
// changed since, is left alone and the run refused.
//
// All files are first written in full under temporary names and then renamed,
// so a program that is killed leaves whole files, old or new.
type folder struct {
	path    string
	made    []string         // folders that did not exist before, outermost first
	known   map[entry]bool   // what the list in the folder says
	pending map[entry]string // files under their temporary names
}

// entry is a file of the program's as it was when it was written.
type entry struct{ digest, name string }

// listName is the file that lists what the program wrote into a folder.
const listName = "written-by-underdisc.txt"

const listHead = "# underdisc wrote these files, and overwrites no others here. SHA-256, name.\n"

// openFolder looks whether results may go to the path, and changes nothing.
// result tells the names that results may have.
func openFolder(path string, result func(name string) bool) (*folder, error) {
	f := &folder{path: filepath.Clean(path), known: map[entry]bool{}, pending: map[entry]string{}}
	files, err := os.ReadDir(f.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return f, f.above()
	case err != nil:
		return nil, bad("--out %s: found %v, want a folder, there already or not", path, reason(err))
	}
	if err := f.readList(); err != nil {
		return nil, err
	}
	for _, file := range files {
		if !result(file.Name()) {
			continue
		}
		if err := f.mine(file.Name()); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// above looks whether the folder could be made: what exists above it must be
// a folder.
func (f *folder) above() error {
	for up := filepath.Dir(f.path); ; up = filepath.Dir(up) {
		info, err := os.Stat(up)
		switch {
		case err == nil && info.IsDir():
			return nil
		case err == nil:
			return bad("--out %s: found the file %s, want a folder there", f.path, up)
		case !errors.Is(err, fs.ErrNotExist):
			return bad("--out %s: found %v, want a folder that can be made", f.path, reason(err))
		case up == filepath.Dir(up):
			return nil
		}
	}
}

// readList reads what the program wrote here before.
func (f *folder) readList() error {
	data, err := os.ReadFile(filepath.Join(f.path, listName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return bad("--out %s: found %v, want a list that can be read", f.path, reason(err))
	}
	text, ok := strings.CutPrefix(string(data), listHead)
	if !ok {
		return bad("--out %s: found a %s that underdisc has not written, want another folder", f.path, listName)
	}
	for line := range strings.Lines(text) {
		if digest, name, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "  "); ok {
			f.known[entry{digest, name}] = true
		}
	}
	return nil
}

// mine returns an error unless the program wrote the file as it stands.
func (f *folder) mine(name string) error {
	digest, err := digestOf(filepath.Join(f.path, name))
	if err != nil {
		return bad("--out %s: found %v in the place of %s, want another folder", f.path, reason(err), name)
	}
	if f.known[entry{digest, name}] {
		return nil
	}
	for e := range f.known {
		if e.name == name {
			return bad("--out %s: found %s changed since underdisc wrote it, want another folder, or that file out of the way", f.path, name)
		}
	}
	return bad("--out %s: found a file %s that underdisc has not written, want another folder", f.path, name)
}

func digestOf(path string) (string, error) {
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	h := sha256.New()
	if _, err := io.Copy(h, file); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// add writes a file under a temporary name.
func (f *folder) add(name string, write func(io.Writer) error) error {
	if err := f.create(); err != nil {
		return err
	}
	file, err := os.CreateTemp(f.path, ".underdisc-*")
	if err != nil {
		return err
	}
	h := sha256.New()
	w := bufio.NewWriterSize(io.MultiWriter(file, h), 1<<16)
	err = errors.Join(write(w), w.Flush(), file.Chmod(0o644), file.Close())
	f.pending[entry{hex.EncodeToString(h.Sum(nil)), name}] = file.Name()
	return err
}

// create makes the folder and those above it.
func (f *folder) create() error {
	for dir := f.path; ; dir = filepath.Dir(dir) {
		if _, err := os.Stat(dir); err == nil || !errors.Is(err, fs.ErrNotExist) {
			break
		}
		f.made = slices.Insert(f.made, 0, dir)
	}
	return os.MkdirAll(f.path, 0o755)
}

// commit gives the files their names. The list is written first with old and
// new files, and in the end with the new ones alone: whenever the program is
// killed, it knows its files again.
func (f *folder) commit() error {
	files := maps.Clone(f.pending)
	both := maps.Clone(f.known)
	for e := range files {
		both[e] = true
	}
	if err := f.writeList(slices.Collect(maps.Keys(both))); err != nil {
		return err
	}
	names := map[string]bool{}
	for e := range files {
		if err := f.rename(e); err != nil {
			return err
		}
		names[e.name] = true
	}
	for e := range f.known { // an earlier run may have left more
		if !names[e.name] && f.mine(e.name) == nil {
			if err := os.Remove(filepath.Join(f.path, e.name)); err != nil {
				return err
			}
		}
	}
	return f.writeList(slices.Collect(maps.Keys(files)))
}

// rename gives a file its name.
func (f *folder) rename(e entry) error {
	if err := os.Rename(f.pending[e], filepath.Join(f.path, e.name)); err != nil {
		return err
	}
	delete(f.pending, e)
	return nil
}

func (f *folder) writeList(files []entry) error {
	slices.SortFunc(files, func(a, b entry) int {
		return cmp.Or(cmp.Compare(a.name, b.name), cmp.Compare(a.digest, b.digest))
	})
	err := f.add(listName, func(w io.Writer) error {
		_, err := io.WriteString(w, listHead)
		for _, e := range files {
			_, more := fmt.Fprintln(w, e.digest+"  "+e.name)
			err = errors.Join(err, more)
		}
		return err
	})
	for e := range f.pending {
		if err == nil && e.name == listName {
			err = f.rename(e)
		}
	}
	return err
}

// abandon takes back what has not been given its name, folders included.
func (f *folder) abandon() {
	for _, temporary := range f.pending {
		os.Remove(temporary)
	}
	clear(f.pending)
	for _, dir := range slices.Backward(f.made) {
		os.Remove(dir) // fails where something lies in it, which is as it should be
	}
}

// reason is the cause of a failure without the path, which the message says
// already.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return fmt.Sprint(err)
}
