package scenarios

import (
	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/model/unit"
)

// Scenario is a run as a file describes it. All values are SI.
type Scenario struct {
	Name     string
	Title    string
	About    string // empty if the file says nothing
	Until    float64
	Plant    *plant.Plant
	Faults   []fault.Entry // in the order of the file
	Hidden   *Hidden       // nil if the file hides nothing
	Commands []Command     // in the order of time, then of the file
	Shows    *Shows        // nil if the file says nothing
	Files    []string      // this file and what it includes, outermost first
	Log      *Log          // nil unless the file is the log of a run

	happenings []happening // while a file is read
}

// Command sets a parameter of the plant at a time.
type Command struct {
	At    float64 // s
	Path  string  // as in plant.Plant.Get
	Value plant.Value
}

// Shows is what the run must show; a test holds the run against it.
type Shows struct {
	Lifts       *Count       // how often a disc leaves its seat, or a spring-loaded valve pops
	StateAtEnd  []string     // any of these, of States and SpringStates
	LinkAtEnd   string       // the link that holds the valve, of Links; empty if not said
	SeatedAtEnd *bool        // whether the disc rests on its seat
	Valves      []OfValve    // what single valves must show
	Never       []string     // events that must not happen, see EventOf
	Order       []string     // events whose first occurrences come in this order
	First       []FirstEvent // when events first happen
	Final       []Bound      // bounds on the last record
}

// Count bounds a number of times; what is nil is not bounded.
type Count struct {
	AtLeast, AtMost, Exactly *int
}

// Holds tells whether n is within the bounds.
func (c Count) Holds(n int) bool {
	return (c.AtLeast == nil || n >= *c.AtLeast) &&
		(c.AtMost == nil || n <= *c.AtMost) &&
		(c.Exactly == nil || n == *c.Exactly)
}

// FirstEvent bounds the time [s] at which an event first happens; what is nil
// is not bounded. The event must happen.
type FirstEvent struct {
	Event         string
	After, Before *float64
}

// Bound bounds a quantity of the last record, in SI; what is nil is not
// bounded.
type Bound struct {
	Quantity        string // its path, such as vessel.pressure
	Dim             unit.Dimension
	AtLeast, AtMost *float64
}

// States are the words for what the valve is doing.
func States() []string {
	return []string{"shut", "emptying", "opening", "open", "refilling", "closing", "hung-open", "leaking", "cycling"}
}

// SpringStates are the words for what a spring-loaded valve is doing.
func SpringStates() []string {
	return []string{"tight", "simmering", "lifting", "partly-lifted", "at-full-lift", "falling", "held-off-seat", "gagged", "held-by-lever", "chattering"}
}

// Links are the links between pressure and disc, in the order in which one
// moves the next.
func Links() []string {
	return []string{"switch", "relay", "coil", "pilot", "chamber", "disc"}
}

// Events are the names of the events of a run.
func Events() []string {
	return []string{
		"switch-made", "switch-reset",
		"coil-on", "coil-off", "relay-on", "relay-off", "fuse-blows",
		"pilot-lift", "pilot-bounce", "pilot-open", "pilot-drop", "pilot-shut",
		"disc-lift", "disc-bounce", "disc-full-open", "disc-leaves-stop", "disc-seated",
		"block-valve-moves", "block-valve-open", "block-valve-shut", "block-valve-stands",
		"load-moves", "load-open", "load-shut", "load-stands",
		"simmer", "pop", "full-lift", "full-lift-bounce", "leaves-stop", "strikes-gag", "held-by-gag", "leaves-gag", "reseat", "tight", "debris-washed-out",
		"lever-moves", "lever-pulled", "lever-held", "lever-let-go",
	}
}
