package harness

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/exp/vmhost"
)

// Program is a program with a game, to be run in a window.
type Program struct {
	Package       string   // of its main function, as go build wants it
	Args, Env     []string // Env comes on top of this program's own
	Dir           string   // it works there; empty: here
	Width, Height int      // of its window, in units that do not depend on the device; 0: 1600 by 900
}

// Window is a program that runs in a window of its own, which nobody sees. It
// ticks only when it is told to, so that two runs show the same pictures.
type Window struct {
	t      testing.TB
	guest  *vmhost.GuestSession
	screen *ebiten.Image
	said   *said
	ended  chan error
}

// patience is how long a program may be silent, in its first tick too.
const patience = 2 * time.Minute

// Start builds a program and opens its window. The test's end closes it.
func Start(t testing.TB, p Program) *Window {
	t.Helper()
	Need(t)
	if p.Width == 0 || p.Height == 0 {
		p.Width, p.Height = 1600, 900
	}
	program := build(t, p.Package)
	// A short path, for some systems allow no more than 104 letters.
	dir, err := os.MkdirTemp("", "w")
	must(t, err)
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	l, err := net.Listen("unix", filepath.Join(dir, "s"))
	must(t, err)
	defer l.Close()
	must(t, l.(*net.UnixListener).SetDeadline(time.Now().Add(patience)))
	endpoint, err := vmhost.EndpointURLFromAddr(l.Addr())
	must(t, err)

	w := &Window{t: t, said: &said{}, ended: make(chan error, 1)}
	c := exec.Command(program, p.Args...)
	c.Env = append(append(os.Environ(), "EBITENGINE_VM_ENDPOINT="+endpoint), p.Env...)
	c.Dir = p.Dir
	c.Stdout, c.Stderr = w.said, w.said
	dieTogether(c)
	must(t, c.Start())
	go func() { w.ended <- c.Wait() }()

	type arrival struct {
		c   net.Conn
		err error
	}
	arrived := make(chan arrival, 1)
	go func() {
		c, err := l.Accept()
		arrived <- arrival{c, err}
	}()
	var conn net.Conn
	select {
	case a := <-arrived:
		conn, err = a.c, a.err
	case err = <-w.ended:
		w.ended <- err
		err = fmt.Errorf("it ended before it opened a window: %w", errors.Join(err, errNoWindow))
	}
	if err != nil {
		_ = c.Process.Kill()
		t.Fatalf("%s: %v\n%s", p.Package, err, w.Said())
	}
	w.guest, err = vmhost.NewGuestSession(conn, &vmhost.NewGuestSessionOptions{IdleTimeout: patience})
	if err != nil {
		_ = c.Process.Kill()
		t.Fatalf("%s: %v\n%s", p.Package, err, w.Said())
	}
	scale := Scale()
	w.screen = ebiten.NewImage(int(float64(p.Width)*scale), int(float64(p.Height)*scale))
	t.Cleanup(func() {
		_ = w.guest.Close()
		w.screen.Deallocate()
		select {
		case <-w.ended:
		case <-time.After(10 * time.Second):
			_ = c.Process.Kill()
			<-w.ended
		}
	})
	must(t, w.guest.SetOutsideScreen(w.screen))
	return w
}

var errNoWindow = errors.New("no connection was made")

// Scale is how many pixels of the display one unit of a window's size has.
func Scale() float64 { return ebiten.Monitor().DeviceScaleFactor() }

// Tick lets n ticks pass.
func (w *Window) Tick(n int) {
	w.t.Helper()
	w.guest.AdvanceTicks(n)
	if !w.guest.WaitTicks() {
		w.t.Fatalf("the program ended in a tick: %v\n%s", w.guest.Err(), w.Said())
	}
}

