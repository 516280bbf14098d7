package plant

import (
	"fmt"
	"math"

	"underdisc/model/flow"
	"underdisc/model/network"
)

// SpringMap says where a spring-loaded valve lies in the network.
type SpringMap struct {
	Name                          string
	Spec                          *SpringValve
	Disc                          network.Part
	Vessel, Inlet, Outlet, Behind network.Node // Inlet is the vessel where there is no inlet pipe; Behind where the tailpipe ends
	Flow                          int
	OutletWall, LowPoint          int // -1 where there is none
	Lever                         int // actuator, -1
	Wear                          int
	Place                         string // surroundings that it discharges into in the end
}

// Travel is the lift at which the disc stands at its stop, or at its gag.
func (v *SpringValve) Travel() float64 {
	if v.Gag != nil {
		return math.Min(v.Disc.Travel, v.Gag.Leaves)
	}
	return v.Disc.Travel
}

// Areas on which pressures act, m2: of the seat; up to the lower ring; up to the
// upper ring or the hood.
func (v *SpringValve) Areas() (seat, huddle, upper float64) {
	disc := func(d float64) float64 { return math.Pi / 4 * d * d }
	seat = disc(v.Seat.Diameter)
	huddle, upper = seat, seat
	if v.LowerRing != nil {
		huddle = disc(v.LowerRing.Diameter)
		upper = huddle
	}
	switch {
	case v.UpperRing != nil:
		upper = disc(v.UpperRing.Diameter)
	case v.Hood != nil:
		upper = disc(v.Hood.Diameter)
	}
	return seat, huddle, upper
}

// balanced is the area of the bellows, m2.
func (v *SpringValve) balanced() float64 {
	if v.Bellows == nil {
		return 0
	}
	return math.Pi / 4 * v.Bellows.Diameter * v.Bellows.Diameter
}

// Open is the pressure that the bellows' bonnet is open to; that of the place where
// the valve discharges in the end, where it has none.
func (p *Plant) Open(v *SpringValve) float64 {
	place := v.Outlet
	if v.Bellows != nil {
		place = v.Bellows.Vent
	}
	_, air, ok := p.Around(place)
	if !ok {
		return 0
	}
	return air.Pressure
}

// held is how far a lifting nut holds the disc off its seat.
func (v *SpringValve) held() float64 {
	if v.Lever == nil {
		return 0
	}
	return v.Lever.Nut
}

// PastDisc is the way past the disc of a spring-loaded valve in surroundings of
// the given pressure.
func (m *Medium) PastDisc(v *SpringValve, atmosphere float64) flow.PastDisc {
	leak := v.Seat.Coefficient * v.Seat.LeakArea
	if v.Plug != nil {
		return flow.NewPlug(flow.Plug{Law: m.law(), Voider: m.Void, Bore: v.Nozzle.Bore, Seat: v.Seat.Diameter, Curtain: v.Seat.Coefficient,
			Nozzle: v.Nozzle.Coefficient, Momentum: v.Nozzle.Momentum, Sine: v.Plug.Angle, Leak: leak, Balanced: v.balanced(), Atmosphere: atmosphere})
	}
	l := v.LowerRing
	r := flow.Rings{Law: m.law(), Voider: m.Void, Bore: v.Nozzle.Bore, Nozzle: v.Nozzle.Coefficient, Seat: v.Seat.Diameter, Curtain: v.Seat.Coefficient,
		Lower:    flow.RingGap{Diameter: l.Diameter, Gap: l.Gap, Notches: l.Notches, Cd: l.Coefficient, Carried: l.Carried, CarryLift: l.CarryLift},
		Momentum: v.Nozzle.Momentum, Leak: leak, Balanced: v.balanced(), Atmosphere: atmosphere}
	if u := v.UpperRing; u != nil {
		r.Upper = &flow.RingExit{Diameter: u.Diameter, Height: u.Height, Cd: u.Coefficient}
	}
	if h := v.Hood; h != nil {
		r.Hood = &flow.HoodTurn{Diameter: h.Diameter, Turned: h.Turned, Sine: h.Angle}
	}
	return flow.NewRings(r)
}

// Lifts at which a valve counts as lifted, and as back on its seat, as shares of
// its travel; and at which a lift carries debris away.
const popLift, reseatLift, washLift = 0.2, 0.02, 0.7

// Wear of seats, see network.Wear. The constants are assumed, so that one clean
// stroke of 2.5 s counts about one: half by what passes a gap of 10 mm, half by
// an impact of 0.5 J.
const (
	wearRate     = 2.0    // 1/s
	wearGap      = 0.1e-3 // m
	wearStart    = 4e-6   // m
	wearExponent = 5.6    // droplets (Heymann; from memory)
	wearChoke    = 0.45   // of a gas or steam
	wearImpact   = 1.0    // J
)

func (b *builder) wear(name string, disc network.Part, flow int) int {
	n := b.m.Net
	n.Wears = append(n.Wears, network.Wear{Name: name + ".wear", Mover: disc, Flow: flow, Rate: wearRate, Gap: wearGap, Start: wearStart,
		Exponent: wearExponent, Choke: wearChoke, Impact: wearImpact})
	return len(n.Wears) - 1
}

func inletCell(valve string, i int) string { return fmt.Sprintf("%s.inlet-%d", valve, i+1) }

// springVolumes adds the inlet pipe of a spring-loaded valve.
func (b *builder) springVolumes(p *Plant, q Part) error {
	v := q.Spec.(*SpringValve)
	r := v.Inlet
	if r == nil {
		return nil
	}
	f, err := b.drawn(p, v)
	if err != nil {
		return err
	}
	cells := int(r.Cells)
	for i := range cells {
		b.volume(inletCell(q.Name, i), math.Pi/4*r.Bore*r.Bore*r.Length/float64(cells), f)
	}
	return nil
}

