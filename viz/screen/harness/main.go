package harness

import (
	"bufio"
	"errors"
	"fmt"
	"image"
	"image/color"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
)

// missing says why there is no game that tests could run in.
var missing = "harness.Main has not been called"

// Main runs the tests of a package within a game, and ends the program.
func Main(m *testing.M) { os.Exit(Run(func() int { return m.Run() })) }

// Need skips a test that has no game to run in; under CI it fails.
func Need(t testing.TB) {
	t.Helper()
	switch {
	case missing == "":
	case os.Getenv("CI") == "true":
		t.Fatal(missing)
	default:
		t.Skip(missing)
	}
}

// Run runs a function within a game, and returns what it does.
func Run(do func() int) int {
	missing = ""
	if runtime.GOOS == "linux" && os.Getenv("DISPLAY") == "" {
		code, err := again()
		if err == nil {
			return code
		}
		missing = err.Error()
		return do()
	}
	h := &host{do: do}
	ebiten.SetWindowTitle("tests")
	ebiten.SetWindowSize(320, 200)
	ebiten.SetRunnableOnUnfocused(true)
	if err := ebiten.RunGame(h); err != nil {
		if h.began {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		missing = "no window can be opened: " + err.Error()
		return do()
	}
	return h.code
}

// host is a game that runs a function in its ticks: beside the loop, but only
// while a tick waits for it.
type host struct {
	do     func() int
	began  bool
	over   bool
	frames int
	ended  <-chan int
	code   int
}

var (
	yields = make(chan struct{}) // the function lets the tick end
	goesOn = make(chan struct{}) // and the next one has begun
)

// Frame lets the game's frame end and waits for the next tick. Until a frame ends
// the game library keeps what is drawn with and what was let go; so whatever
// paints much calls it now and then. It does nothing where there is no game.
func Frame() {
	if missing == "" {
		yields <- struct{}{}
		<-goesOn
	}
}

func (h *host) Update() error {
	switch {
	case h.over:
		return ebiten.Termination
	case !h.began:
		h.began = true
		ended := make(chan int)
		h.ended = ended
		go func() { ended <- h.do() }()
	default:
		goesOn <- struct{}{}
	}
	select {
	case <-yields:
		return nil
	case h.code = <-h.ended:
		h.over = true
		return ebiten.Termination
	}
}

// Draw paints something: a frame in which nothing is painted is not presented,
// and the graphics library keeps the memory of what went before.
func (h *host) Draw(screen *ebiten.Image) {
	h.frames++
	screen.Fill(color.Gray{Y: uint8(h.frames)})
}

func (h *host) Layout(w, v int) (int, int) { return w, v }

// again runs this program once more, on a virtual display, and returns its exit
// status. (To change this process's own environment would not reach the system
// libraries that open the display.)
func again() (int, error) {
	display, end, err := virtualDisplay()
	if err != nil {
		return 0, err
	}
	defer end()
	self, err := os.Executable()
	if err != nil {
		return 0, err
	}
	c := exec.Command(self, os.Args[1:]...)
	c.Env = append(os.Environ(), "DISPLAY="+display)
	c.Stdin, c.Stdout, c.Stderr = os.Stdin, os.Stdout, os.Stderr
	dieTogether(c)
	err = c.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return max(1, exit.ExitCode()), nil
	}
	return 0, err
}

// virtualDisplay starts one and says how to name it and how to end it.
func virtualDisplay() (name string, end func(), err error) {
	path, err := exec.LookPath("Xvfb")
	if err != nil {
		return "", nil, errors.New("no display, and no Xvfb to make one: install it, or set DISPLAY")
	}
	r, w, err := os.Pipe()
	if err != nil {
		return "", nil, err
	}
	defer r.Close()
	// It finds a free number itself and writes it to descriptor 3.
	c := exec.Command(path, "-displayfd", "3", "-screen", "0", "3300x1900x24", "-nolisten", "tcp")
	c.ExtraFiles = []*os.File{w}
	dieTogether(c)
	if err := c.Start(); err != nil {
		w.Close()
		return "", nil, err
	}
	w.Close()
	end = func() {
		_ = c.Process.Signal(os.Interrupt)
		_ = c.Wait()
	}
	// To the end of the line, which is written apart: a server that finds nobody
	// to read it ends.
	line, err := bufio.NewReader(r).ReadString('\n')
	number := strings.TrimSpace(line)
	if err != nil || number == "" {
		end()
		return "", nil, fmt.Errorf("the virtual display ended before it was there: %w", err)
	}
	return ":" + number, end, nil
}

// Pixels reads a picture.
func Pixels(of *ebiten.Image) *image.RGBA {
	m := image.NewRGBA(image.Rectangle{Max: of.Bounds().Size()})
	of.ReadPixels(m.Pix)
	return m
}
