package desk

import (
	"math"
	"slices"
	"strings"

	"underdisc/model/plant"
	"underdisc/viz/scene"
)

// Shares of a hand's most that a lever is pulled with at one press.
var pulls = []float64{0, 0.25, 0.5, 0.75, 1}
var pullWords = []string{"let go", "1/4", "1/2", "3/4", "all"}

// isLever and isGag tell the parameters of a spring-loaded valve that a hand sets.
func isLever(path string) bool { return strings.HasSuffix(path, ".lever.pull") }
func isGag(path string) bool   { return strings.HasSuffix(path, ".gag.leaves-lift") }

// lever makes an item the choice of how hard a hand pulls, and says what it would
// take now.
func (p *actPanel) lever(d *Desk, it *Item, prm plant.Param, set func(plant.Value)) {
	it.Kind, it.Options, it.Picked = Choice, pullWords, slices.Index(pulls, prm.Value.Number)
	it.Pick = func(i int) { set(plant.Value{Number: pulls[i]}) }
	it.Beside = "of what a hand gives"
	if st := d.springState(prm.Path); st != nil && st.Spec.Lever != nil {
		it.Beside = "of " + scene.Force(st.Spec.Lever.Force) + " that a hand gives"
		if !d.Sealed() && st.Pop == plant.Tight {
			it.Beside = "of " + scene.Force(st.Spec.Lever.Force) + "; " + scene.Force(st.HandToLift) + " lift it now"
		}
	}
}

// The gag is on or off: off it leaves more than any travel, on it leaves what a screw
// leaves that a hand has turned down.
const (
	gagOff = 1.0  // m
	gagOn  = 1e-5 // m
)

func (p *actPanel) gag(it *Item, prm plant.Param, set func(plant.Value)) {
	it.Kind, it.Options, it.Beside = Choice, []string{"off", "on"}, "on, it cannot lift"
	if prm.Value.Number < 1e-3 {
		it.Picked = 1
	} else {
		it.Picked = 0
	}
	it.Pick = func(i int) { set(plant.Value{Number: [...]float64{gagOff, gagOn}[i]}) }
}

// saidOfHand is what was set by hand at lever or gag, in words; empty of all else.
func saidOfHand(prm plant.Param) string {
	switch {
	case isGag(prm.Path) && prm.Value.Number < 1e-3:
		return "on"
	case isGag(prm.Path):
		return "off"
	case isLever(prm.Path):
		if i := slices.IndexFunc(pulls, func(x float64) bool { return math.Abs(x-prm.Value.Number) < 1e-9 }); i >= 0 {
			return pullWords[i]
		}
	}
	return ""
}

// springState is the spring-loaded valve of a parameter at the moment shown; nil if
// there is none.
func (d *Desk) springState(path string) *plant.SpringState {
	s, _, err := d.Lane().Run.At(d.Session.T())
	if err != nil {
		return nil
	}
	name, _, _ := strings.Cut(path, ".")
	for i := range s.Springs {
		if s.Springs[i].Name == name {
			return &s.Springs[i]
		}
	}
	return nil
}
