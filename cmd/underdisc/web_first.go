//go:build !release

package main

import (
	"context"
	"io"
)

// theBuild is the program for the browser, made on first use.
func theBuild(ctx context.Context, progress io.Writer, terminal bool) (*browserBuild, error) {
	w, err := newWorkshop(ctx)
	if err != nil {
		return nil, err
	}
	cache, err := userCache()
	if err != nil {
		return nil, err
	}
	return w.cached(ctx, cache, &webProgress{w: progress, terminal: terminal})
}

// makersGrammar is what only whoever has the sources can do.
type makersGrammar struct {
	Release releaseCmd `cmd:"" help:"Make the files of a release."`
}
