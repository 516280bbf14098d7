//go:build release

package main

import (
	"context"
	"embed"
	"io"
	"io/fs"
)

// A release has its browser build within itself. The folder is there only while
// a release is made.
//
//go:embed web/*
var embedded embed.FS

// theBuild is the program for the browser.
func theBuild(context.Context, io.Writer, bool) (*browserBuild, error) {
	folder, err := fs.Sub(embedded, "web")
	if err != nil {
		return nil, err
	}
	return readBuild(folder)
}

// makersGrammar is what only whoever has the sources can do: nothing here.
type makersGrammar struct{}
