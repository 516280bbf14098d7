package plant

import (
	"math"
	"reflect"
	"slices"
	"strconv"

	"underdisc/model/unit"
)

// Issue is one thing that is wrong with a plant as a whole. "Path is Found;
// want Want" reads as a sentence.
type Issue struct {
	Path  string // the parameter to mend; or a part; or a kind of which parts lack
	Found string
	Want  string
}

func (i Issue) String() string { return i.Path + ": " + i.Found + "; want " + i.Want }

// Check lists everything that is wrong with the plant: names, kinds, values
// out of range, references that lead nowhere, parts that lack or that two
// others claim, and parameters that contradict each other. A plant without
// issues can be built and started. Where names or kinds are wrong, only that
// is listed: what hangs on them would mislead.
func (p *Plant) Check() []Issue {
	if out := p.checkNames(); out != nil {
		return out
	}
	return slices.Concat(p.CheckRunning(), p.checkStart(), p.checkSpringStart())
}

// CheckRunning is Check without what concerns the start alone, for a
// description that takes over during a run: there, the pressures of the start
// are past.
func (p *Plant) CheckRunning() []Issue {
	if out := p.checkNames(); out != nil {
		return out
	}
	out := slices.Concat(p.checkValues(), p.checkNumbers(), p.checkClaims())
	for _, q := range p.Parts {
		switch s := q.Spec.(type) {
		case *PilotedValve:
			out = append(out, checkValve(q.Name, s)...)
		case *SpringValve:
			out = append(out, p.checkSpring(q.Name, s)...)
		case *Switch:
			out = append(out, checkSwitch(q.Name, s)...)
		case *Line:
			if r := s.Run; r != nil && r.Cells != math.Trunc(r.Cells) {
				out = append(out, Issue{q.Name + ".run.cells", strconv.FormatFloat(r.Cells, 'g', -1, 64), "a whole number"})
			}
			if r := s.Run; r != nil {
				// The pipe's own equations know no sound barrier; the orifice at its
				// end does, as long as it is the narrower one.
				if bore := math.Pi / 4 * r.Bore * r.Bore; s.Area > 1.001*bore {
					out = append(out, Issue{q.Name + ".area", unit.Format(s.Area, unit.Area) + ", wider than its pipe", "at most " + unit.Format(bore, unit.Area) + ", the bore of its run"})
				}
			}
			if motion(s) != nil && s.Run == nil {
				out = append(out, Issue{q.Name + ".block-valve.motion", "a block valve that travels, on a line without a length of pipe behind it", "a key run: the pipe from block valve to valve"})
			}
		case *HeatInput:
			out = append(out, checkFire(q.Name, s)...)
		case *Inflow:
			out = append(out, checkFeed(q.Name, s)...)
		case *Operators:
			out = append(out, p.checkOperators(q.Name, s)...)
		case *Sensor:
			out = append(out, p.checkSensor(q.Name, s)...)
		case *Tailpipe:
			if _, _, ok := p.Around(q.Name); !ok {
				if _, there := Spec[Tailpipe](p, s.To); there {
					out = append(out, Issue{q.Name + ".to", s.To + ", which leads back to it", "a pipe that leads to the surroundings"})
				}
			}
		case *Drum:
			out = append(out, checkDrum(q.Name, s)...)
		}
	}
	return out
}

// checkNames looks at the parts themselves: name, kind and structure.
func (p *Plant) checkNames() []Issue {
	var out []Issue
	var kinds []string
	for _, k := range Kinds() {
		kinds = append(kinds, k.Name)
	}
	seen := map[string]bool{}
	for i, q := range p.Parts {
		path := q.Name
		if path == "" {
			path = "part " + strconv.Itoa(i+1)
		}
		if !kebab(q.Name) {
			out = append(out, Issue{path, "named " + strconv.Quote(q.Name), "a name in lower case, words joined by hyphens, such as block-valve or valve-2"})
		}
		if seen[q.Name] {
			out = append(out, Issue{path, "the name of two parts", "a name of its own for each part"})
		}
		seen[q.Name] = true
		if !slices.Contains(kinds, q.Kind) {
			out = append(out, Issue{path, "of the unknown kind " + strconv.Quote(q.Kind), "one of the kinds " + list("", kinds)})
		} else if _, ok := structure(q); !ok {
			out = append(out, Issue{path, "a " + q.Kind + " without its parameters", "the structure that belongs to its kind"})
		}
	}
	return out
}

