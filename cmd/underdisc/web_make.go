package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/andybalholm/brotli"
)

// make builds the program for the browser into a folder: the program in two
// compressions, what starts it, and what they are.
func (w *workshop) make(ctx context.Context, folder string, progress *webProgress) error {
	raw := filepath.Join(folder, "underdisc.wasm")
	defer os.Remove(raw)
	if err := w.compile(ctx, raw, progress); err != nil {
		return err
	}
	code, err := os.ReadFile(raw)
	if err != nil {
		return err
	}
	progress.packing()
	var packed [2][]byte
	var failed [2]error
	var both sync.WaitGroup
	both.Go(func() { packed[0], failed[0] = pressBrotli(ctx, code, w.quality) })
	both.Go(func() { packed[1], failed[1] = pressGzip(code) })
	both.Wait()
	glue, err := os.ReadFile(w.glue)
	if err := errors.Join(failed[0], failed[1], err); err != nil {
		return err
	}
	about, err := json.Marshal(browserInfo{Go: w.version, Unpacked: len(code), Brotli: len(packed[0]), Gzip: len(packed[1]), Glue: len(glue)})
	if err != nil {
		return err
	}
	for name, data := range map[string][]byte{brotliFile: packed[0], gzipFile: packed[1], glueFile: glue, infoFile: about} {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
			return err
		}
	}
	return ctx.Err()
}

// unhurried are packages that do nothing in a hurry: compiled without inlining,
// the program is a twentieth smaller to fetch.
var unhurried = []string{
	"github.com/ebitenui/...", "github.com/go-text/...", "golang.org/x/...", "github.com/goccy/...", "go/...",
	"underdisc/scenarios/...", "underdisc/viz/words", "underdisc/viz/twin", "underdisc/viz/screen/desk",
	"underdisc/model/explain", "underdisc/model/equilibria", "underdisc/sim/branch", "underdisc/model/fault", "underdisc/model/procedure",
	"underdisc/model/plant", "underdisc/model/unit", "underdisc/viz/view", "underdisc/viz/scene", "underdisc/viz/session",
}

// compile runs the compiler. -v makes it name each package that it comes to.
func (w *workshop) compile(ctx context.Context, into string, progress *webProgress) error {
	progress.compiling(w.packages(ctx, progress))
	args := []string{"build", "-v", "-trimpath", "-buildvcs=false", "-ldflags=-s -w"}
	for _, pkg := range unhurried {
		args = append(args, "-gcflags="+pkg+"=-l")
	}
	cmd := exec.CommandContext(ctx, "go", append(args, "-o", into, w.pkg)...)
	cmd.Dir = w.dir
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	if interruptible { // so that it tidies up behind itself
		cmd.Cancel = func() error { return cmd.Process.Signal(os.Interrupt) }
	}
	cmd.WaitDelay = 5 * time.Second
	errs, err := cmd.StderrPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("the go command does not start: %w", err)
	}
	var said []string // but the names of packages
	lines := bufio.NewScanner(errs)
	for lines.Scan() {
		switch line := lines.Text(); {
		case strings.HasPrefix(line, "go: downloading "):
		case strings.ContainsAny(line, " :"):
			said = append(said, line)
		default:
			progress.compiled()
		}
	}
	if err := cmd.Wait(); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		text := strings.Join(said, " ")
		if len(text) > 600 {
			text = text[:600] + " ..."
		}
		return fmt.Errorf("the picture for the browser does not build (%v): %s; right would be sources that go build ./... takes, and for what they import a module cache or a way to fetch it", err, text)
	}
	return nil
}

// packages is how many packages the program is made of, 0 where nobody is
// looking.
func (w *workshop) packages(ctx context.Context, progress *webProgress) int {
	if !progress.terminal {
		return 0
	}
	cmd := exec.CommandContext(ctx, "go", "list", "-deps", w.pkg)
	cmd.Dir = w.dir
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	out, err := cmd.Output()
	if err != nil { // the build will say so, better
		return 0
	}
	return bytes.Count(out, []byte("\n"))
}

func pressBrotli(ctx context.Context, data []byte, quality int) ([]byte, error) {
	var out bytes.Buffer
	w := brotli.NewWriterOptions(&out, brotli.WriterOptions{Quality: quality, LGWin: 24})
	const piece = 1 << 20 // between which an interruption is heard
	for len(data) > 0 {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		n := min(piece, len(data))
		if _, err := w.Write(data[:n]); err != nil {
			return nil, err
		}
		data = data[n:]
	}
	err := w.Close()
	return out.Bytes(), err
}

func pressGzip(data []byte) ([]byte, error) {
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	err = w.Close()
	return out.Bytes(), err
}
