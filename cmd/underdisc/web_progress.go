package main

import (
	"fmt"
	"io"
	"runtime"
)

// interruptible tells whether another process can be interrupted, rather than
// only killed.
const interruptible = runtime.GOOS != "windows"

// webProgress says how far the browser's build is: a bar on a terminal, a line
// elsewhere.
type webProgress struct {
	w        io.Writer
	terminal bool
	bar      *bar
	at       int
}

// Shares of the time of a build from nothing: the packages, then putting them
// together, then compressing.
const (
	linkShare = 0.10
	packShare = 0.10
)

func (p *webProgress) compiling(packages int) {
	if !p.terminal {
		fmt.Fprintln(p.w, "Building the picture for the browser: on first use, half a minute or more.")
		return
	}
	p.bar = newBar(p.w, true, "building the picture for the browser, once", float64(max(1, packages))/(1-linkShare-packShare))
}

func (p *webProgress) compiled() {
	p.at++
	if p.bar != nil {
		p.bar.at(min(float64(p.at), (1-linkShare-packShare)*p.bar.until))
	}
}

func (p *webProgress) packing() {
	if p.bar != nil {
		p.bar.at((1 - packShare) * p.bar.until)
	}
}

func (p *webProgress) clear() {
	if p.bar != nil {
		p.bar.clear()
	}
}
