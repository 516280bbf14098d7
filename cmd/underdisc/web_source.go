package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

// workshop is where the browser's build is made: the sources of the program and
// the Go that is at hand.
type workshop struct {
	dir     string // root of the sources
	pkg     string // what is built, as a path below it
	version string // of Go
	glue    string // path of wasm_exec.js, which belongs to that Go
	quality int    // of the brotli compression, 0 to 11
}

// browserPackage is the program for the browser.
const browserPackage = "./cmd/underdisc-web"

// What is compressed once for one machine, and what for everyone who fetches a
// release: the second takes a minute and saves an eighth.
const (
	quickQuality = 7
	bestQuality  = 11
)

// newWorkshop finds the sources and Go.
func newWorkshop(ctx context.Context) (*workshop, error) {
	if _, err := exec.LookPath("go"); err != nil {
		return nil, errors.New("the picture for the browser is built on first use, and for that the go command is needed: found none on the PATH; " +
			"right would be Go 1.26 or later, or a release of underdisc, which has the picture within itself")
	}
	dir, err := sources(ctx)
	if err != nil {
		return nil, err
	}
	w := &workshop{dir: dir, pkg: browserPackage, quality: quickQuality}
	return w, w.useGo(ctx)
}

// sources is the root of the program's sources: where this program was compiled
// from, or else the module that the current folder is in.
func sources(ctx context.Context) (string, error) {
	_, file, _, _ := runtime.Caller(0)
	if root := filepath.Dir(filepath.Dir(filepath.Dir(file))); filepath.IsAbs(file) && isOurs(root) {
		return root, nil
	}
	out, err := exec.CommandContext(ctx, "go", "list", "-m", "-f", "{{.Dir}}", "underdisc").Output()
	if root := strings.TrimSpace(string(out)); err == nil && isOurs(root) {
		return root, nil
	}
	return "", errors.New("the picture for the browser is built on first use, and for that the sources of underdisc are needed: they are neither where this program was compiled nor here; " +
		"right would be to start it in the folder of the sources, or a release of underdisc, which has the picture within itself")
}

// isOurs tells whether a folder holds the sources.
func isOurs(root string) bool {
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil || !bytes.HasPrefix(mod, []byte("module underdisc\n")) {
		return false
	}
	info, err := os.Stat(filepath.Join(root, filepath.FromSlash(browserPackage)))
	return err == nil && info.IsDir()
}

// useGo asks the Go that the sources call for what it is.
func (w *workshop) useGo(ctx context.Context) error {
	cmd := exec.CommandContext(ctx, "go", "env", "-json", "GOROOT", "GOVERSION")
	cmd.Dir = w.dir
	out, err := cmd.Output()
	var env struct{ GOROOT, GOVERSION string }
	if err == nil {
		err = json.Unmarshal(out, &env)
	}
	if err != nil {
		return fmt.Errorf("the go command does not say which Go it is: %s; right would be Go 1.26 or later", saidBy(err))
	}
	w.version = env.GOVERSION
	w.glue = filepath.Join(env.GOROOT, "lib", "wasm", glueFile)
	if _, err := os.Stat(w.glue); err != nil {
		return fmt.Errorf("the Go at hand, %s, lacks what a browser needs to start a program: found no %s; right would be a complete Go 1.26 or later", w.version, w.glue)
	}
	return nil
}

// saidBy is what a command has said about why it failed.
func saidBy(err error) string {
	var exit *exec.ExitError
	if errors.As(err, &exit) && len(bytes.TrimSpace(exit.Stderr)) > 0 {
		return string(bytes.TrimSpace(exit.Stderr))
	}
	return err.Error()
}

// makerVersion is part of every key: it changes when the way of building does.
const makerVersion = "1"

// key names the build that these sources and this Go make. Everything that the
// program for the browser can be made of counts: a file too many costs one
// build too many, one too few would show an old picture.
func (w *workshop) key() (string, error) {
	h := sha256.New()
	fmt.Fprintf(h, "%s %s %s %d\n", makerVersion, w.version, w.pkg, w.quality)
	err := filepath.WalkDir(w.dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if path != w.dir && (strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_") || name == "testdata") {
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		rel, err := filepath.Rel(w.dir, path)
		if err != nil {
			return err
		}
		top, below, _ := strings.Cut(filepath.ToSlash(rel), "/")
		switch {
		case d.IsDir():
			if path != w.dir && !sourceFolder(top) {
				return fs.SkipDir
			}
			return nil
		case strings.HasSuffix(name, "_test.go"), below == "" && name != "go.mod" && name != "go.sum", !d.Type().IsRegular():
			return nil
		case top == "cmd" && !strings.HasPrefix(below, "underdisc-web/"):
			return nil
		}
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		one := sha256.New()
		if _, err := io.Copy(one, f); err != nil {
			return err
		}
		fmt.Fprintf(h, "%q %x\n", filepath.ToSlash(rel), one.Sum(nil))
		return nil
	})
	if err != nil {
		return "", fmt.Errorf("the sources cannot be read: %w", err)
	}
	return hex.EncodeToString(h.Sum(nil))[:32], nil
}

// sourceFolder tells whether a folder at the top holds sources.
func sourceFolder(top string) bool {
	switch top {
	case "sim", "model", "scenarios", "viz", "cmd":
		return true
	}
	return false
}
