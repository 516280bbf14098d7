package desk

// openPanel chooses among the files that were found.
type openPanel struct {
	names  []string
	picked int
	wrong  string
}

// Title implements Panel.
func (p *openPanel) Title() string { return "Open a saved run" }

// Items implements Panel.
func (p *openPanel) Items(d *Desk) []Item {
	if len(p.names) == 0 {
		return []Item{{Kind: Words, Text: "No saved run has been found here. A file can be named when the program is started."}, closing(d)}
	}
	return []Item{
		{Kind: List, Name: "file", Options: p.names, Picked: p.picked, Pick: func(i int) {
			p.picked = i
			d.changes++
			d.out.Status(p.names[i])
		}, Do: func() { p.open(d) }},
		{Kind: Press, Name: "open", Text: "Open it", Beside: "the run on the screen ends", Strong: true, Off: p.picked < 0, Wrong: p.wrong, Do: func() { p.open(d) }},
		closing(d),
	}
}

func (p *openPanel) open(d *Desk) {
	if p.picked < 0 {
		return
	}
	data, err := d.files.Take(p.names[p.picked])
	if err == nil {
		err = d.load(p.names[p.picked], data)
	}
	if err != nil {
		p.wrong = sentence(err)
		d.changes++
	}
}
