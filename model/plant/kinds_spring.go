package plant

// SpringValve is a spring-loaded safety or relief valve: nozzle, seat, the rings
// or the hood that make its own flow open it, and a spring. Its lift x counts up
// from the seat. It has an upper ring, or a hood, or a plug.
type SpringValve struct {
	On        string     `key:"on" ref:"vessel|drum" doc:"the vessel that it stands on"`
	Draws     string     `key:"draws" enum:"steam|water|all" doc:"what it takes from a drum"`
	Outlet    string     `key:"outlet" ref:"tailpipe|surroundings" doc:"where it discharges"`
	Inlet     *Run       `key:"inlet" doc:"the length of pipe ahead of it; without one its nozzle stands on the vessel"`
	Nozzle    Nozzle     `key:"nozzle" doc:"the nozzle below the seat"`
	Seat      SpringSeat `key:"seat" doc:"the seat"`
	LowerRing *LowerRing `key:"lower-ring" doc:"the adjusting ring on the nozzle, and the huddling chamber that it closes; not for a plug"`
	UpperRing *UpperRing `key:"upper-ring" doc:"the adjusting ring on the guide"`
	Hood      *Hood      `key:"hood" doc:"a hood on the disc that turns the stream down"`
	Plug      *Plug      `key:"plug" doc:"the trim of a valve for liquid that opens in proportion"`
	Disc      SpringDisc `key:"disc" doc:"disc and spindle"`
	Spring    Spring     `key:"spring" doc:"the spring that pushes the disc shut"`
	Lever     *Lever     `key:"lever" doc:"the lifting lever"`
	Gag       *Gag       `key:"gag" doc:"the gag that holds the spindle down for a pressure test of the boiler"`
	Bellows   *Bellows   `key:"bellows" doc:"bellows that keep back pressure off part of the disc"`
}

// Nozzle is the bore below a spring-loaded valve's seat.
type Nozzle struct {
	Bore        float64 `key:"bore" dim:"length" range:"(0,2]" doc:"narrowest diameter"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
	Momentum    float64 `key:"momentum-share" dim:"ratio" range:"[0,2]" doc:"share of the stream's momentum in the nozzle that the disc turns; of a plug, of that in the curtain"`
}

// SpringSeat is the lapped seat of a spring-loaded valve. Its faces touch first
// with their highest asperities, so the force between them fades with distance:
//
//	Force exp(-x/Length)
//
// and what little passes between them is the simmer.
type SpringSeat struct {
	Diameter    float64 `key:"diameter" dim:"length" range:"(0,2]" doc:"mean diameter of the seat: the area that pressure acts on"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient of the curtain"`
	Force       float64 `key:"contact-force" dim:"force" range:"(0,1e6]" doc:"force between the faces where it starts to leak; an assumed value"`
	Length      float64 `key:"contact-length" dim:"length" range:"[1e-7,1e-3]" doc:"distance over which that force fades; an assumed value"`
	Restitution float64 `key:"restitution" dim:"ratio" range:"[0.01,0.95]" doc:"speed after a hard impact on the seat over speed before; a soft one, which the asperities take, loses more"`
	LeakArea    float64 `key:"leak-area" dim:"area" range:"[0,1]" doc:"area of a leak past the shut seat"`
	Debris      *Debris `key:"debris" doc:"what lies on the seat"`
}

// Debris keeps the faces apart.
type Debris struct {
	Size   float64 `key:"size" dim:"length" range:"[0,0.01]" doc:"how far it holds the disc off the seat"`
	Washes string  `key:"washes-out" enum:"yes|no" doc:"whether a full lift carries it away"`
}

