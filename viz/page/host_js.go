package page

import (
	"fmt"
	"syscall/js"
	"time"
)

// Host is the page as the picture sees it. Its methods belong to one goroutine,
// the one that ticks.
type Host struct {
	ours         js.Value // what page.js has put on the window
	twinAt       js.Value
	statusAt     js.Value
	twin, status settling
	lines        []string // of the twin, as they are on the page
	rows         []js.Value
	begun        bool
	state        string
	chosen       chan chosen // files that have been opened, until the next tick
	done         func(name string, data []byte)
}

// New takes over the page. There is one Host to a page.
func New() *Host {
	document := js.Global().Get("document")
	h := &Host{
		ours:     js.Global().Get("underdisc"),
		twinAt:   document.Call("getElementById", "twin"),
		statusAt: document.Call("getElementById", "status"),
		chosen:   make(chan chosen, 1),
	}
	h.ours.Set("state", js.FuncOf(func(js.Value, []js.Value) any { return h.state }))
	h.watchFiles(document.Call("getElementById", "file"))
	return h
}

// Given is the scenario or the log that the page was opened with: its name and
// its text.
func (h *Host) Given() (name string, data []byte, err error) {
	given := h.ours.Get("given")
	if !given.Truthy() {
		return "", nil, fmt.Errorf("the page has brought no scenario; load it again")
	}
	return given.Get("name").String(), []byte(given.Get("text").String()), nil
}

// Fail shows on the page why there is no picture.
func (h *Host) Fail(err error) { h.ours.Call("fail", err.Error()) }

// Twin puts in words what is shown, one fact a line. The first words tell that
// there is a first picture.
func (h *Host) Twin(text string) {
	h.twin.wanted = text
	h.settle(time.Now())
}

// Status says a line at once, or as soon as the one before has been up for
// half a second. An empty line says nothing.
func (h *Host) Status(line string) {
	if line == "" {
		return
	}
	h.status.wanted = line
	h.settle(time.Now())
}

// Ticked counts the ticks for whoever drives the page, and hands over what has
// come in since the one before.
func (h *Host) Ticked(n int, state string) {
	h.state = state
	h.ours.Set("ticks", n)
	if !h.begun && h.twin.wanted != "" { // what has been painted is put in words
		h.begun = true
		h.ours.Call("began")
	}
	h.settle(time.Now())
	h.handOver()
}

func (h *Host) settle(now time.Time) {
	if h.status.due(now) {
		h.statusAt.Set("textContent", h.status.shown)
	}
	if !h.twin.due(now) {
		return
	}
	changed, lines := changes(h.lines, h.twin.shown)
	for len(h.rows) < len(lines) {
		row := js.Global().Get("document").Call("createElement", "p")
		h.twinAt.Call("append", row)
		h.rows = append(h.rows, row)
	}
	for _, row := range h.rows[len(lines):] {
		row.Call("remove")
	}
	h.rows = h.rows[:len(lines)]
	for _, c := range changed {
		h.rows[c.line].Set("textContent", c.text)
	}
	h.lines = lines
}
