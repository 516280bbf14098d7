package desk

// Command is one thing that can be done from anywhere.
type Command struct {
	Name string // its word, unchanging: "run", "step"
	Keys []Key
	Help string // in a few words
	Do   func(*Desk)
	Word func(*Desk) string // on its button; nil: none of the bars has it
	On   func(*Desk) bool   // it is on; nil: it is nothing that is on or off
	Can  func(*Desk) bool   // it can be done now; nil: always
}

// Commands are all of them, in the order of help.
func Commands() []Command { return commands }

// Find is the command of a name; it panics if there is none.
func Find(name string) *Command {
	for i := range commands {
		if commands[i].Name == name {
			return &commands[i]
		}
	}
	panic("desk: no command " + name)
}

// Run does a command, if it can be done.
func (d *Desk) Run(c *Command) {
	if c.Can != nil && !c.Can(d) {
		d.tell("Not now: "+c.Help+".", true)
		return
	}
	d.Forget()
	c.Do(d)
	d.changes++
}

// Bars of buttons: those of time, in two rows, and those of what is seen.
var (
	TimeBar  = [][]string{{"back", "run", "step", "what-if"}, {"start", "last", "next", "slower", "faster"}}
	ViewsBar = []string{"act", "faults", "beside", "keys"}
)

var commands []Command

// The table is filled here, since the panels that commands open list the
// commands in turn.
func init() {
	commands = []Command{
		{Name: "run", Keys: on("Space"), Help: "Run or hold", Do: runOrHold, Word: runWord, On: func(d *Desk) bool { return d.Session.Pace().Runs || d.Session.Pace().Seeks }},
		{Name: "step", Keys: on("."), Help: "Hold, and step on", Do: func(d *Desk) { d.done(d.Session.Step(1)) }, Word: word("Step")},
		{Name: "back", Keys: on(","), Help: "Hold, and step back", Do: func(d *Desk) { d.done(d.Session.Step(-1)) }, Word: word("Back")},
		{Name: "next", Keys: on("n"), Help: "To the next event", Do: func(d *Desk) { d.done(d.Session.NextEvent()) }, Word: word("Event ›")},
		{Name: "last", Keys: on("l"), Help: "To the event before", Do: func(d *Desk) { d.done(d.Session.LastEvent()) }, Word: word("‹ Event")},
		{Name: "start", Keys: on("b"), Help: "Back to the beginning", Do: func(d *Desk) { d.done(d.Session.Seek(0)) }, Word: word("Start")},
		{Name: "latest", Keys: on("e"), Help: "On to the latest moment", Do: func(d *Desk) { d.done(d.Session.Seek(d.Session.Head())) }},
		{Name: "slower", Keys: on("s"), Help: "Slower", Do: func(d *Desk) { d.Session.Slower() }, Word: word("Slower")},
		{Name: "faster", Keys: on("d"), Help: "Faster", Do: func(d *Desk) { d.Session.Faster() }, Word: word("Faster")},
		{Name: "gentle", Keys: on("t"), Help: "Slow down by itself", Do: gentle, On: func(d *Desk) bool { return d.Session.SlowsByItself() }},
		{Name: "act", Keys: on("a"), Help: "Act: settings, procedures", Do: open(&actPanel{}), Word: word("Act"), On: isOpen[*actPanel]},
		{Name: "why", Keys: on("y"), Help: "Why: what holds it", Do: open(&whyPanel{}), On: isOpen[*whyPanel]},
		{Name: "faults", Keys: on("f"), Help: "Faults", Do: open(&faultPanel{}), Word: word("Faults"), On: isOpen[*faultPanel]},
		{Name: "what-if", Keys: on("w"), Help: "What if: a second run from here", Do: whatIf, Word: word("What if")},
		{Name: "beside", Keys: on("v"), Help: "Both runs side by side, or one", Do: beside, Word: word("A | B"), On: func(d *Desk) bool { return d.Beside && d.Two() }, Can: (*Desk).Two},
		{Name: "other", Keys: on("x"), Help: "Show the other run", Do: other, Can: (*Desk).Two},
		{Name: "keep-a", Keys: on("j"), Help: "Keep run A, drop B", Do: keep(0), Can: (*Desk).Two},
		{Name: "keep-b", Keys: on("k"), Help: "Keep run B, drop A", Do: keep(1), Can: (*Desk).Two},
		{Name: "valve", Keys: on("g"), Help: "To the next valve", Do: nextValve, Can: (*Desk).several},
		{Name: "reveal", Keys: on("r"), Help: "Reveal a hidden fault", Do: reveal, Can: (*Desk).Sealed, On: isOpen[*revealPanel]},
		{Name: "units", Keys: on("u"), Help: "Units", Do: open(&unitsPanel{}), On: isOpen[*unitsPanel]},
		{Name: "projector", Keys: on("p"), Help: "Large, for a projector", Do: func(d *Desk) { d.Projector = !d.Projector }, On: func(d *Desk) bool { return d.Projector }},
		{Name: "sound", Keys: on("m"), Help: "Sound", Do: func(d *Desk) { d.Sound = !d.Sound }, On: func(d *Desk) bool { return d.Sound }},
		{Name: "full", Keys: on("F11"), Help: "The whole screen", Do: func(d *Desk) { d.Full = !d.Full }, On: func(d *Desk) bool { return d.Full }},
		{Name: "scenarios", Keys: on("c"), Help: "Choose a scenario", Do: open(&scenarioPanel{}), On: isOpen[*scenarioPanel]},
		{Name: "save", Keys: on("F2"), Help: "Save the run", Do: save},
		{Name: "open", Keys: on("F4"), Help: "Open a saved run", Do: openRun},
		{Name: "resume", Keys: on("o"), Help: "Open the run of the last time again", Do: resume, Can: func(d *Desk) bool { return d.files.Kept != nil }},
		{Name: "keys", Keys: on("F1", "h"), Help: "All keys", Do: open(&keysPanel{}), Word: word("Keys"), On: isOpen[*keysPanel]},
		{Name: "quit", Keys: on("Ctrl+q"), Help: "Quit", Do: func(d *Desk) { d.Quits = true }},
	}
}

func word(w string) func(*Desk) string { return func(*Desk) string { return w } }