// Press presses keys at once and lets go of them: two ticks and one, for what
// is shorter may be missed. Any of them may be the program's last.
func (w *Window) Press(keys ...ebiten.Key) {
	w.t.Helper()
	w.Hold(keys...)
	w.guest.AdvanceTicks(2)
	if w.guest.WaitTicks() {
		w.Release(keys...)
		w.guest.AdvanceTicks(1)
		w.guest.WaitTicks()
	}
	if err := w.guest.Err(); err != nil && !errors.Is(err, ebiten.Termination) {
		w.t.Fatalf("the program ended by %v: %v\n%s", keys, err, w.Said())
	}
}

// Hold presses keys, and Release lets go of them; the next tick sees it.
func (w *Window) Hold(keys ...ebiten.Key) {
	for _, k := range keys {
		w.guest.PressKey(k)
	}
}

// Release lets go of keys.
func (w *Window) Release(keys ...ebiten.Key) {
	for i := len(keys) - 1; i >= 0; i-- {
		w.guest.ReleaseKey(keys[i])
	}
}

// Type types a text into whatever takes one, a tick for each letter.
func (w *Window) Type(text string) {
	w.t.Helper()
	for _, r := range text {
		w.guest.TypeRune(r)
		w.Tick(1)
	}
}

// Pointer moves the pointer, in the units of the window's size; a tick passes.
func (w *Window) Pointer(x, y float64) {
	w.t.Helper()
	w.guest.MoveCursor(x, y)
	w.Tick(1)
}

// Click moves the pointer and presses its left button for two ticks.
func (w *Window) Click(x, y float64) {
	w.t.Helper()
	w.Pointer(x, y)
	w.guest.PressMouseButton(ebiten.MouseButtonLeft)
	w.Tick(2)
	w.guest.ReleaseMouseButton(ebiten.MouseButtonLeft)
	w.Tick(1)
}

// Wheel turns the wheel; a tick passes.
func (w *Window) Wheel(x, y float64) {
	w.t.Helper()
	w.guest.ScrollWheel(x, y)
	w.Tick(1)
}

// Pixels paints the window as it is now and reads it.
func (w *Window) Pixels() *image.RGBA {
	w.t.Helper()
	w.guest.AdvanceFrame()
	if !w.guest.WaitFrame() || !w.guest.CompositeFrame() {
		w.t.Fatalf("the program ended in a frame: %v\n%s", w.guest.Err(), w.Said())
	}
	pixels := Pixels(w.screen)
	Frame()
	return pixels
}

// Over tells whether the program's game has ended as it should.
func (w *Window) Over() bool { return errors.Is(w.guest.Err(), ebiten.Termination) }

// Said is what the program has written, to either output.
func (w *Window) Said() string { return w.said.String() }

// said collects text from several goroutines.
type said struct {
	sync.Mutex
	bytes.Buffer
}

func (s *said) Write(p []byte) (int, error) {
	s.Lock()
	defer s.Unlock()
	return s.Buffer.Write(p)
}

func (s *said) String() string {
	s.Lock()
	defer s.Unlock()
	return s.Buffer.String()
}

// built are the programs that this run of tests has built.
var built struct {
	sync.Mutex
	of map[string]string
}

// build builds a program so that its window is the one that it is given.
func build(t testing.TB, pkg string) string {
	t.Helper()
	built.Lock()
	defer built.Unlock()
	if p, ok := built.of[pkg]; ok {
		return p
	}
	name := filepath.Join(programs(t), fmt.Sprintf("program-%d", len(built.of)))
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	c := exec.Command("go", "build", "-buildvcs=false", "-tags", "ebitenginevmguest", "-o", name, pkg)
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%s cannot be built: %v\n%s", pkg, err, out)
	}
	if built.of == nil {
		built.of = map[string]string{}
	}
	built.of[pkg] = name
	return name
}

// folder for programs, removed by Run.
var folder string

func programs(t testing.TB) string {
	t.Helper()
	if folder == "" {
		var err error
		folder, err = os.MkdirTemp("", "windows")
		must(t, err)
	}
	return folder
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
