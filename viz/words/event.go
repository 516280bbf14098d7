package words

import "strings"

// happening is an event as people say it.
type happening struct {
	text string
	link int // the link between pressure and disc that acts, from 1
}

var happenings = map[string]happening{
	"switch-made":      {"switch made", 1},
	"switch-reset":     {"switch reset", 1},
	"coil-on":          {"coil on", 2},
	"coil-off":         {"coil off", 2},
	"pilot-lift":       {"pilot lifts", 3},
	"pilot-drop":       {"pilot drops", 3},
	"pilot-open":       {"pilot open", 4},
	"pilot-shut":       {"pilot shut", 4},
	"pilot-bounce":     {"pilot bounces", 4},
	"disc-lift":        {"disc lifts", 5},
	"disc-leaves-stop": {"disc leaves stop", 5},
	"disc-full-open":   {"disc full open", 6},
	"disc-seated":      {"disc seated", 6},
	"disc-bounce":      {"disc bounces", 6},

	"relay-on":   {"relay on", 2},
	"relay-off":  {"relay off", 2},
	"fuse-blows": {"fuse blows", 3},

	"block-valve-moves":  {"block valve moves", 0},
	"block-valve-open":   {"block valve open", 0},
	"block-valve-shut":   {"block valve shut", 0},
	"block-valve-stands": {"block valve stands", 0},
	"simmer":             {"simmers", 0},
	"pop":                {"pops", 0},
	"full-lift":          {"full lift", 0},
	"full-lift-bounce":   {"meets its stop", 0},
	"leaves-stop":        {"leaves its stop", 0},
	"strikes-gag":        {"strikes the gag", 0},
	"held-by-gag":        {"meets the gag", 0},
	"leaves-gag":         {"leaves the gag", 0},
	"reseat":             {"reseats", 0},
	"tight":              {"tight", 0},
	"debris-washed-out":  {"debris washed out", 0},
	"lever-moves":        {"lever moves", 0},
	"lever-pulled":       {"lever pulled", 0},
	"lever-held":         {"lever held", 0},
	"lever-let-go":       {"lever let go", 0},

	"load-moves":  {"load changes", 0},
	"load-open":   {"load at its most", 0},
	"load-shut":   {"load gone", 0},
	"load-stands": {"load steady", 0},
}

// Event says an event in two or three words.
func Event(name string) string {
	if h, ok := happenings[name]; ok {
		return h.text
	}
	return strings.ReplaceAll(name, "-", " ")
}

// EventLink is the number of the link that an event shows at work: 1 switch, 2
// relay, 3 coil, 4 pilot, 5 chamber, 6 disc. It is 0 for an event of none.
//
// The pilot lifts and drops by what the coil does, and the disc leaves seat and
// stop by what the chamber does; where both have arrived they have acted
// themselves.
func EventLink(name string) int { return happenings[name].link }
