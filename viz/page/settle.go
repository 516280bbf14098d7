package page

import (
	"strings"
	"time"
)

// settling is a text that is shown at most twice a second, and only when it
// has changed: a screen reader that is given more never comes to an end.
type settling struct {
	shown, wanted string
	at            time.Time // when it was last shown
}

const restless = 500 * time.Millisecond

// due tells whether the text is to be shown now, and takes it as shown if so.
func (s *settling) due(now time.Time) bool {
	if s.wanted == s.shown || now.Sub(s.at) < restless {
		return false
	}
	s.shown, s.at = s.wanted, now
	return true
}

// change is one line of a text that became another.
type change struct {
	line int
	text string
}

// changes lists the lines in which a text differs from the one before, and how
// many lines it has. Lines that stay are left alone, so that someone who reads
// one is not thrown out of it.
func changes(before []string, text string) (changed []change, lines []string) {
	lines = strings.Split(strings.TrimRight(text, "\n"), "\n")
	for i, l := range lines {
		if i >= len(before) || before[i] != l {
			changed = append(changed, change{i, l})
		}
	}
	return changed, lines
}
