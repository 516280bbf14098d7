package plant

// Plant is a set of named parts, in the order of the file.
type Plant struct {
	Parts []Part
}

// Part is one named part. Spec points at one of the structures of kinds.go
// and is never written to after the part has been made.
type Part struct {
	Name string // unique in the plant, a word in kebab case
	Kind string // as in Kinds
	Spec any
}

// Find returns the part of that name.
func (p *Plant) Find(name string) (Part, bool) {
	for _, q := range p.Parts {
		if q.Name == name {
			return q, true
		}
	}
	return Part{}, false
}

// OfKind returns the parts of a kind, in order.
func (p *Plant) OfKind(kind string) []Part {
	var out []Part
	for _, q := range p.Parts {
		if q.Kind == kind {
			out = append(out, q)
		}
	}
	return out
}

// Around is the place that a pipe leads to in the end, past the headers that it
// opens into; that place itself; false if it leads nowhere.
func (p *Plant) Around(pipe string) (name string, s *Surroundings, ok bool) {
	if s, ok = Spec[Surroundings](p, pipe); ok {
		return pipe, s, true
	}
	for range p.Parts {
		t, ok := Spec[Tailpipe](p, pipe)
		if !ok {
			return "", nil, false
		}
		if s, ok = Spec[Surroundings](p, t.To); ok {
			return t.To, s, true
		}
		pipe = t.To
	}
	return "", nil, false // in a circle
}

// Spec returns the structure of the named part if it is of type *T.
func Spec[T any](p *Plant, name string) (*T, bool) {
	q, ok := p.Find(name)
	if !ok {
		return nil, false
	}
	s, ok := q.Spec.(*T)
	return s, ok
}

// Kind is one entry of the register of part kinds.
type Kind struct {
	Name string // the word in files
	Doc  string
	New  func() any // a pointer to a zero structure
}

// Kinds lists every kind of part, in the order in which people meet them.
func Kinds() []Kind {
	return []Kind{
		{"ideal-gas", "the gas that fills the plant", func() any { return new(Gas) }},
		{"thermal-gas", "a gas whose heat capacity varies with temperature fills the plant", func() any { return new(ThermalGas) }},
		{"water", "steam and water fill the plant, IAPWS-IF97", func() any { return new(Water) }},
		{"site", "what surrounds the whole plant", func() any { return new(Site) }},
		{"surroundings", "a place of constant pressure and temperature", func() any { return new(Surroundings) }},
		{"vessel", "a rigid adiabatic volume", func() any { return new(Vessel) }},
		{"drum", "a vessel of water and steam", func() any { return new(Drum) }},
		{"heat-input", "the heat into a drum, constant or controlled", func() any { return new(HeatInput) }},
		{"inflow", "a mass flow into a vessel, constant or controlled", func() any { return new(Inflow) }},
		{"load", "takes steam from a drum", func() any { return new(Load) }},
		{"operators", "watch a gauge and work the fire", func() any { return new(Operators) }},
		{"line", "joins a vessel to a valve", func() any { return new(Line) }},
		{"piloted-valve", "a main valve with chamber, pilot and coil", func() any { return new(PilotedValve) }},
		{"spring-valve", "a spring-loaded safety or relief valve", func() any { return new(SpringValve) }},
		{"tailpipe", "leads from a valve to the surroundings or into another pipe", func() any { return new(Tailpipe) }},
		{"neighbour", "another valve that discharges into a pipe", func() any { return new(Neighbour) }},
		{"sensor", "follows a pressure with a lag", func() any { return new(Sensor) }},
		{"pressure-switch", "makes on rising pressure, resets on falling", func() any { return new(Switch) }},
		{"relay", "puts the supply on a coil", func() any { return new(Relay) }},
		{"lamp", "a lamp on the panel", func() any { return new(Lamp) }},
	}
}