// checkValues looks at each parameter alone: range, words, references.
func (p *Plant) checkValues() []Issue {
	var out []Issue
	for _, prm := range p.Params() {
		if err := p.allow(prm, prm.Value); err != nil {
			e := err.(*ValueError) // allow gives no other
			out = append(out, Issue{e.Path, e.Found, e.Want})
		}
	}
	return out
}

// checkNumbers looks for the parts of which there must be one.
func (p *Plant) checkNumbers() []Issue {
	var out []Issue
	fluids := slices.Concat(p.OfKind("ideal-gas"), p.OfKind("thermal-gas"), p.OfKind("water"))
	for _, k := range []struct {
		kind string
		all  []Part
	}{{"ideal-gas", fluids}, {"site", p.OfKind("site")}} {
		if len(k.all) == 0 {
			want := "one part of the kind " + k.kind
			if k.kind == "ideal-gas" {
				want += ", thermal-gas or water"
			}
			out = append(out, Issue{k.kind, "not in this plant", want})
			continue
		}
		for _, q := range k.all[1:] {
			out = append(out, Issue{q.Name, "a second " + q.Kind + " beside " + k.all[0].Name, "just one " + k.kind})
		}
	}
	if len(fluids) == 1 {
		out = append(out, p.checkFluid(fluids[0])...)
	}
	return out
}

// checkClaims looks at what leads to a valve: one line, and no more than one
// relay.
func (p *Plant) checkClaims() []Issue {
	var out []Issue
	line, relay := map[string]string{}, map[string]string{} // by valve
	for _, q := range p.Parts {
		switch s := q.Spec.(type) {
		case *Line:
			if first, ok := line[s.To]; ok {
				out = append(out, Issue{q.Name + ".to", s.To + ", which " + first + " feeds already", "one line to each valve"})
				continue
			}
			line[s.To] = q.Name
		case *Relay:
			if first, ok := relay[s.Valve]; ok {
				out = append(out, Issue{q.Name + ".valve", s.Valve + ", whose coil " + first + " feeds already", "at most one relay for each valve"})
				continue
			}
			relay[s.Valve] = q.Name
		}
	}
	for _, q := range p.OfKind("piloted-valve") {
		if _, ok := line[q.Name]; !ok {
			out = append(out, Issue{q.Name, "fed by no line", "a line whose key \"to\" names " + q.Name})
		}
	}
	return out
}

// checkValve looks at a valve's dimensions together.
func checkValve(name string, v *PilotedValve) []Issue {
	var out []Issue
	length := func(m float64) string { return unit.Format(m, unit.Length) }
	if !(v.Seat.Diameter < v.Disc.GuideDiameter) {
		// The ring between them is what opens the disc.
		out = append(out, Issue{name + ".seat.diameter",
			length(v.Seat.Diameter) + ", which leaves no ring inside the guide of " + length(v.Disc.GuideDiameter),
			"less than " + length(v.Disc.GuideDiameter)})
	}
	if !(v.Disc.Travel <= v.Seat.Diameter) {
		// The curtain passes as much as the bore at a quarter of the diameter;
		// more than four times that is a slip of the unit.
		out = append(out, Issue{name + ".disc.travel",
			length(v.Disc.Travel) + ", more than the seat is wide",
			"at most " + length(v.Seat.Diameter)})
	}
	if swept := math.Pi / 4 * v.Disc.GuideDiameter * v.Disc.GuideDiameter * v.Disc.Travel; !(v.Chamber.Volume > swept) {
		out = append(out, Issue{name + ".chamber.volume",
			unit.Format(v.Chamber.Volume, unit.Volume) + ", all of which the disc would sweep",
			"more than " + unit.Format(swept, unit.Volume) + ", guide area times travel"})
	}
	if !(v.Disc.StickFriction >= v.Disc.Friction) {
		out = append(out, Issue{name + ".disc.stick-friction",
			unit.Format(v.Disc.StickFriction, unit.Force) + ", less than when it slides",
			"at least " + unit.Format(v.Disc.Friction, unit.Force)})
	}
	if a := v.Plunger.Adjust; a != nil && !(a.Lost < v.Plunger.Stroke) {
		out = append(out, Issue{name + ".plunger.adjustment.lost-stroke",
			length(a.Lost) + ", the whole stroke",
			"less than " + length(v.Plunger.Stroke)})
	}
	if bore := math.Sqrt(4 / math.Pi * v.Pilot.Area); !(v.Plunger.Stroke <= bore) {
		out = append(out, Issue{name + ".plunger.stroke",
			length(v.Plunger.Stroke) + ", more than the pilot's seat is wide",
			"at most " + length(bore)})
	}
	return out
}

