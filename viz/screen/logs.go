package screen

import (
	"bytes"
	"errors"

	"underdisc/scenarios"
	"underdisc/scenarios/runlog"
	"underdisc/viz/session"
)

// logs keeps the logs of the lanes in memory, so that they can be saved, and
// hands what is done on to the recorder that the options give.
type logs struct {
	o     *Options
	host  Host
	lanes [2]*log
	head  func() float64 // the latest moment shown, s
}

// log is that of one lane.
type log struct {
	*runlog.Writer
	name string
	text bytes.Buffer
	more session.Recorder
	told float64 // how far it says that the run has come, s
	did  bool    // something has been done
	kept func(*log)
}

func (k *logs) start(lane int, sc *scenarios.Scenario, relTol float64) (session.Recorder, error) {
	l := &log{name: sc.Name + "-run" + [...]string{"", "-b"}[lane] + ".yaml", kept: func(*log) {}}
	var err error
	if l.Writer, err = runlog.New(&l.text, sc, runlog.Tolerance(relTol)); err != nil {
		return nil, err
	}
	if lane == 0 {
		l.kept = k.keep
	}
	if k.o.Logs != nil {
		if l.more, err = k.o.Logs(lane, sc, relTol); err != nil {
			return nil, err
		}
	}
	k.lanes[lane] = l
	return l, nil
}

// keep keeps the log for next time, where the host can. One in which nothing
// has happened yet does not take the place of the one before.
func (k *logs) keep(l *log) {
	if l.told == 0 && !l.did {
		return
	}
	if err := k.host.Keep(l.name, l.text.Bytes()); err != nil {
		k.host.Status(err.Error())
	}
}

// saved is the log of a lane as it stands.
func (k *logs) saved(lane int) (name string, data []byte, err error) {
	l := k.lanes[lane]
	if l == nil {
		return "", nil, errors.New("this run has no log")
	}
	data = bytes.Clone(l.text.Bytes())
	if head := k.head(); head > l.told { // which the log is told only now and then
		data = append(data, scenarios.ReachedLine(head)...)
	}
	return l.name, data, nil
}

// Did implements session.Recorder.
func (l *log) Did(a scenarios.Action) error {
	l.did = true
	err := l.Writer.Did(a)
	if l.more != nil {
		err = errors.Join(l.more.Did(a), err)
	}
	l.kept(l)
	return err
}

// Reached implements session.Recorder.
func (l *log) Reached(t float64) error {
	l.told = t
	err := l.Writer.Reached(t)
	if l.more != nil {
		err = errors.Join(l.more.Reached(t), err)
	}
	l.kept(l)
	return err
}

// Close implements session.Recorder.
func (l *log) Close() error {
	err := l.Writer.Close()
	if l.more != nil {
		err = errors.Join(l.more.Close(), err)
	}
	return err
}

// open starts a session.
func (k *logs) open(sc *scenarios.Scenario, known float64) (*session.Session, error) {
	k.lanes = [2]*log{}
	return session.New(sc, session.Options{Known: known, Log: k.start})
}

// read reads a scenario or a log that the person has chosen. Of what it
// includes, only the built-in scenarios are at hand.
func read(name string, data []byte) (sc *scenarios.Scenario, known float64, err error) {
	sc, err = scenarios.Parse(name, data, scenarios.BuiltIn)
	if err == nil && sc.Log != nil {
		known = sc.Log.Reached
	}
	return sc, known, err
}
