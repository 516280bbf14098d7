package desk

import "strings"

// Key is a key as a person sees it: a character without Shift in the layout of
// the keyboard, or a name such as "Space" or "F1"; with what is held beside it.
type Key struct {
	Name        string
	Ctrl, Shift bool
}

// String is how help writes it.
func (k Key) String() string {
	s := k.Name
	if len(s) == 1 {
		s = strings.ToUpper(s)
	}
	switch k.Name {
	case ",":
		s = ", comma"
	case ".":
		s = ". full stop"
	}
	if k.Shift {
		s = "Shift+" + s
	}
	if k.Ctrl {
		s = "Ctrl+" + s
	}
	return s
}

func on(names ...string) []Key {
	var out []Key
	for _, n := range names {
		k := Key{Name: n}
		for {
			if rest, ok := strings.CutPrefix(k.Name, "Ctrl+"); ok {
				k.Name, k.Ctrl = rest, true
			} else if rest, ok := strings.CutPrefix(k.Name, "Shift+"); ok {
				k.Name, k.Shift = rest, true
			} else {
				break
			}
		}
		out = append(out, k)
	}
	return out
}

// Motion is what keys do that choose among things rather than do something.
type Motion struct {
	Keys []Key
	Help string
}

// Motions are those keys, for help. Whoever shows the desk carries them out.
func Motions() []Motion {
	return []Motion{
		{on("Tab"), "To the next thing"},
		{on("Shift+Tab"), "To the one before"},
		{on("Up", "Down"), "Along a list or a value"},
		{on("Left", "Right"), "Charts: the moment shown"},
		{on("Home", "End"), "Charts: start, latest"},
		{on("Enter"), "Do it"},
		{on("Escape"), "Close the panel"},
	}
}

// CommandFor finds the command of a key; nil if there is none.
func CommandFor(k Key) *Command {
	for i := range commands {
		for _, c := range commands[i].Keys {
			if c == k {
				return &commands[i]
			}
		}
	}
	return nil
}
