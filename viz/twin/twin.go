// Package twin says in words and numbers what the picture shows, for who cannot
// see it: a line for each fact, in an order that stays, with the numbers rounded
// as in the picture, so that the text changes only when what is shown does.
package twin

import (
	"strconv"
	"strings"

	"underdisc/viz/scene"
)

// Clock is how time goes, in words: "held", and "1 s here = 20 ms there".
type Clock struct{ State, Measure string }

// Caution ends every text.
const Caution = "This is a model of an invented plant. Before anyone touches a valve, the plant's procedure, the manufacturer's instructions and local code come first, and licensed practice."

// Text is the twin of the picture of one run. Of a sealed view it says what the
// picture says, and nothing of the inside.
func Text(v *scene.View, s *scene.Scene, c Clock) string {
	var b strings.Builder
	when(&b, v, c)
	spots(&b, s, "")
	flows(&b, v, "")
	line(&b, "", Caution)
	return b.String()
}

// PairText is the twin of two runs side by side.
func PairText(p *scene.Pair, s *scene.Scene, c Clock) string {
	var b strings.Builder
	when(&b, p.A, c)
	line(&b, "two runs, parted at", scene.Span(p.Forks))
	for _, d := range p.Differs {
		line(&b, "B has", d)
	}
	for _, r := range []struct {
		name string
		v    *scene.View
	}{{"A", p.A}, {"B", p.B}} {
		line(&b, r.name, r.v.State+". "+r.v.Sentence)
	}
	spots(&b, s, "why")
	for _, r := range []struct {
		name string
		v    *scene.View
	}{{"A, ", p.A}, {"B, ", p.B}} { // which the picture of two has no room for
		for _, f := range scene.BoilerSpots(r.v) {
			line(&b, r.name+f.Name, f.Says)
		}
	}
	flows(&b, p.A, "A, ")
	flows(&b, p.B, "B, ")
	line(&b, "", Caution)
	return b.String()
}

func when(b *strings.Builder, v *scene.View, c Clock) {
	line(b, "run", v.Title)
	line(b, "time", strconv.FormatFloat(v.Snapshot.T, 'f', 3, 64)+" s, "+c.State)
	if c.Measure != "" {
		line(b, "pace", c.Measure)
	}
}

// spots are what the keyboard goes through in the picture, but for one.
func spots(b *strings.Builder, s *scene.Scene, but string) {
	for _, f := range s.Focus {
		if f.Name == but {
			continue
		}
		if f.Name == "why" { // a sentence stays whole
			line(b, f.Name, f.Says)
			continue
		}
		// What has several parts is a line for each.
		for i, part := range strings.Split(f.Says, "; ") {
			name := f.Name
			if i > 0 && (part == "done" || part == "acts now" || part == "to come" || part == "not known") {
				name += " stands"
			}
			line(b, name, part)
		}
	}
}

// flows are the streams, which the picture shows by its darts.
func flows(b *strings.Builder, v *scene.View, run string) {
	if v.Sealed {
		return
	}
	if v.SpringState() != nil {
		springFlows(b, v, run)
		return
	}
	st, u := &v.Snapshot.Valves[v.Valve], v.Units
	line(b, run+"pressures", vesselName(v)+" "+u.PressureOf(st.Vessel)+", body "+u.PressureOf(st.Above)+", chamber "+u.PressureOf(st.Below)+
		", tailpipe "+u.PressureOf(st.Outlet)+" "+u.PressureName())
	line(b, run+"temperatures", "in the body "+u.Temperature(st.AboveTemperature)+", in the chamber "+u.Temperature(st.BelowTemperature))
	steam(b, v, run)
	around(b, v, run)
	line(b, run+"flow past the seat", u.Flow(st.Seat))
	line(b, run+"flow into the chamber", "bleed "+u.Flow(st.Bleed)+", guide "+u.Flow(st.Guide))
	line(b, run+"flow out through the pilot", u.Flow(st.PilotFlow))
}

// vesselName is what the line comes from.
func vesselName(v *scene.View) string {
	if v.Model.Water != nil {
		return "drum"
	}
	return "vessel"
}

func line(b *strings.Builder, name, says string) {
	if name != "" {
		b.WriteString(name)
		b.WriteString(": ")
	}
	b.WriteString(says)
	b.WriteByte('\n')
}
