package screen

import (
	"errors"

	"underdisc/viz/scene"
	"underdisc/viz/screen/desk"
	"underdisc/viz/sound"
)

// Voice is what lets a run be heard.
type Voice interface {
	Hear(v *scene.View, runs bool) // how it sounds from now on; nothing while it is held
	Close() error
}

// Aloud starts the sound on the machine's loudspeaker; it is what Options.Hear is
// where there is one.
func Aloud() (Voice, error) {
	v := sound.NewVoice()
	stop, err := sound.Play(v)
	if err != nil {
		return nil, err
	}
	return &aloud{v, stop}, nil
}

// aloud is the voice of the valve that is shown.
type aloud struct {
	voice *sound.Voice
	stop  func() error
}

func (a *aloud) Hear(v *scene.View, runs bool) {
	st := v.Heard()
	if v.Sealed { // the ear inside the valve would give away what is hidden
		a.voice.Outside(st, !runs)
		return
	}
	a.voice.Set(st, !runs)
}

func (a *aloud) Close() error { return a.stop() }

// speaker starts the voice when the person wants it, and ends it.
type speaker struct {
	start func() (Voice, error)
	voice Voice
}

// follow does what the desk wants; an error says why nothing can be heard.
func (s *speaker) follow(d *desk.Desk, v *scene.View) error {
	switch {
	case !d.Sound && s.voice != nil:
		return s.stop()
	case !d.Sound:
		return nil
	case s.voice == nil && s.start == nil:
		return errors.New("there is no sound here")
	case s.voice == nil:
		var err error
		if s.voice, err = s.start(); err != nil {
			s.voice = nil
			return err
		}
	}
	if v != nil {
		s.voice.Hear(v, d.Session.Pace().Runs)
	}
	return nil
}

func (s *speaker) stop() error {
	if s.voice == nil {
		return nil
	}
	v := s.voice
	s.voice = nil
	return v.Close()
}
