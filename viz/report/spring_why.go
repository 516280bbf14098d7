package report

import (
	"bytes"
	"fmt"
	"strings"
	"text/tabwriter"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// chosen are the valves that are answered for: the piloted ones by index, and one
// with a spring, -1 if none.
func (y *Why) chosen() (piloted []int, spring int) {
	m := y.Run.Present()
	spring = -1
	for i := range m.Valves {
		if y.Valve == "" || y.Valve == m.Valves[i].Name {
			piloted = append(piloted, i)
		}
	}
	for i := range m.Springs {
		if y.Valve == m.Springs[i].Name || y.Valve == "" && len(m.Valves) == 0 && spring < 0 {
			spring = i
		}
	}
	return piloted, spring
}

// Valves are the names that a plant's valves answer to, the piloted ones first.
func Valves(m *plant.Model) []string {
	var out []string
	for i := range m.Valves {
		out = append(out, m.Valves[i].Name)
	}
	for i := range m.Springs {
		out = append(out, m.Springs[i].Name)
	}
	return out
}

// springPage is the page of a spring-loaded valve at the moment asked for.
func (y *Why) springPage(spring int) (*explain.SpringPage, *plant.SpringState, error) {
	s, m, err := y.Run.At(y.At)
	if err != nil {
		return nil, nil, err
	}
	past := explain.SpringPastOf(m, y.Run.Sim.Events(), y.At, spring)
	pg := explain.SpringPageOf(m, s, spring, past, explain.SpringFoldsOf(m, spring, s.Springs[spring].HeldOff))
	return &pg, &s.Springs[spring], nil
}

// springUnits are the units with the surroundings of that valve as their zero.
func springUnits(u scene.Units, m *plant.Model, spring int) scene.Units {
	u.Ambient = springAir(m, spring)
	return u
}

// springAir is the pressure that a spring-loaded valve discharges into in the end.
func springAir(m *plant.Model, spring int) float64 {
	if _, air, ok := m.Plant.Around(m.Springs[spring].Spec.Outlet); ok {
		return air.Pressure
	}
	return 0
}

// writeSpring answers for a spring-loaded valve: first in a few sentences, then the
// balance of forces, the numbers, the safe next step, and what would free it.
func (y *Why) writeSpring(b *bytes.Buffer, spring int) error {
	pg, st, err := y.springPage(spring)
	if err != nil {
		return err
	}
	u := springUnits(y.Units, y.Run.Present(), spring)
	name := ""
	if len(Valves(y.Run.Present())) > 1 {
		name = st.Name + ": "
	}
	if y.Run.Scenario.Sealed() {
		section(b, name+"What can be told from outside?")
		paragraph(b, "", words.SpringOutside(st, u))
		return nil
	}
	f := &pg.Facts
	section(b, name+words.SpringQuestion(pg.Question))
	for _, s := range words.SpringAnswer(f, u) {
		paragraph(b, "", s)
	}
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	line := func(cells ...string) { fmt.Fprintln(t, "  "+strings.Join(cells, "\t")) }
	section(b, "forces on disc and spindle, N, opening positive")
	for _, r := range springForceRows(&f.Forces) {
		line(r.name, fmt.Sprintf("%8.0f", r.force))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	section(b, "numbers")
	for _, n := range springNumbers(f, st, u) {
		line(n.Name, n.Value)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if next := words.SpringNext(pg.Next); next != "" {
		section(b, "next, and safe")
		paragraph(b, "", next)
	}
	return writeSpringFrees(b, t, pg, u)
}

func writeSpringFrees(b *bytes.Buffer, t *tabwriter.Writer, pg *explain.SpringPage, u scene.Units) error {
	line := func(cells ...string) { fmt.Fprintln(t, "  "+strings.Join(cells, "\t")) }
	for _, part := range []struct {
		title  string
		remedy bool
	}{{"what would change it, each by itself", true}, {"what the arithmetic would need, not a remedy", false}} {
		first := true
		for i := range pg.Frees {
			q := &pg.Frees[i]
			if q.Remedy != part.remedy {
				continue
			}
			if first {
				section(b, part.title)
				line("what happens", "what", "now", "needed", "who")
			}
			first = false
			by := words.SpringBy(q)
			if q.In.Known && q.By == explain.Itself {
				by += ", in about " + words.Gap(q.In.Value)
			}
			line(words.SpringDoes(q.Does), words.SpringQuantity(q.Quantity), springValue(q.Quantity, q.Now, u), side(q)+springValue(q.Quantity, q.Needed, u), by)
		}
		if err := t.Flush(); err != nil {
			return err
		}
	}
	return nil
}

func side(q *explain.SpringFree) string {
	if q.Below {
		return "at most "
	}
	return "at least "
}

// springValue writes a quantity in its unit.
func springValue(q explain.SpringQuantity, x float64, u scene.Units) string {
	switch q {
	case explain.InletPressure, explain.BehindPressure:
		return u.PressureOf(x) + " " + u.PressureName()
	case explain.HandPull, explain.SpringSetting:
		return words.Force(x)
	}
	return fmt.Sprintf("%.2f mm", 1e3*x)
}

type forceRow struct {
	name  string
	force float64
}

// springForceRows are the balance of forces, without rows that are nothing.
func springForceRows(o *explain.SpringForces) []forceRow {
	var out []forceRow
	for _, r := range []forceRow{
		{"pressure on the seat", o.Seat},
		{"change of direction of the stream", o.Momentum},
		{"huddling chamber", o.Huddle},
		{"below the upper ring", o.Upper},
		{"stream turned down by hood or disc", o.Jet},
		{"back pressure in the bellows", o.Bellows},
		{"faces of the seat", o.Faces},
		{"lever", o.Lever},
		{"weight", -o.Weight},
		{"spring", -o.Spring},
	} {
		if r.force != 0 {
			out = append(out, r)
		}
	}
	out = append(out, forceRow{"sum", o.Net})
	if o.Stop > 0 {
		out = append(out, forceRow{"held by the stop", -o.Stop})
	}
	return out
}

// springNumbers are the numbers behind the answer.
func springNumbers(f *explain.SpringFacts, st *plant.SpringState, u scene.Units) []scene.WhyNumber {
	p := func(x float64) string { return u.PressureOf(x) + " " + u.PressureName() }
	var out []scene.WhyNumber
	add := func(name, value string) { out = append(out, scene.WhyNumber{Name: name, Value: value}) }
	add("pressure in the vessel", p(f.Vessel))
	add("pressure at its inlet", p(f.Inlet))
	add("pressure in the huddling chamber", p(st.Huddle))
	if st.Spec.UpperRing != nil {
		add("pressure below the upper ring", p(st.Under))
	}
	add("pressure at its outlet", p(st.Outlet))
	add("faces part at", p(f.Parting.Pressure))
	if q := f.Folds.Pop; q.Known {
		add("pops at", p(q.Value))
	}
	if q := f.Folds.Reseat; q.Known {
		add("reseats at", p(q.Value))
	}
	add("lift", fmt.Sprintf("%.3f mm of %.1f mm", 1e3*f.Lift, 1e3*f.FullTravel))
	add("flow", u.Flow(f.Flow))
	if f.Hand.Fitted {
		add("pull at the lever", words.Force(f.Hand.Now))
		add("pull that parts the faces", words.Force(f.Hand.ToLift))
	}
	add("wear of the seat so far, relative", fmt.Sprintf("%.3f", f.Wear))
	return out
}

// WhyOther is a valve that was not asked for.
type WhyOther struct {
	Name  string `json:"name"`
	State string `json:"state"` // what it does; of a run with a hidden fault, what is heard
}

// others are the valves that are not answered for, and what they do.
func (y *Why) others(piloted []int, spring int) ([]WhyOther, error) {
	s, m, err := y.Run.At(y.At)
	if err != nil {
		return nil, err
	}
	heard := [...]string{"still", "hissing", "blowing"}
	var out []WhyOther
	events, sealed := y.Run.Sim.Events(), y.Run.Scenario.Sealed()
	for i := range s.Valves {
		if len(piloted) > 0 && (y.Valve == "" || piloted[0] == i) {
			continue
		}
		o := WhyOther{Name: s.Valves[i].Name}
		if tail, _ := words.TailOf(&s.Valves[i]); sealed {
			o.State = heard[tail]
		} else {
			f := explain.Valve(m, s, i, explain.PastOf(m, events, y.At, i))
			o.State = words.State(f.State)
		}
		out = append(out, o)
	}
	for i := range s.Springs {
		if i == spring {
			continue
		}
		o := WhyOther{Name: s.Springs[i].Name, State: heard[words.SpringTailOf(&s.Springs[i])]}
		if !sealed {
			f := explain.Spring(m, s, i, explain.SpringPastOf(m, events, y.At, i))
			o.State = words.SpringState(f.State)
		}
		out = append(out, o)
	}
	return out, nil
}

func (y *Why) writeOthers(b *bytes.Buffer, piloted []int, spring int) error {
	others, err := y.others(piloted, spring)
	if err != nil || len(others) == 0 {
		return err
	}
	section(b, "the other valves (--valve NAME explains one)")
	for _, o := range others {
		fmt.Fprintf(b, "  %s: %s\n", o.Name, o.State)
	}
	return nil
}