// drawn is what a spring-loaded valve's inlet is full of at the start.
func (b *builder) drawn(p *Plant, v *SpringValve) (filling, error) {
	if d, ok := Spec[Drum](p, v.On); ok && v.Draws == "water" && d.WaterShare > 0 && d.WaterShare < 1 {
		vv, u, err := b.m.Water.PX(d.Pressure, 0)
		if err != nil {
			return filling{}, fmt.Errorf("%s: %w", v.On, err)
		}
		return filling{v: vv, u: u, t: b.temperature(vv, u)}, nil
	}
	return b.before(p, v.On)
}

func (v *SpringValve) draw() network.Draw {
	switch v.Draws {
	case "steam":
		return network.Steam
	case "water":
		return network.Liquid
	}
	return network.All
}

// springValve adds disc, flow, lever and inlet pipe of a spring-loaded valve.
func (b *builder) springValve(p *Plant, q Part) error {
	v, n := q.Spec.(*SpringValve), b.m.Net
	place, _, _ := p.Around(v.Outlet)
	m := SpringMap{Name: q.Name, Spec: v, Vessel: b.nodes[v.On], Outlet: b.nodes[v.Outlet], Lever: -1, OutletWall: b.wallOf(v.Outlet + "-wall"),
		LowPoint: b.wallOf(v.Outlet + "-low-point"), Place: place}
	m.Behind = m.Outlet
	if t, ok := Spec[Tailpipe](p, v.Outlet); ok {
		m.Behind = b.nodes[t.To]
	}
	m.Inlet = m.Vessel
	draw := v.draw()
	if r := v.Inlet; r != nil {
		f, err := b.drawn(p, v)
		if err != nil {
			return err
		}
		cells := int(r.Cells)
		damping := 0.0
		if r.Friction > 0 {
			damping = lineDamping(&b.m.Medium, r, f.v, f.u)
		}
		for i := range cells {
			to := b.nodes[inletCell(q.Name, i)]
			c := network.Channel{Name: fmt.Sprintf("%s.inlet-joint-%d", q.Name, i+1), From: m.Inlet, To: to, Length: r.Length / float64(cells),
				Area: math.Pi / 4 * r.Bore * r.Bore, Diameter: r.Bore, Friction: r.Friction, Damping: damping, Kinetic: true}
			if i == 0 {
				c.FromDraw, c.Length = draw, c.Length/2
				if r.Friction > 0 {
					c.Entrance, c.Exit = 0.5, 1 // as in a line
				}
			}
			n.Channels = append(n.Channels, c)
			m.Inlet = to
		}
		draw = network.All
	}
	if l := v.Lever; l != nil {
		m.Lever = len(n.Actuators)
		n.Actuators = append(n.Actuators, network.Actuator{Name: q.Name + ".lever", Target: l.Pull, Time: l.Time,
			Events: network.ActuatorEvents{Moves: "lever-moves", Open: "lever-pulled", Shut: "lever-let-go", Between: "lever-held"}})
	}
	m.Disc = network.Part(len(n.Movers))
	d, s := &v.Disc, &v.Seat
	law := network.Smoothed
	if d.StickFriction > 0 {
		law = network.Sticking
	}
	loss := -math.Log(s.Restitution)
	faces := &network.SeatFaces{Force: s.Force, Length: s.Length, Ratio: loss / math.Hypot(math.Pi, loss), Held: v.held(),
		Pop: popLift * d.Travel, Reseat: reseatLift * d.Travel, Wash: washLift * d.Travel,
		Events: network.SeatEvents{Part: "simmer", Pop: "pop", Reseat: "reseat", Tight: "tight", Wash: "debris-washed-out"}}
	if s.Debris != nil {
		faces.Debris, faces.Washes = s.Debris.Size, s.Debris.Washes == "yes"
	}
	k := network.Mover{Name: q.Name + ".disc", Mass: d.Mass, Travel: v.Travel(), Reach: d.Travel, Rate: v.Spring.Rate, Preload: v.Spring.Preload,
		Weight: -d.Mass * b.m.Gravity, Damping: d.Damping, Law: law, Slide: d.Friction, Stick: d.StickFriction, Speed: 1,
		Restitution: d.Restitution, HoldSpeed: d.HoldSpeed, PastFlow: len(n.Flows) + 1, Seat: faces,
		Events: network.MoverEvents{Bounce: "full-lift-bounce", High: "full-lift", Drop: "leaves-stop", Leave: "disc-lift", Low: "disc-seated"}}
	if v.Travel() < d.Travel {
		k.Events.Bounce, k.Events.High, k.Events.Drop = "strikes-gag", "held-by-gag", "leaves-gag"
	}
	if l := v.Lever; l != nil {
		k.Lever, k.LeverForce = m.Lever+1, l.Ratio*l.Force
	}
	n.Movers = append(n.Movers, k)
	m.Flow = len(n.Flows)
	seat, _, _ := v.Areas()
	n.Flows = append(n.Flows, network.Flow{Name: q.Name + ".seat", From: m.Inlet, FromDraw: draw, To: m.Outlet, Law: b.m.law(), Void: b.m.Void,
		Past: b.m.PastDisc(v, p.Open(v)), Seat: seat, Balanced: v.balanced(),
		Opening: network.Opening{Leak: s.Coefficient * s.LeakArea, Part: m.Disc, Cd: s.Coefficient, Bore: math.Pi / 4 * v.Nozzle.Bore * v.Nozzle.Bore, Diameter: s.Diameter}})
	m.Wear = b.wear(q.Name, m.Disc, m.Flow)
	b.m.Springs = append(b.m.Springs, m)
	return nil
}