// LowerRing is the ring round the nozzle. Turned up, it closes the gap through
// which the huddling chamber empties.
type LowerRing struct {
	Diameter    float64 `key:"diameter" dim:"length" range:"(0,2]" doc:"diameter at which the gap lies"`
	Gap         float64 `key:"gap" dim:"length" range:"[0,0.1]" doc:"gap over the ring with the disc shut"`
	Notches     float64 `key:"notch-area" dim:"area" range:"[0,0.1]" doc:"area of the ring's notches, which it cannot close"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient of the gap"`
	Carried     float64 `key:"carried-over" dim:"ratio" range:"[0,0.99]" doc:"share of the kinetic energy behind the curtain that reaches the gap at a large lift, as in a labyrinth"`
	CarryLift   float64 `key:"carry-lift" dim:"length" range:"(0,1]" doc:"lift at which half of that does"`
	Pitch       float64 `key:"notch-travel" dim:"length" range:"(0,0.01]" doc:"how far one notch of turning moves the ring"`
}

// UpperRing is the ring round the guide. It does not move with the disc: turned
// down, it leaves what it has gathered below a smaller way out.
type UpperRing struct {
	Diameter    float64 `key:"diameter" dim:"length" range:"(0,2]" doc:"diameter up to which it gathers what passes"`
	Height      float64 `key:"exit-height" dim:"length" range:"(0,1]" doc:"height of the way out below it"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient of that way"`
	Pitch       float64 `key:"notch-travel" dim:"length" range:"(0,0.01]" doc:"how far one notch of turning moves the ring"`
}

// Hood is a hood on the disc.
type Hood struct {
	Diameter float64 `key:"diameter" dim:"length" range:"(0,2]" doc:"outer diameter"`
	Turned   float64 `key:"turned-share" dim:"ratio" range:"[0,1]" doc:"share of the stream that it turns"`
	Angle    float64 `key:"angle" dim:"ratio" range:"[-1,1]" doc:"sine of the angle at which the stream leaves it, downwards"`
}

// Plug is the trim of a liquid valve.
type Plug struct {
	Angle float64 `key:"angle" dim:"ratio" range:"[-1,1]" doc:"sine of the angle at which the stream leaves the disc, downwards"`
}

// SpringDisc is what moves: disc, holder and spindle.
type SpringDisc struct {
	Mass          float64 `key:"mass" dim:"mass" range:"(0,1000]" doc:"moving mass"`
	Travel        float64 `key:"travel" dim:"length" range:"(0,1]" doc:"lift at the stop"`
	Damping       float64 `key:"damping" dim:"damping" range:"[0,1e7]" doc:"viscous damping"`
	Friction      float64 `key:"friction" dim:"force" range:"[0,1e6]" doc:"dry friction of the guide while it slides"`
	StickFriction float64 `key:"stick-friction" dim:"force" range:"[0,1e6]" doc:"force that starts it from rest"`
	Restitution   float64 `key:"restitution" dim:"ratio" range:"[0,1)" doc:"speed after a contact with the stop over speed before"`
	HoldSpeed     float64 `key:"hold-speed" dim:"speed" range:"(0,1]" doc:"slower than this after that contact, it may stay"`
}

// Lever lifts the spindle by hand.
type Lever struct {
	Ratio float64 `key:"ratio" dim:"ratio" range:"[1,100]" doc:"force on the spindle over force of the hand"`
	Force float64 `key:"hand-force" dim:"force" range:"(0,1e5]" doc:"what the hand pulls with at most"`
	Pull  float64 `key:"pull" dim:"ratio" range:"[0,1]" doc:"share of that which is asked for"`
	Time  float64 `key:"pull-time" dim:"time" range:"(0,100]" doc:"time in which the hand takes it up or lets go"`
	Nut   float64 `key:"nut-holds" dim:"length" range:"[0,0.1]" doc:"how far a lifting nut that has turned down holds the disc off its seat"`
}

// Gag is a screw over the spindle.
type Gag struct {
	Leaves float64 `key:"leaves-lift" dim:"length" range:"[1e-5,1]" doc:"lift that it leaves; more than the disc's travel: it is off"`
}

// Bellows take the pressure of the surroundings to the back of the disc.
type Bellows struct {
	Diameter float64 `key:"diameter" dim:"length" range:"(0,2]" doc:"mean diameter"`
	Vent     string  `key:"vent" ref:"surroundings" doc:"where the bonnet above them is open to"`
}
