package runlog

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"underdisc/scenarios"
)

// Option is something about a log.
type Option func(*Writer)

// Tolerance notes the relative tolerance of a step with which the run is
// computed; without it, the usual one.
func Tolerance(relTol float64) Option { return func(w *Writer) { w.relTol = relTol } }

// Writer writes a log. It is for one goroutine.
type Writer struct {
	sc      scenarios.Scenario // with what has been done so far
	relTol  float64
	out     io.Writer
	file    *os.File // nil for a log that is no file
	size    int64    // of the file, whole lines
	reached float64
	broken  error
}

// Create starts a log in a new file: at its return the file is there and whole.
// A file of that name that is there already is left alone, and is an error.
func Create(path string, sc *scenarios.Scenario, opt ...Option) (*Writer, error) {
	w := start(sc, opt)
	if _, err := os.Lstat(path); err == nil {
		return nil, fmt.Errorf("log %s: %w", path, os.ErrExist)
	}
	head := w.sc.LogHead(w.relTol)
	if err := place(path, head); err != nil {
		return nil, fmt.Errorf("log %s: %w", path, err)
	}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		return nil, err
	}
	w.out, w.file, w.size = file, file, int64(len(head))
	return w, nil
}

// place writes a file under another name, makes it safe, and gives it its own.
func place(path, text string) error {
	dir := filepath.Dir(path)
	file, err := os.CreateTemp(dir, ".underdisc-*")
	if err != nil {
		return err
	}
	_, err = file.WriteString(text)
	if err = errors.Join(err, file.Chmod(0o644), file.Sync(), file.Close()); err == nil {
		err = os.Rename(file.Name(), path)
	}
	if err != nil {
		os.Remove(file.Name())
		return err
	}
	if d, err := os.Open(dir); err == nil { // so that the name is safe, too, where folders can be synced
		_ = d.Sync()
		_ = d.Close()
	}
	return nil
}

// New starts a log on any writer, such as memory.
func New(out io.Writer, sc *scenarios.Scenario, opt ...Option) (*Writer, error) {
	w := start(sc, opt)
	w.out = out
	_, err := io.WriteString(out, w.sc.LogHead(w.relTol))
	return w, err
}

func start(sc *scenarios.Scenario, opt []Option) *Writer {
	w := &Writer{sc: *sc}
	for _, o := range opt {
		o(w)
	}
	return w
}

// Did takes down what has been done, with its time as it was done. When it has
// returned without an error, the action is safe.
func (w *Writer) Did(a scenarios.Action) error {
	if w.broken != nil {
		return w.broken
	}
	line, err := w.sc.LogLine(a)
	if err != nil {
		return err
	}
	if err := w.append(line); err != nil {
		return err
	}
	w.sc.Record(a)
	w.reached = max(w.reached, a.At())
	return w.sync()
}

// Reached takes down how far the run has come, s. It need not be called more
// often than once a second and when the run is held.
func (w *Writer) Reached(t float64) error {
	if w.broken != nil || !(t > w.reached) {
		return w.broken
	}
	w.reached = t
	return w.append(scenarios.ReachedLine(t))
}

// append writes a line. Where only part of it can be written, that part is taken
// back; where that cannot be done, nothing more is written, since a line in the
// middle that does not end would spoil the file.
func (w *Writer) append(line string) error {
	n, err := io.WriteString(w.out, line)
	if err == nil {
		w.size += int64(n)
		return nil
	}
	if n > 0 && (w.file == nil || w.file.Truncate(w.size) != nil) {
		w.broken = err
	}
	return err
}

// sync makes safe what has been written, where there is something to do for it.
// What could not be synced is not known to be safe, now or later.
func (w *Writer) sync() error {
	if s, ok := w.out.(interface{ Sync() error }); ok {
		w.broken = s.Sync()
	}
	return w.broken
}

// Close ends the log.
func (w *Writer) Close() error {
	err := w.broken
	if w.file != nil {
		if err == nil {
			err = w.sync()
		}
		err = errors.Join(err, w.file.Close())
		w.file, w.out = nil, nil
	}
	w.broken = errors.New("the log is closed")
	return err
}
