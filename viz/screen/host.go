package screen

import (
	"errors"
	"time"

	"underdisc/scenarios"
	"underdisc/viz/session"
)

// Host is what the program runs in: a terminal with files, or a page of a
// browser. Its methods are called between two ticks, from one goroutine; done
// of Open is, too, however long the person takes to choose.
type Host interface {
	Twin(text string)                          // what is shown, in words and numbers
	Status(line string)                        // said at once: what has the focus, what has been done
	Save(name string, data []byte) error       // a file for the person to keep
	Open(done func(name string, data []byte))  // the person chooses a file; done is not called if none
	Keep(name string, data []byte) error       // kept until next time, in place of what was kept before
	Kept() (name string, data []byte, ok bool) // what Keep has kept
	Ticked(n int, state string)                // after each tick: how many there were, and the state in a line
}

// finder is a host that knows of files but cannot ask for one.
type finder interface {
	Found() []string
	Take(name string) ([]byte, error)
}

// Options of the picture.
type Options struct {
	Scenario *scenarios.Scenario // what it starts with
	Host     Host                // nil: nobody listens, and nothing can be saved
	// Logs starts the log of a lane before anything is done in it; nil: none.
	Logs func(lane int, sc *scenarios.Scenario, relTol float64) (session.Recorder, error)
	// Hear starts the sound, when the person first wants it; nil: there is none.
	Hear func() (Voice, error)
	Look Look
	// Done ends the program when it is closed; nil: only the person does.
	Done <-chan struct{}
	// Tick is the wall time that a tick stands for; zero: what the clock says.
	Tick time.Duration
}

// nobody is a host for when there is none.
type nobody struct{}

func (nobody) Twin(string)                  {}
func (nobody) Status(string)                {}
func (nobody) Save(string, []byte) error    { return errors.New("there is nowhere to save it") }
func (nobody) Open(func(string, []byte))    {}
func (nobody) Keep(string, []byte) error    { return nil }
func (nobody) Kept() (string, []byte, bool) { return "", nil, false }
func (nobody) Ticked(int, string)           {}
