package desk

import "underdisc/viz/scene"

func runOrHold(d *Desk) {
	if p := d.Session.Pace(); p.Runs || p.Seeks {
		d.Session.Hold()
	} else {
		d.Session.Go()
	}
}

func runWord(d *Desk) string {
	if p := d.Session.Pace(); p.Runs || p.Seeks {
		return "Hold"
	}
	return "Run"
}

func gentle(d *Desk) {
	d.Session.SlowByItself(!d.Session.SlowsByItself())
	if d.Session.SlowsByItself() {
		d.Say("Slows down by itself while something fast happens.")
	} else {
		d.Say("No longer slows down by itself.")
	}
}

// whatIf opens the panel that was used last, so that what is done there is done
// in a second run.
func whatIf(d *Desk) {
	d.Session.Hold()
	d.act.elsewhere, d.fault.elsewhere = true, true
	if _, ok := d.panel.(*actPanel); ok {
		d.Show(&d.act)
		return
	}
	d.Show(&d.fault)
}

func beside(d *Desk) {
	d.Beside = !d.Beside
	if d.Beside {
		d.Say("Both runs, side by side.")
	} else {
		d.Say("Run " + d.letter() + " alone is shown; the other goes on.")
	}
}

func other(d *Desk) {
	d.Beside, d.Shown = false, 1-min(d.Shown, 1)
	d.Say("Run " + d.letter() + " is shown.")
}

// several tells whether the plant has more than one valve.
func (d *Desk) several() bool { return len(scene.ValveNames(d.Lane().Run.Present())) > 1 }

// nextValve shows the next valve of the plant.
func nextValve(d *Desk) {
	names := scene.ValveNames(d.Lane().Run.Present())
	d.Valve = (d.Valve + 1) % len(names)
	d.Say("Valve " + names[d.Valve] + " is shown.")
}

func (d *Desk) letter() string { return [...]string{"A", "B"}[min(d.Shown, 1)] }

func keep(lane int) func(*Desk) {
	return func(d *Desk) {
		if !d.done(d.Session.Alone(lane)) {
			return
		}
		d.Beside, d.Shown = false, 0
		d.Say("Run " + [...]string{"A", "B"}[lane] + " goes on alone.")
	}
}

func save(d *Desk) {
	if d.files.Log == nil {
		d.tell("This run keeps no log, so there is nothing to save.", true)
		return
	}
	name, data, err := d.files.Log(min(d.Shown, len(d.Session.Lanes())-1))
	if err == nil {
		err = d.out.Save(name, data)
	}
	if d.report(err) {
		if at, ok := d.out.(interface{ Saved() string }); ok { // it knows where
			name = at.Saved()
		}
		d.Say("Saved as " + name + ".")
	}
}

func openRun(d *Desk) {
	if d.files.Read == nil {
		d.tell("Files cannot be read here.", true)
		return
	}
	if d.files.Found != nil {
		d.Show(&openPanel{picked: -1, names: d.files.Found()})
		return
	}
	d.out.Open(func(name string, data []byte) { d.Open(name, data) })
}

// resume opens what was kept from the last time.
func resume(d *Desk) {
	name, data, ok := d.files.Kept()
	if !ok {
		d.tell("No run has been kept from the last time.", true)
		return
	}
	d.Open(name, data)
}

// Open starts a session from a file: a scenario, or a log of a run.
func (d *Desk) Open(name string, data []byte) { d.report(d.load(name, data)) }

func (d *Desk) load(name string, data []byte) error {
	sc, known, err := d.files.Read(name, data)
	if err != nil {
		return err
	}
	if err := d.start(sc, known); err != nil {
		return err
	}
	d.Close()
	d.Say(name + " is open.")
	return nil
}