// checkSwitch looks at set and reset, with the drift on both.
func checkSwitch(name string, s *Switch) []Issue {
	var out []Issue
	if !(s.Reset < s.Set) {
		out = append(out, Issue{name + ".reset",
			unit.Format(s.Reset, unit.Pressure) + ", not below the set pressure",
			"less than " + unit.Format(s.Set, unit.Pressure)})
	}
	if !(s.Reset+s.Drift > 0) {
		out = append(out, Issue{name + ".drift",
			unit.Format(s.Drift, unit.PressureDifference) + ", which puts the reset below a vacuum",
			"more than " + unit.Format(-s.Reset, unit.PressureDifference)})
	}
	return out
}

// checkStart looks at the pressures at the start: flow begins at rest and
// outwards, and a higher pressure in the outlet could hold no disc shut.
func (p *Plant) checkStart() []Issue {
	var out []Issue
	for _, q := range p.OfKind("line") {
		line := q.Spec.(*Line)
		inside, ok1 := p.pressure(line.From)
		valve, ok2 := Spec[PilotedValve](p, line.To)
		if !ok1 || !ok2 {
			continue // checkValues reports it, here and below
		}
		place, around, ok := p.Around(valve.Outlet)
		if !ok || inside >= around.Pressure {
			continue
		}
		out = append(out, Issue{line.From + ".pressure",
			unit.Format(inside, unit.Pressure) + ", below the pressure at the outlet of " + line.To,
			"at least " + unit.Format(around.Pressure, unit.Pressure) + ", as in " + place})
	}
	return out
}

// structure is the part's own structure, if it is of the type that its kind
// asks for.
func structure(q Part) (reflect.Value, bool) {
	for _, k := range Kinds() {
		if k.Name == q.Kind {
			v := reflect.ValueOf(q.Spec)
			if !v.IsValid() || v.Type() != reflect.TypeOf(k.New()) || v.IsNil() {
				return reflect.Value{}, false
			}
			return v.Elem(), true
		}
	}
	return reflect.Value{}, false
}

// allow checks a value against what the parameter and the plant allow.
func (p *Plant) allow(prm Param, val Value) error {
	if err := fits(prm, val); err != nil {
		return err
	}
	if prm.Ref == nil {
		return nil
	}
	q, ok := p.Find(val.Word)
	if ok && slices.Contains(prm.Ref, q.Kind) {
		return nil
	}
	var right []string
	for _, q := range p.Parts {
		if slices.Contains(prm.Ref, q.Kind) {
			right = append(right, q.Name)
		}
	}
	kinds := list("", prm.Ref)
	want := "a " + kinds + ", which this plant lacks"
	if right != nil {
		want = "a " + kinds + ": " + list("", right)
	}
	if !ok {
		return &ValueError{prm.Path, "no part is named " + strconv.Quote(val.Word), want}
	}
	return &ValueError{prm.Path, val.Word + " is a " + q.Kind, want}
}

// fits checks a value against the parameter alone.
func fits(prm Param, val Value) error {
	switch {
	case prm.Enum != nil:
		if !slices.Contains(prm.Enum, val.Word) {
			return &ValueError{prm.Path, strconv.Quote(val.Word), list("", prm.Enum)}
		}
	case prm.Ref != nil:
		if !kebab(val.Word) {
			return &ValueError{prm.Path, strconv.Quote(val.Word), "the name of a " + list("", prm.Ref)}
		}
	case !prm.Range.Contains(val.Number):
		return &ValueError{prm.Path, unit.Format(val.Number, prm.Dim), prm.Range.In(prm.Dim)}
	}
	return nil
}

// kebab tells whether s is lower-case words joined by single hyphens, such
// as "block-valve" or "valve-2"; it starts with a letter.
func kebab(s string) bool {
	for i := range len(s) {
		c := s[i]
		letter := c >= 'a' && c <= 'z'
		digit := c >= '0' && c <= '9'
		hyphen := c == '-' && i > 0 && i < len(s)-1 && s[i-1] != '-'
		if !letter && !hyphen && (!digit || i == 0) {
			return false
		}
	}
	return s != ""
}
