package desk

import (
	"errors"

	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/viz/scene"
	"underdisc/viz/session"
)

// Outside is where a run goes to and comes from.
type Outside interface {
	Status(line string) // said at once
	Save(name string, data []byte) error
	Open(done func(name string, data []byte))
}

// Files turn runs into files and back. What is nil cannot be done.
type Files struct {
	// Log is the log of a lane as it stands, and a name for it.
	Log func(lane int) (name string, data []byte, err error)
	// Read reads a scenario or a log, and how far the run had come, s.
	Read func(name string, data []byte) (sc *scenarios.Scenario, known float64, err error)
	// Start starts a session: of a scenario, known up to a time.
	Start func(sc *scenarios.Scenario, known float64) (*session.Session, error)
	// Found are the names of the files that can be opened, for an outside that
	// cannot ask the person for one; Take is the content of one of them.
	Found func() []string
	Take  func(name string) ([]byte, error)
	// Kept is the log that was kept when the program ended last.
	Kept func() (name string, data []byte, ok bool)
}

// Desk is the session with what the one who looks has chosen.
type Desk struct {
	Session   *session.Session
	Scenario  *scenarios.Scenario // as the session began
	Units     scene.Units
	Projector bool
	Sound     bool
	Full      bool // the whole screen
	Beside    bool // both runs are shown, if there are two
	Shown     int  // the lane shown, if one is
	Valve     int  // the valve shown, in the order of scene.ValveNames
	Quits     bool // the person wants to end it

	out     Outside
	files   Files
	panel   Panel
	notice  string
	trouble bool
	changes int
	focus   string
	typing  bool
	act     actPanel
	fault   faultPanel
}

// New lays the desk out for a scenario.
func New(sc *scenarios.Scenario, out Outside, files Files) (*Desk, error) {
	d := &Desk{out: out, files: files}
	return d, d.start(sc, 0)
}

// start begins a session in place of the one that was there.
func (d *Desk) start(sc *scenarios.Scenario, known float64) error {
	s, err := d.files.Start(sc, known)
	if s == nil || err != nil && !errors.Is(err, session.ErrLog) {
		return err
	}
	if d.Session != nil {
		if err := d.Session.Close(); err != nil {
			d.report(err)
		}
	}
	d.Session, d.Scenario = s, sc
	d.Beside, d.Shown, d.Valve = false, 0, 0
	d.act, d.fault = actPanel{}, faultPanel{}
	d.changes++
	d.report(err)
	return nil
}

// Lane is the lane that panels speak of and that is shown if one is.
func (d *Desk) Lane() *session.Lane {
	lanes := d.Session.Lanes()
	return lanes[min(d.Shown, len(lanes)-1)]
}

// Two tells whether there are two runs.
func (d *Desk) Two() bool { return len(d.Session.Lanes()) > 1 }

// Sealed tells whether a fault is hidden in what is shown.
func (d *Desk) Sealed() bool {
	for _, l := range d.Session.Lanes() {
		if l.Run.Scenario.Sealed() {
			return true
		}
	}
	return false
}

// Changes grows whenever something changes that is not the run itself: what the
// panel says, what is pressed, what is chosen.
func (d *Desk) Changes() int {
	d.followWhy()
	return d.changes
}

// Notice is what was last done or refused, and whether it was refused; empty
// if that is long ago.
func (d *Desk) Notice() (line string, refused bool) { return d.notice, d.trouble }

// Forget takes the notice away.
func (d *Desk) Forget() {
	if d.notice != "" {
		d.notice = ""
		d.changes++
	}
}

// Say says and shows a line.
func (d *Desk) Say(line string) { d.tell(line, false) }

func (d *Desk) tell(line string, refused bool) {
	d.notice, d.trouble = line, refused
	d.changes++
	d.out.Status(line)
}

// report says an error, if there is one, and tells whether there was none.
func (d *Desk) report(err error) bool {
	if err == nil {
		return true
	}
	d.tell(sentence(err), true)
	return false
}

// Trouble says and shows what went wrong without anybody having done anything.
func (d *Desk) Trouble(err error) {
	if line := sentence(err); line != d.notice {
		d.tell(line, true)
	}
}

// Touch notes that something has changed.
func (d *Desk) Touch() { d.changes++ }

// done is report for what was done to the run: a log that could not be written
// does not undo it.
func (d *Desk) done(err error) bool {
	return d.report(err) || errors.Is(err, session.ErrLog)
}

// plant is the plant in force at the moment shown, as far as it is not hidden.
func (d *Desk) plant() *plant.Plant {
	l := d.Lane()
	p, t := l.Run.Scenario.Plant, d.Session.T()
	for _, a := range known(l.Run.Scenario) {
		if a.At() > t {
			continue
		}
		if q, err := applied(p, a); err == nil {
			p = q
		}
	}
	return p
}
