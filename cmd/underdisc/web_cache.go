package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// userCache is the folder of the browser builds.
func userCache() (string, error) {
	dir, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("there is no folder to keep the picture for the browser in: %w; right would be a home folder", err)
	}
	return filepath.Join(dir, "underdisc", "browser"), nil
}

const (
	makingPrefix = "making-"     // before the name of a build that is not whole yet
	makingLasts  = 2 * time.Hour // no build takes that long: one that old was killed
	buildsKept   = 4             // of different sources
)

// cached is the build of these sources, made if it is not there yet.
//
// It is made under a name of its own and renamed when whole: who starts
// meanwhile makes another, who comes second takes the first one's, and a build
// that is broken off is never found. A damaged one is made again.
func (w *workshop) cached(ctx context.Context, cache string, progress *webProgress) (*browserBuild, error) {
	key, err := w.key()
	if err != nil {
		return nil, err
	}
	place := filepath.Join(cache, key)
	if b, err := readBuild(os.DirFS(place)); err == nil {
		now := time.Now()
		_ = os.Chtimes(place, now, now) // it has been used: what matters is only which are the oldest
		return b, nil
	}
	if err := os.RemoveAll(place); err != nil { // not there, or damaged
		return nil, fmt.Errorf("a damaged build cannot be removed: %w", err)
	}
	if err := os.MkdirAll(cache, 0o755); err != nil {
		return nil, fmt.Errorf("the picture for the browser has no place: %w; right would be a folder that can be written", err)
	}
	tidy(cache)
	making, err := os.MkdirTemp(cache, makingPrefix)
	if err != nil {
		return nil, fmt.Errorf("the picture for the browser has no place: %w; right would be a folder that can be written", err)
	}
	defer os.RemoveAll(making)
	err = w.make(ctx, making, progress)
	progress.clear()
	if err != nil {
		if ctx.Err() != nil {
			return nil, errInterrupted
		}
		return nil, err
	}
	b, err := readBuild(os.DirFS(making))
	if err != nil {
		return nil, err
	}
	if after, err := w.key(); err != nil || after != key {
		return b, err // the sources have changed meanwhile: it is good for now, and not to be found again
	}
	if err := os.Rename(making, place); err != nil {
		if _, err := readBuild(os.DirFS(place)); err != nil { // nobody was faster, so that was not why
			return nil, fmt.Errorf("the picture for the browser cannot be kept: %w", err)
		}
	}
	return b, nil
}

// tidy removes what killed builds have left, and all but the latest builds.
// What cannot be removed stays.
func tidy(cache string) {
	entries, err := os.ReadDir(cache)
	if err != nil {
		return
	}
	type build struct {
		path string
		used time.Time
	}
	var builds []build
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || !e.IsDir() {
			continue
		}
		path := filepath.Join(cache, e.Name())
		if !strings.HasPrefix(e.Name(), makingPrefix) {
			builds = append(builds, build{path, info.ModTime()})
		} else if time.Since(info.ModTime()) > makingLasts {
			_ = os.RemoveAll(path)
		}
	}
	slices.SortFunc(builds, func(a, b build) int { return b.used.Compare(a.used) })
	for i, b := range builds {
		if i >= buildsKept-1 { // one is about to come
			_ = os.RemoveAll(b.path)
		}
	}
}
