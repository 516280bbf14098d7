package main

import (
	"io"
	"time"

	"github.com/schollz/progressbar/v3"
)

// bar shows how far a long run has come. A short one ends before it appears.
type bar struct {
	doing  string
	began  time.Time
	until  float64
	shown  *progressbar.ProgressBar
	tick   int
	output io.Writer
}

// patience is how long a run may take before a bar appears.
const patience = 700 * time.Millisecond

// newBar returns a bar that shows nothing where there is no terminal.
func newBar(w io.Writer, terminal bool, doing string, until float64) *bar {
	b := &bar{doing: doing, began: time.Now(), until: until}
	if terminal {
		b.output = w
	}
	return b
}

const ticks = 1000

// at moves the bar to a time of the run.
func (b *bar) at(t float64) {
	if b.output == nil || time.Since(b.began) < patience {
		return
	}
	if b.shown == nil {
		b.shown = progressbar.NewOptions(ticks,
			progressbar.OptionSetWriter(b.output),
			progressbar.OptionSetDescription(b.doing),
			progressbar.OptionSetWidth(40),
			progressbar.OptionSetPredictTime(true),
			progressbar.OptionThrottle(100*time.Millisecond),
			progressbar.OptionClearOnFinish())
	}
	if tick := int(ticks * t / b.until); tick != b.tick {
		b.tick = tick
		_ = b.shown.Set(tick) // the bar is for the eye: where it cannot be drawn, the run goes on
	}
}

// clear takes the bar away.
func (b *bar) clear() {
	if b.shown != nil {
		_ = b.shown.Clear()
	}
}
