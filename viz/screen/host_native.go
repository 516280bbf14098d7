//go:build !js

package screen

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// Native is the host of a window: files in a folder, words in the terminal.
type Native struct {
	Folder string    // files are saved here; empty: the working folder
	Words  io.Writer // for the text twin and what is said; nil: none
	said   string
	saved  string // path
}

// Twin implements Host.
func (n *Native) Twin(text string) {
	if n.Words != nil && text != n.said {
		n.said = text
		fmt.Fprintf(n.Words, "\n%s\n", text)
	}
}

// Status implements Host.
func (n *Native) Status(line string) {
	if n.Words != nil {
		fmt.Fprintf(n.Words, "> %s\n", line)
	}
}

// Save implements Host. A file that is there already keeps its content: the new
// one gets the time behind its name.
func (n *Native) Save(name string, data []byte) error {
	path := filepath.Join(n.Folder, filepath.Base(name))
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		end := filepath.Ext(path)
		path = path[:len(path)-len(end)] + time.Now().Format("-20060102-150405") + end
		f, err = os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	}
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	n.saved = path
	return errors.Join(err, f.Close())
}

// Saved is the path of what was saved last.
func (n *Native) Saved() string { return n.saved }

// Open implements Host: there is nobody to ask but the picture itself, which
// lists what Found finds.
func (n *Native) Open(func(name string, data []byte)) {}

// Found are the files in the folder that may be runs or scenarios, the newest
// first.
func (n *Native) Found() []string {
	paths, err := filepath.Glob(filepath.Join(n.Folder, "*.yaml"))
	if err != nil {
		return nil
	}
	when := map[string]time.Time{}
	for _, p := range paths {
		if info, err := os.Stat(p); err == nil && info.Mode().IsRegular() {
			when[filepath.Base(p)] = info.ModTime()
		}
	}
	return slices.SortedFunc(maps.Keys(when), func(a, b string) int {
		return cmp.Or(when[b].Compare(when[a]), cmp.Compare(a, b))
	})
}

// Take reads one of them.
func (n *Native) Take(name string) ([]byte, error) {
	return os.ReadFile(filepath.Join(n.Folder, filepath.Base(name)))
}

// Keep implements Host: the log of a run is a file anyway.
func (n *Native) Keep(string, []byte) error { return nil }

// Kept implements Host.
func (n *Native) Kept() (string, []byte, bool) { return "", nil, false }

// Ticked implements Host.
func (n *Native) Ticked(int, string) {}
