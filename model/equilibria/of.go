package equilibria

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underdisc/model/plant"
)

// Options say how a map is made.
type Options struct {
	// Highest is the vessel's pressure up to which it is followed, Pa; 0: half as
	// much again as the spring holds, or as the vessel starts with.
	Highest float64
	// Pilot of a piloted valve: Open where it is None.
	Pilot Pilot
	// Off, if it is there, is what holds a spring-loaded valve's disc off its seat now,
	// m, in place of what nut and debris were when they came.
	Off *float64
	// Plain leaves out what takes two more curves: the limits with friction.
	Plain bool
	// limits alone are wanted, of which friction, if there is any, has its own.
	limits bool
}

// Valves are the names of the valves that have maps, in the plant's order.
func Valves(m *plant.Model) (names []string) {
	for i := range m.Valves {
		names = append(names, m.Valves[i].Name)
	}
	for i := range m.Springs {
		names = append(names, m.Springs[i].Name)
	}
	return names
}

// Of makes the map of a valve.
func Of(m *plant.Model, part string, o Options) (*Map, error) {
	if i := slices.IndexFunc(m.Springs, func(s plant.SpringMap) bool { return s.Name == part }); i >= 0 {
		return ofSpring(m, &m.Springs[i], o)
	}
	if i := slices.IndexFunc(m.Valves, func(v plant.ValveMap) bool { return v.Name == part }); i >= 0 {
		return ofPiloted(m, &m.Valves[i], o)
	}
	names := Valves(m)
	if len(names) == 0 {
		return nil, fmt.Errorf("found %q, but the plant has no valve", part)
	}
	return nil, fmt.Errorf("found %q, want one of its valves: %s", part, strings.Join(names, ", "))
}

// Thresholds are the limits that a slow rise and fall of the vessel's pressure
// meets, friction included; nil where there is none.
func Thresholds(m *plant.Model, part string) (Limits, error) {
	return ThresholdsOff(m, part, nil)
}

// ThresholdsOff are those of a spring-loaded valve whose disc is held off its seat by
// as much, see Options.Off.
func ThresholdsOff(m *plant.Model, part string, off *float64) (Limits, error) {
	k, err := Of(m, part, Options{limits: true, Off: off})
	switch {
	case err != nil:
		return Limits{}, err
	case k.Friction != nil:
		return *k.Friction, nil
	}
	return Limits{k.Pop, k.Reseat}, nil
}

// PopOf is the vessel's pressure at which a valve pops, Pa absolute, without
// friction; NaN where it does not.
func PopOf(m *plant.Model, part string) (float64, error) {
	k, err := Of(m, part, Options{Plain: true})
	return pressureOf(k, err, func() *Fold { return k.Pop })
}

// ReseatOf is the vessel's pressure at which it reseats.
func ReseatOf(m *plant.Model, part string) (float64, error) {
	k, err := Of(m, part, Options{Plain: true})
	return pressureOf(k, err, func() *Fold { return k.Reseat })
}

func pressureOf(_ *Map, err error, f func() *Fold) (float64, error) {
	if err != nil {
		return math.NaN(), err
	}
	if at := f(); at != nil {
		return at.Vessel, nil
	}
	return math.NaN(), nil
}

func ofSpring(m *plant.Model, s *plant.SpringMap, o Options) (*Map, error) {
	v, k := s.Spec, newSpring(m, s, o)
	out := &Map{Valve: s.Name, Kind: "spring-valve", Travel: v.Travel(), Gagged: v.Travel() < v.Disc.Travel, Contact: v.Seat.Length, Off: k.off, Atmosphere: k.out.end,
		Highest: o.Highest, Start: k.from.start, Wave: v.Inlet != nil}
	if out.Highest == 0 {
		out.Highest = 1.5 * k.pRef
	}
	f := &follower{s: k, soft: true, travel: out.Travel, length: v.Seat.Length, off: k.off, lowest: k.lowest(), highest: out.Highest, most: 0.12}
	stick := v.Disc.StickFriction
	return out, f.make(out, o, stick, stick)
}

// make fills a map, with what friction holds the disc against rising and against
// falling, N.
func (f *follower) make(m *Map, o Options, rising, falling float64) error {
	rubs := (rising > 0 || falling > 0) && !o.Plain
	if !rubs || !o.limits {
		if err := f.follow(); err != nil {
			return fmt.Errorf("%s: %w", m.Valve, err)
		}
		f.fill(m)
	}
	if rubs {
		m.Friction = f.rubbed(-rising, falling)
	}
	return nil
}

// lowest is a pressure a little above all that can stand behind the disc when it
// is shut.
func (k *spring) lowest() float64 {
	p := k.out.end
	for i := range k.out.pipes {
		if q := &k.out.pipes[i]; len(q.beside) > 0 {
			// What beside it is choked cannot drive the pipe above this share of
			// its own pressure.
			area := 0.0
			for j := range q.beside {
				area += q.beside[j].area * q.beside[j].st.P
			}
			p += area / q.exit
		}
	}
	return p + 0.03*(k.pRef-k.out.end)
}

func ofPiloted(m *plant.Model, v *plant.ValveMap, o Options) (*Map, error) {
	pilot := o.Pilot
	if pilot == None {
		pilot = Open
	}
	k, err := newPiloted(m, v, pilot)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", v.Name, err)
	}
	out := &Map{Valve: v.Name, Kind: "piloted-valve", Pilot: pilot, Travel: v.Spec.Disc.Travel, Atmosphere: k.out.end, Highest: o.Highest,
		Start: k.from.start, Simmer: math.NaN()}
	if out.Highest == 0 {
		out.Highest = 1.5 * k.pRef
	}
	f := &follower{s: k, travel: out.Travel, lowest: k.out.end + 0.002*k.pRef, highest: out.Highest, most: 0.02}
	d := &v.Spec.Disc
	up, down := d.StickFriction, d.StickFriction
	if d.Bond != nil {
		up, down = up+d.Bond.Shut, down+d.Bond.Open
	}
	return out, f.make(out, o, up, down)
}
