package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
)

// browserBuild is the program as a browser runs it: the files of one build.
type browserBuild struct {
	info   browserInfo
	brotli []byte // the program, compressed
	gzip   []byte
	glue   []byte // wasm_exec.js of the Go that built it
}

// browserInfo says what a build is, and lets a damaged one be told.
type browserInfo struct {
	Go       string // version
	Unpacked int    // bytes
	Brotli   int
	Gzip     int
	Glue     int
}

// Names of a build's files in its folder.
const (
	brotliFile = "underdisc.wasm.br"
	gzipFile   = "underdisc.wasm.gz"
	glueFile   = "wasm_exec.js"
	infoFile   = "info.json"
)

// readBuild reads a build from its folder and refuses one that is not whole.
func readBuild(folder fs.FS) (*browserBuild, error) {
	b := &browserBuild{}
	about, err := fs.ReadFile(folder, infoFile)
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(about, &b.info); err != nil {
		return nil, fmt.Errorf("%s: %w", infoFile, err)
	}
	for _, f := range []struct {
		name string
		into *[]byte
		size int
	}{
		{brotliFile, &b.brotli, b.info.Brotli}, {gzipFile, &b.gzip, b.info.Gzip}, {glueFile, &b.glue, b.info.Glue},
	} {
		if *f.into, err = fs.ReadFile(folder, f.name); err != nil {
			return nil, err
		}
		if len(*f.into) != f.size || f.size == 0 {
			return nil, fmt.Errorf("%s has %d bytes, and should have %d", f.name, len(*f.into), f.size)
		}
	}
	return b, nil
}

// plain is the program without compression, for the rare client that takes
// none.
func (b *browserBuild) plain() ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(b.gzip))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}
