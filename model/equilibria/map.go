package equilibria

import "math"

// Map is all that is connected with the shut valve, or with the open one.
// Pressures are in Pa absolute, lifts in m.
type Map struct {
	Valve string
	Kind  string // "spring-valve" or "piloted-valve"
	// Pilot of a piloted valve: Shut or Open; None of another.
	Pilot Pilot

	Travel     float64 // lift at the stop or the gag
	Gagged     bool    // it is the gag
	Contact    float64 // length over which the force between the faces fades; 0 of a piloted valve
	Off        float64 // lift at which the faces touch: what holds them apart
	Atmosphere float64 // where it discharges in the end
	Highest    float64 // the pressure up to which it was followed
	Start      float64 // what the vessel starts with
	// Short: the curve broke off before the stop or the highest pressure, where the
	// fluid has no such state or the equations turn too sharply.
	Short bool

	Branches []Branch
	Folds    []Fold

	// Simmer is the vessel's pressure at which the faces part, lift zero, on the
	// way up; NaN where they do not, or lie apart.
	Simmer float64
	// Pop and Reseat are the folds that a slow rise and fall of the vessel's
	// pressure meets: where the shut valve pops, and, from where it then stands,
	// where it is back on its seat. nil where there is none.
	Pop, Reseat *Fold
	// Loop are the jumps of that rise and fall, in their order.
	Loop []Jump

	// Friction: the same with the friction that a disc at rest has to overcome,
	// upwards at the pop and downwards at the reseat; nil without any.
	Friction *Limits

	// Wave: there is a length of pipe ahead of the valve, of which Point.Wave tells.
	Wave bool
}

// Pilot says which of a piloted valve's two maps it is.
type Pilot int

const (
	None Pilot = iota
	Shut
	Open
)

// Kind of a branch.
type Kind int

const (
	Seated   Kind = iota // the faces carry load, nothing passes but a leak
	Simmer               // the faces just part
	Unstable             // the disc leaves it either way
	Lifted               // open, in balance
	Stopped              // at the stop, which carries what is left over
)

func (k Kind) String() string {
	return [...]string{"seated", "simmer", "unstable", "lifted", "at the stop"}[k]
}

// Branch is a run of equilibria of one kind, in the order of the curve.
type Branch struct {
	Kind   Kind
	Stable bool
	Points []Point
}

// Point is one equilibrium.
type Point struct {
	Lift   float64
	Vessel float64 // Pa
	Inlet  float64 // at the nozzle or in the body, Pa
	// Chamber of a piloted valve, or huddling chamber; NaN where there is none.
	Chamber float64
	Outlet  float64 // behind the valve, Pa
	Flow    float64 // kg/s
	Slope   float64 // of the net force by the lift, N/m: stable below zero; NaN at a hard end
	Held    float64 // net force that a hard end carries, N, opening positive
	// Wave is the least damping of a wave in the inlet pipe about this point, as a
	// share of critical: below zero it grows. NaN without such a pipe, at a hard end
	// and where the disc is unstable anyhow.
	Wave float64
}

// FoldKind says what happens at a fold.
type FoldKind int

const (
	Pops    FoldKind = iota // a greatest pressure: the disc leaves upwards
	Reseats                 // a least pressure: the disc leaves downwards
)

func (k FoldKind) String() string { return [...]string{"pop", "reseat"}[k] }

// Fold is where the pressure turns back along the curve.
type Fold struct {
	Kind FoldKind
	Point
	// Corner: not a smooth fold but a hard end, where a branch in balance meets the
	// seat or the stop.
	Corner bool
}

// Jump is what a disc does at a fold, if the pressure stays.
type Jump struct {
	Vessel   float64 // Pa
	From, To float64 // lift
	Flow     float64 // after it, kg/s
}

// Limits are folds that a slow rise and fall of pressure meets.
type Limits struct{ Pop, Reseat *Fold }

// Set is the pressure at which it pops, gauge, in Pa; NaN where it does not.
func (m *Map) Set() float64 {
	if m.Pop == nil {
		return math.NaN()
	}
	return m.Pop.Vessel - m.Atmosphere
}

// Blowdown is pop less reseat over the set pressure; NaN without both.
func (m *Map) Blowdown() float64 {
	if m.Pop == nil || m.Reseat == nil {
		return math.NaN()
	}
	return (m.Pop.Vessel - m.Reseat.Vessel) / m.Set()
}

// SimmerShare is what it simmers over before it pops, over the set pressure; NaN
// where it does not.
func (m *Map) SimmerShare() float64 {
	if m.Pop == nil {
		return math.NaN()
	}
	return (m.Pop.Vessel - m.Simmer) / m.Set()
}

// Landing is the first jump upwards; false where there is none.
func (m *Map) Landing() (Jump, bool) {
	for _, j := range m.Loop {
		if j.To > j.From {
			return j, true
		}
	}
	return Jump{}, false
}

// Proportional tells whether the lift follows the pressure without a jump.
func (m *Map) Proportional() bool { return m.Kind == "spring-valve" && len(m.Folds) == 0 }

// Stands are the stable equilibria at a vessel's pressure, by rising lift, on the
// chords of the map's points.
func (m *Map) Stands(vessel float64) (out []Point) {
	for _, b := range m.Branches {
		if !b.Stable {
			continue
		}
		for i := 1; i < len(b.Points); i++ {
			p, q := &b.Points[i-1], &b.Points[i]
			if p.Vessel <= vessel && q.Vessel > vessel {
				out = append(out, between(p, q, vessel))
			}
		}
	}
	return out
}
