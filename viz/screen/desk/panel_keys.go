package desk

import "strings"

// keysPanel shows every command with its key, and does it at a press.
type keysPanel struct{}

func (p *keysPanel) Title() string { return "Keys" }

// Short implements Short.
func (p *keysPanel) Short() {}

func (p *keysPanel) Items(d *Desk) []Item {
	var items []Item
	for i := range commands {
		c := &commands[i]
		items = append(items, Item{Kind: Press, Name: c.Name, Text: c.Help, Beside: keysOf(c.Keys), On: c.On != nil && c.On(d) && c.Name != "keys",
			Off: c.Can != nil && !c.Can(d), Do: func() {
				if d.panel == Panel(p) {
					d.Close()
				}
				if c.Name != "keys" {
					d.Run(c)
				}
			}})
	}
	for _, m := range Motions() {
		items = append(items, Item{Kind: Words, Text: m.Help, Beside: keysOf(m.Keys)})
	}
	return items
}

func keysOf(keys []Key) string {
	var out []string
	for _, k := range keys {
		out = append(out, k.String())
	}
	return strings.Join(out, " or ")
}
