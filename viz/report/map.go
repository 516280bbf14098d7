package report

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"

	"underdisc/model/equilibria"
	"underdisc/viz/words"
)

// Maps are the static maps of one valve: one of a spring-loaded valve; of a
// piloted valve that with its pilot open and that with it shut.
type Maps struct {
	Title string // of the scenario
	Valve string
	Maps  []*equilibria.Map
}

var mapNames = regexp.MustCompile(`^map-[a-z0-9-]+\.(csv|txt|png|svg)$`)

// IsMapFile tells whether the files of static maps may have that name.
func IsMapFile(name string) bool { return mapNames.MatchString(name) }

// gauge is a pressure above the surroundings of a map's valve, in bar.
func gauge(m *equilibria.Map, p float64) float64 { return (p - m.Atmosphere) * bar }

// CSV writes a row for each equilibrium, in the order of the curves. A branch ends
// with the point that the next one begins with.
func (y *Maps) CSV(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintln(b, "valve,pilot,branch,stable,fold,vessel_bar_gauge,vessel_bar_abs,lift_mm,inlet_bar_abs,chamber_bar_abs,outlet_bar_abs,flow_kg_s,net_by_lift_N_mm,stop_carries_N,wave_damping")
	for _, m := range y.Maps {
		for _, br := range m.Branches {
			for _, p := range br.Points {
				row := []string{m.Valve, pilotWord(m.Pilot), br.Kind.String(), yesNo(br.Stable), foldAt(m, p)}
				for _, x := range []float64{gauge(m, p.Vessel), p.Vessel * bar, p.Lift * milli, p.Inlet * bar, p.Chamber * bar, p.Outlet * bar, p.Flow, p.Slope / milli, p.Held, p.Wave} {
					if math.IsNaN(x) {
						row = append(row, "") // there is none
						continue
					}
					row = append(row, strconv.FormatFloat(x+0, 'g', valueDigits, 64))
				}
				fmt.Fprintln(b, strings.Join(row, ","))
			}
		}
	}
	return b.Flush()
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func pilotWord(p equilibria.Pilot) string {
	return [...]string{"", "shut", "open"}[p]
}

// foldAt is the kind of the fold that a point is, empty if it is none.
func foldAt(m *equilibria.Map, p equilibria.Point) string {
	for _, f := range m.Folds {
		if f.Vessel == p.Vessel && f.Lift == p.Lift {
			return f.Kind.String()
		}
	}
	return ""
}

// Text writes what the maps say, for people.
func (y *Maps) Text(w io.Writer) error {
	var b bytes.Buffer
	for _, m := range y.Maps {
		name := m.Valve + ": static map"
		if m.Pilot != equilibria.None {
			name += ", its pilot " + pilotWord(m.Pilot)
		}
		section(&b, name)
		for _, line := range mapSentences(m) {
			paragraph(&b, "", line)
		}
		b.WriteByte('\n')
		fmt.Fprintf(&b, "  %-12s %-9s %26s %26s\n", "branch", "", "from bar gauge, mm", "to bar gauge, mm")
		for _, br := range m.Branches {
			p, q := br.Points[0], br.Points[len(br.Points)-1]
			state := "stable"
			if !br.Stable {
				state = ""
			}
			fmt.Fprintf(&b, "  %-12s %-9s %15.3f, %9.4f %15.3f, %9.4f\n", br.Kind, state, gauge(m, p.Vessel), p.Lift*milli, gauge(m, q.Vessel), q.Lift*milli)
		}
	}
	b.WriteByte('\n')
	paragraph(&b, "", "Every equilibrium of the disc that can be reached from its seat, everything else at rest. What overshoots, and waves in pipes, "+
		"are left out; so is heat. Pressures are those of the vessel, above the surroundings.")
	return writeAll(w, &b)
}

// MapCaution is printed below the maps.
func MapCaution(w io.Writer) error {
	var b bytes.Buffer
	section(&b, "caution")
	paragraph(&b, "", caution)
	return writeAll(w, &b)
}

func writeAll(w io.Writer, b *bytes.Buffer) error {
	_, err := b.WriteTo(w)
	return err
}

// mapSentences say a map in a few sentences, the first the most important.
func mapSentences(m *equilibria.Map) (out []string) {
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	at := func(p float64) string { return strconv.FormatFloat(gauge(m, p), 'f', 2, 64) + " bar" }
	j, jumps := m.Landing()
	switch {
	case m.Pilot == equilibria.Shut && m.Pop == nil && len(m.Branches) == 1 && m.Branches[0].Kind == equilibria.Seated:
		say("Shut at every pressure up to %s: with the pilot shut the chamber holds the disc.", at(m.Highest))
	case m.Pop == nil && m.Gagged:
		say("The gag leaves the disc %s: it cannot pop, whatever the pressure.", tiny(m.Travel))
	case m.Pop == nil && m.Branches[0].Kind != equilibria.Seated && m.Branches[0].Kind != equilibria.Simmer:
		say("Held open at every pressure up to %s: there is no seated branch.", at(m.Highest))
	case m.Pop == nil && m.Branches[len(m.Branches)-1].Kind == equilibria.Seated:
		say("Shut at every pressure up to %s.", at(m.Highest))
	case m.Pop == nil:
		say("%s: no pop, no fold.", words.Capital(opens(m, at)))
	case !jumps:
		say("Pops at %s from %s, to more than the map shows.", at(m.Pop.Vessel), tiny(m.Pop.Lift))
	default:
		say("Pops at %s from %s to %s, where it passes %.2f kg/s.", at(m.Pop.Vessel), tiny(m.Pop.Lift), reached(m, j.To), j.Flow)
	}
	if m.Pop != nil && !math.IsNaN(m.Simmer) {
		say("Simmers from %s, where the faces part: %.1f %% of the set pressure.", at(m.Simmer), 100*m.SimmerShare())
	}
	switch {
	case m.Pop != nil && m.Reseat != nil && m.Off > m.Contact:
		say("Drops back at %s, from %s, on what holds it %s off its seat: it is never tight.", at(m.Reseat.Vessel), tiny(m.Reseat.Lift), tiny(m.Off))
	case m.Pop != nil && m.Reseat != nil && m.Pilot == equilibria.None:
		say("Shuts at %s, from %s: blowdown %.1f %%.", at(m.Reseat.Vessel), tiny(m.Reseat.Lift), 100*m.Blowdown())
	case m.Pop != nil && m.Reseat != nil:
		say("Drops back at %s, from %s.", at(m.Reseat.Vessel), tiny(m.Reseat.Lift))
	case m.Pop != nil && jumps:
		say("Once open it stays open at every pressure below.")
	}
	if m.Pilot == equilibria.Open && m.Pop != nil && m.Pop.Vessel < m.Start {
		say("The vessel starts with %s: there the pilot alone decides.", at(m.Start))
	}
	if m.Short {
		say("The curve breaks off here: the fluid has no such state further on.")
	}
	if text := ringing(m); text != "" {
		say("%s", text)
	}
	if n := len(m.Folds); n > 2 {
		say("The curve has %d folds: between them are more lifts at which it can stand.", n)
	}
	if f := m.Friction; f != nil {
		text := ""
		if f.Pop != nil {
			text = "pops at " + at(f.Pop.Vessel)
		}
		if f.Reseat != nil {
			if text != "" {
				text += " and "
			}
			text += "shuts at " + at(f.Reseat.Vessel)
		}
		if text != "" {
			say("With the friction of a disc at rest it %s.", text)
		}
	}
	return out
}

// ringing says at which lifts a wave in the inlet pipe grows; empty where it does
// at none.
func ringing(m *equilibria.Map) string {
	low, high := math.Inf(1), 0.0
	for _, b := range m.Branches {
		for i, p := range b.Points {
			if rings(b, i) {
				low, high = math.Min(low, p.Lift), math.Max(high, p.Lift)
			}
		}
	}
	switch {
	case high == 0:
		return ""
	case high > 1.02*low:
		return fmt.Sprintf("Between %s and %s a wave in the inlet pipe grows: it chatters.", tiny(low), tiny(high))
	}
	return fmt.Sprintf("At %s a wave in the inlet pipe grows: it chatters.", tiny(low))
}

// opens is how a valve without a pop opens.
func opens(m *equilibria.Map, at func(float64) string) string {
	for i := range m.Branches {
		if k := m.Branches[i].Kind; k == equilibria.Stopped || i == len(m.Branches)-1 {
			p := m.Branches[i].Points
			q := p[0]
			if k != equilibria.Stopped {
				q = p[len(p)-1]
			}
			from := m.Simmer
			if math.IsNaN(from) {
				from = m.Branches[0].Points[len(m.Branches[0].Points)-1].Vessel
			}
			return fmt.Sprintf("opens in proportion from %s to %s, at %s", at(from), reached(m, q.Lift), at(q.Vessel))
		}
	}
	return ""
}

// reached is a lift, and whether it is all there is.
func reached(m *equilibria.Map, lift float64) string {
	switch {
	case lift > 0.9999*m.Travel && m.Gagged:
		return tiny(lift) + ", its gag"
	case lift > 0.9999*m.Travel:
		return tiny(lift) + ", its stop"
	}
	return fmt.Sprintf("%s of %s", tiny(lift), tiny(m.Travel))
}

// tiny is a lift in the unit in which it reads well.
func tiny(lift float64) string {
	if math.Abs(lift) < 0.5e-3 {
		return strconv.FormatFloat(lift*1e6+0, 'f', 0, 64) + " um"
	}
	return strconv.FormatFloat(lift*1e3, 'f', 1, 64) + " mm"
}
