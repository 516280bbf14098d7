//go:build !release

package main

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

type releaseCmd struct {
	Out string `required:"" placeholder:"DIR" help:"Folder for the files."`
}

// targets are the systems that a release is made for.
var targets = []string{"windows/amd64", "windows/arm64", "darwin/amd64", "darwin/arm64", "linux/amd64", "linux/arm64"}

// Run makes the program for the browser once, compressed as far as it goes, and
// with it in them the program for each system.
func (c *releaseCmd) Run(p *program) error {
	w, err := newWorkshop(p.ctx)
	if err != nil {
		return err
	}
	w.quality = bestQuality
	cache, err := userCache()
	if err != nil {
		return err
	}
	b, err := w.cached(p.ctx, cache, &webProgress{w: p.err, terminal: p.env.terminal})
	if err != nil {
		return err
	}
	fmt.Fprintf(p.out, "in the browser: %.2f MB with brotli, %.2f MB with gzip, %.1f MB unpacked\n",
		float64(b.info.Brotli)/1e6, float64(b.info.Gzip)/1e6, float64(b.info.Unpacked)/1e6)
	if err := os.MkdirAll(c.Out, 0o755); err != nil {
		return bad("--out: %v; right would be a folder that can be written", err)
	}
	scratch, err := os.MkdirTemp("", "underdisc-release-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(scratch)
	overlay, err := b.overlay(scratch, filepath.Join(w.dir, "cmd", "underdisc", "web"))
	if err != nil {
		return err
	}
	var sums strings.Builder
	for _, target := range targets {
		name, err := w.releaseFor(p.ctx, target, overlay, c.Out)
		if err != nil {
			return err
		}
		data, err := os.ReadFile(filepath.Join(c.Out, name))
		if err != nil {
			return err
		}
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(data), name)
		fmt.Fprintf(p.out, "%s: %.1f MB\n", name, float64(len(data))/1e6)
	}
	return os.WriteFile(filepath.Join(c.Out, "SHA256SUMS"), []byte(sums.String()), 0o644)
}

// overlay writes the build into a folder and returns the path of a file that
// shows it to the compiler as if it lay at another place, so that the sources
// stay as they are.
func (b *browserBuild) overlay(folder, at string) (string, error) {
	about, err := json.Marshal(b.info)
	if err != nil {
		return "", err
	}
	replace := map[string]string{}
	for name, data := range map[string][]byte{brotliFile: b.brotli, gzipFile: b.gzip, glueFile: b.glue, infoFile: about} {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, data, 0o644); err != nil {
			return "", err
		}
		replace[filepath.Join(at, name)] = path
	}
	list, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	path := filepath.Join(folder, "overlay.json")
	return path, os.WriteFile(path, list, 0o644)
}

// releaseFor builds the program for one system and returns the file's name. It
// takes its name only when it is whole.
func (w *workshop) releaseFor(ctx context.Context, target, overlay, out string) (string, error) {
	system, processor, _ := strings.Cut(target, "/")
	name := "underdisc-" + system + "-" + processor
	if system == "windows" {
		name += ".exe"
	}
	out, err := filepath.Abs(out)
	if err != nil {
		return "", err
	}
	partial := filepath.Join(out, "."+name+".partial")
	defer os.Remove(partial)
	cmd := exec.CommandContext(ctx, "go", "build", "-tags", "release", "-overlay", overlay, "-trimpath", "-ldflags=-s -w", "-o", partial, "./cmd/underdisc")
	cmd.Dir = w.dir
	cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH="+processor, "CGO_ENABLED=0")
	if _, err := cmd.Output(); err != nil {
		if ctx.Err() != nil {
			return "", errInterrupted
		}
		return "", fmt.Errorf("the program for %s does not build: %s", target, saidBy(err))
	}
	return name, os.Rename(partial, filepath.Join(out, name))
}
