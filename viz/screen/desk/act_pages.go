package desk

import (
	"slices"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/procedure"
)

// actPage is one page of what can be done: settings, or procedures.
type actPage struct {
	name       string
	settings   []plant.Param
	procedures []procedure.Procedure
}

// fewSettings stand on one page.
const fewSettings = 5

// ofBoiler are the kinds of part that belong to the boiler; the rest belongs to
// the valve, or to the spring-loaded ones beside it.
var ofBoiler = []string{"inflow", "load", "heat-input", "operators"}

// pages are what can be done at a plant: where that is much, what belongs to the
// boiler apart from what belongs to the valve. A plant on which only the stroke
// can be done has its selector for that.
func (p *actPanel) pages(d *Desk, pl *plant.Plant) []actPage {
	settings := handled(d.Lane().Run.Scenario, pl)
	var out []actPage
	if len(settings) > fewSettings {
		boiler, valve, sprung := actPage{name: "boiler"}, actPage{name: "valve"}, actPage{name: "safety valves"}
		for _, prm := range settings {
			part, _, _ := strings.Cut(prm.Path, ".")
			to := &valve
			switch q, ok := pl.Find(part); {
			case ok && slices.Contains(ofBoiler, q.Kind):
				to = &boiler
			case ok && q.Kind == "spring-valve":
				to = &sprung
			}
			to.settings = append(to.settings, prm)
		}
		for _, g := range []actPage{boiler, valve, sprung} {
			if len(g.settings) > 0 {
				out = append(out, g)
			}
		}
	} else if len(settings) > 0 {
		out = append(out, actPage{name: "settings", settings: settings})
	}
	if ps := doable(pl); len(ps) > 1 {
		out = append(out, actPage{name: "procedures", procedures: ps})
	}
	return out
}

// doable are the procedures that a plant has everything for.
func doable(pl *plant.Plant) []procedure.Procedure {
	return slices.DeleteFunc(procedure.All(), func(d procedure.Procedure) bool {
		return len(d.Valves(pl)) == 0
	})
}
