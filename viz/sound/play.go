package sound

import (
	"errors"
	"fmt"
	"io"
	"runtime"
	"sync"
	"time"

	"github.com/ebitengine/oto/v3"
)

// How long the device may take to answer, and how much sound is made ahead.
const (
	patience = 1500 * time.Millisecond
	ahead    = 50 * time.Millisecond
)

// device is the machine's loudspeaker. A process can open it once, so it is
// kept, and so is why it could not be opened.
var device struct {
	sync.Mutex
	context *oto.Context
	ready   chan struct{}
	failed  error
	players int
}

// silence is why nothing can be heard. What the system says about it is long and
// of no use in a line of the picture; it is there to unwrap.
type silence struct{ cause error }

func (s *silence) Error() string {
	if errors.Is(s.cause, errSlow) {
		return "there is no sound: " + errSlow.Error()
	}
	return "there is no sound: this machine has no loudspeaker that can be opened"
}

func (s *silence) Unwrap() error { return s.cause }

var errSlow = errors.New("the loudspeaker does not answer; try again")

// Play plays what r gives, as Voice.Read does, until stop is called. An error
// says why nothing can be heard: the machine has no loudspeaker, or it does not
// answer. A page of a browser is silent until the person has pressed a key.
func Play(r io.Reader) (stop func() error, err error) {
	device.Lock()
	defer device.Unlock()
	if err := open(); err != nil {
		return nil, &silence{err}
	}
	if device.players == 0 {
		if err := device.context.Resume(); err != nil {
			return nil, &silence{err}
		}
	}
	device.players++
	p := device.context.NewPlayer(r)
	p.SetBufferSize(2 * int(ahead*Rate/time.Second) * frame) // what the device takes at once must be there
	p.Play()
	var once sync.Once
	return func() error {
		var err error
		once.Do(func() { err = halt(p) })
		return err
	}, nil
}

// halt ends a player. A device that has gone meanwhile has nothing to stop.
func halt(p *oto.Player) error {
	p.PauseAndStopReading()
	device.Lock()
	defer device.Unlock()
	device.players--
	if device.players > 0 || device.context.Err() != nil {
		return nil
	}
	return device.context.Suspend()
}

// open opens the device, or says why it cannot be.
func open() error {
	if device.context == nil && device.failed == nil {
		device.context, device.ready, device.failed = newContext()
	}
	if device.failed != nil {
		return device.failed
	}
	// In a browser it is ready only after the person's next key: waiting here
	// would keep that key from coming.
	if runtime.GOOS != "js" {
		select {
		case <-device.ready:
		case <-time.After(patience):
			return errSlow
		}
	}
	return device.context.Err()
}

func newContext() (c *oto.Context, ready chan struct{}, err error) {
	defer func() {
		if p := recover(); p != nil { // what a browser throws
			err = fmt.Errorf("the loudspeaker cannot be opened: %v", p)
		}
	}()
	return oto.NewContext(&oto.NewContextOptions{SampleRate: Rate, ChannelCount: 2, Format: oto.FormatFloat32LE,
		BufferSize: ahead, ApplicationName: "Underdisc"})
}
