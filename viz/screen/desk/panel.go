package desk

// Panel is a sheet of things to read and to do, over a part of the picture.
type Panel interface {
	Title() string
	Items(d *Desk) []Item // as they stand now
}

// Kind of an item.
type Kind int

const (
	Words   Kind = iota // to read
	Caution             // to read before touching a valve
	Field               // to type into
	Choice              // one of a few options, all seen
	List                // one of many
	Press               // a button
)

// Item is one thing on a panel.
type Item struct {
	Kind    Kind
	Name    string   // tells it from the others; empty for what is only read
	Text    string   // what it says, or its label
	Beside  string   // smaller, at its end: a key, what is meant by a value
	Wrong   string   // what is wrong with it: found, and what would be right
	Value   string   // of a Field
	Options []string // of a Choice or List
	Picked  int      // which; -1: none
	Strong  bool     // the one that is meant, of several
	On      bool     // of a Press that is on or off
	Off     bool     // it cannot be done now
	Button  string   // of a Field: the word on a button that does it

	Type func(string) // the field has a new value
	Step func(int)    // the field's value goes up or down
	Pick func(int)
	Do   func()
}

// Reached tells whether the keyboard stops at it.
func (i *Item) Reached() bool { return i.Name != "" && !i.Off }

// Short is a panel all of whose items are short, so that they can stand in
// columns.
type Short interface{ Short() }

// Panel is the one that is open; nil if none is.
func (d *Desk) Panel() Panel { return d.panel }

// Show opens a panel in place of the one that was open.
func (d *Desk) Show(p Panel) {
	d.panel, d.focus, d.typing = p, "", false
	d.changes++
	d.out.Status(p.Title())
}

// Close closes the panel.
func (d *Desk) Close() {
	if d.panel != nil {
		d.panel, d.focus, d.typing = nil, "", false
		d.changes++
	}
}

// open is a command that opens a panel, or closes it if it is open. Those of
// the desk's own keep what was typed.
func open(like Panel) func(*Desk) {
	return func(d *Desk) {
		p := like
		switch like.(type) {
		case *actPanel:
			p = &d.act
			d.act.elsewhere = false
		case *faultPanel:
			p = &d.fault
			d.fault.elsewhere = false
		case *whyPanel:
			p = &whyPanel{}
		case *scenarioPanel:
			p = &scenarioPanel{picked: -1}
		}
		if d.panel != nil && d.panel.Title() == p.Title() {
			d.Close()
			return
		}
		d.Show(p)
	}
}

func isOpen[P Panel](d *Desk) bool {
	_, ok := d.panel.(P)
	return ok
}

// CautionLine stands wherever a panel tells someone to touch a valve.
const CautionLine = "A computed model of an invented plant. Before anyone touches a real valve: tell the operators, keep clear of the " +
	"exhaust, isolate, vent and drain, tag, prove zero energy. Plant procedure, local code and licensed practice come first."
