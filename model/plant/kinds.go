package plant

// This file lists the kinds of part a plant file may name, and the parameters
// of each. All values are SI once they are in these structs.
//
// Tags, read by the parameter walker (param.go), the loader and the schema:
//
//	key    the word in files and in paths
//	dim    the dimension, as named in model/unit
//	range  the interval allowed, in SI, as "(0,inf)", "[0,1]"
//	enum   the words allowed, separated by |
//	ref    the kinds a name may refer to, separated by |
//	doc    one line for people
//
// A pointer to a struct is a block that a plant may lack; a missing block is
// an absence of the hardware, never a default.

// Gas is a calorically perfect gas: p v = R T, u = R T/(gamma - 1).
type Gas struct {
	HeatCapacityRatio float64 `key:"heat-capacity-ratio" dim:"ratio" range:"(1,2]" doc:"cp/cv"`
	GasConstant       float64 `key:"gas-constant" dim:"gas-constant" range:"(0,1e5]" doc:"R of this gas"`
	Viscosity         float64 `key:"viscosity" dim:"viscosity" range:"(0,1]" doc:"dynamic viscosity, constant; used by clearances"`
}

// ThermalGas is a gas with p v = R T whose heat capacity varies with
// temperature, from 60 to 2000 K (nitrogen to 1000 K).
type ThermalGas struct {
	Substance string `key:"substance" enum:"air|nitrogen" doc:"the gas"`
}

// Water is steam and water in equilibrium. The tables hold from 0.02 to 165 bar,
// superheated steam to 220 bar.
type Water struct{}

// Site holds what surrounds the whole plant.
type Site struct {
	Gravity float64 `key:"gravity" dim:"acceleration" range:"[0,100]" doc:"acceleration of gravity, along the disc's downward axis"`
}

// Surroundings is a place of constant pressure and temperature.
type Surroundings struct {
	Pressure    float64 `key:"pressure" dim:"pressure" range:"(0,1e9]" doc:"pressure of the surroundings"`
	Temperature float64 `key:"temperature" dim:"temperature" range:"(0,3000]" doc:"temperature of the surroundings"`
}

// Vessel is a rigid adiabatic volume.
type Vessel struct {
	Volume      float64 `key:"volume" dim:"volume" range:"(0,1e6]" doc:"inside volume"`
	Pressure    float64 `key:"pressure" dim:"pressure" range:"(0,1e9]" doc:"pressure at the start"`
	Temperature float64 `key:"temperature" dim:"temperature" range:"(0,3000]" doc:"temperature at the start"`
}

// Drum is a rigid volume of water and steam with a wall of metal.
type Drum struct {
	Volume     float64   `key:"volume" dim:"volume" range:"(0,1e6]" doc:"inside volume"`
	Pressure   float64   `key:"pressure" dim:"pressure" range:"[2000,1.65e7]" doc:"pressure at the start"`
	WaterShare float64   `key:"water-share" dim:"ratio" range:"[0,1]" doc:"share of the volume that is water at the start"`
	Superheat  float64   `key:"superheat" dim:"temperature-difference" range:"[-300,400]" doc:"how far above saturation at the start, if there is no water; below, if it is full"`
	Wall       *PipeWall `key:"wall" doc:"the metal of the shell"`
}

// HeatInput is a constant heat into a drum.
type HeatInput struct {
	Into  string  `key:"into" ref:"drum" doc:"the drum that is heated"`
	Power float64 `key:"power" dim:"power" range:"[0,1e10]" doc:"heat to the water and steam"`
}

// Inflow is a constant mass flow into a vessel or drum.
type Inflow struct {
	Into        string  `key:"into" ref:"vessel|drum" doc:"the vessel that is fed"`
	MassFlow    float64 `key:"mass-flow" dim:"mass-flow" range:"[0,1e4]" doc:"mass flow"`
	Temperature float64 `key:"temperature" dim:"temperature" range:"(0,3000]" doc:"temperature of what flows in"`
}

// Line joins a vessel to a valve: an orifice, and a volume that counts as
// part of the valve's body.
type Line struct {
	From        string      `key:"from" ref:"vessel|drum" doc:"the vessel it leaves; from a drum it takes steam"`
	To          string      `key:"to" ref:"piloted-valve" doc:"the valve it feeds"`
	Volume      float64     `key:"volume" dim:"volume" range:"(0,1e4]" doc:"volume of line and body with the disc shut"`
	Area        float64     `key:"area" dim:"area" range:"(0,100]" doc:"narrowest flow area"`
	Coefficient float64     `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient of that area"`
	BlockValve  *BlockValve `key:"block-valve" doc:"the isolating valve in the line"`
	Run         *Run        `key:"run" doc:"the length of pipe ahead of the orifice, in which the fluid has inertia and friction"`
}

// Run is a length of pipe, computed as a row of cells.
type Run struct {
	Length   float64 `key:"length" dim:"length" range:"(0,1000]" doc:"length of the pipe"`
	Bore     float64 `key:"bore" dim:"length" range:"(0,2]" doc:"inside diameter"`
	Friction float64 `key:"friction-factor" dim:"ratio" range:"[0,1]" doc:"Darcy's friction factor"`
	Cells    float64 `key:"cells" dim:"ratio" range:"[1,1000]" doc:"number of cells, a whole number"`
}

// BlockValve is a gate in the line, in series with the line's own orifice.
type BlockValve struct {
	Area        float64 `key:"area" dim:"area" range:"(0,100]" doc:"flow area when fully open"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
	Opening     float64 `key:"opening" dim:"ratio" range:"[0,1]" doc:"share of the area that is open"`
}

// PilotedValve is a main valve whose disc is held shut by its chamber, with
// the pilot, plunger and coil that empty the chamber.
type PilotedValve struct {
	Outlet  string    `key:"outlet" ref:"tailpipe" doc:"where seat and pilot discharge"`
	Seat    Seat      `key:"seat" doc:"the main seat"`
	Disc    Disc      `key:"disc" doc:"the main disc"`
	Spring  Spring    `key:"spring" doc:"the spring that pushes the disc shut"`
	Chamber Chamber   `key:"chamber" doc:"the chamber below the disc"`
	Bleed   Bleed     `key:"bleed" doc:"the drilled bore that fills the chamber"`
	Guide   *Guide    `key:"guide" doc:"the clearance round the disc, a second path into the chamber"`
	Pilot   Pilot     `key:"pilot" doc:"the pilot seat that empties the chamber"`
	Dump    *DumpLine `key:"dump-line" doc:"the line from pilot to outlet; without it the pilot opens into the outlet"`
	Plunger Plunger   `key:"plunger" doc:"the plunger that shuts the pilot seat"`
	Coil    Coil      `key:"coil" doc:"the solenoid"`
	Wall    *PipeWall `key:"body-wall" doc:"the metal of the body; outside it is insulation"`
}

// Seat is the main seat.
type Seat struct {
	Diameter    float64 `key:"diameter" dim:"length" range:"(0,2]" doc:"seat bore"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient of seat and curtain"`
	Face        string  `key:"face-pressure" enum:"small-drop|continuity" doc:"small-drop: curtain and bore as two orifices at a small drop of pressure; continuity: what passes one passes the other at any ratio"`
	LeakArea    float64 `key:"leak-area" dim:"area" range:"[0,1]" doc:"area of a leak past the shut seat"`
}

// Disc is the main disc; x counts down from the seat.
type Disc struct {
	GuideDiameter float64 `key:"guide-diameter" dim:"length" range:"(0,2]" doc:"diameter of the guide: the area that the chamber acts on"`
	Mass          float64 `key:"mass" dim:"mass" range:"(0,1000]" doc:"moving mass"`
	Travel        float64 `key:"travel" dim:"length" range:"(0,1]" doc:"lift at the stop"`
	Damping       float64 `key:"damping" dim:"damping" range:"[0,1e7]" doc:"viscous damping"`
	Friction      float64 `key:"friction" dim:"force" range:"[0,1e6]" doc:"dry friction while it slides"`
	StickFriction float64 `key:"stick-friction" dim:"force" range:"[0,1e6]" doc:"force that starts it from rest"`
	FrictionLaw   string  `key:"friction-law" enum:"smoothed|sticking" doc:"smoothed: Fc tanh(v/vs), creeps; sticking: true rest"`
	FrictionSpeed float64 `key:"friction-speed" dim:"speed" range:"(0,10]" doc:"vs of the smoothed law"`
	Restitution   float64 `key:"restitution" dim:"ratio" range:"[0,1)" doc:"speed after a contact over speed before"`
	HoldSpeed     float64 `key:"hold-speed" dim:"speed" range:"(0,1]" doc:"slower than this after a contact, it may stay"`
}

// Spring is the main spring.
type Spring struct {
	Rate    float64 `key:"rate" dim:"spring-rate" range:"[0,1e9]" doc:"force per travel"`
	Preload float64 `key:"preload" dim:"force" range:"[0,1e6]" doc:"force with the disc shut"`
}

// Chamber is the volume below the disc.
type Chamber struct {
	Volume float64   `key:"volume" dim:"volume" range:"(0,10]" doc:"volume with the disc shut"`
	Wall   *PipeWall `key:"wall" doc:"the metal round the chamber; outside it is the body's"`
}

// Bleed is the drilled bore from body to chamber.
type Bleed struct {
	Area        float64 `key:"area" dim:"area" range:"[0,1]" doc:"area of the bore"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
}

// Guide is the annular clearance between disc and guide.
type Guide struct {
	Clearance float64 `key:"clearance" dim:"length" range:"[0,0.001]" doc:"radial clearance"`
	Length    float64 `key:"length" dim:"length" range:"(0,1]" doc:"length of the clearance"`
}

// Pilot is the pilot seat.
type Pilot struct {
	Area        float64 `key:"area" dim:"area" range:"(0,1]" doc:"seat area: flow area at full stroke, and the area that pressure acts on"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
	LeakArea    float64 `key:"leak-area" dim:"area" range:"[0,1]" doc:"area of a leak past the shut pilot"`
}

// DumpLine leads from the pilot to the outlet.
type DumpLine struct {
	Volume      float64   `key:"volume" dim:"volume" range:"(0,10]" doc:"volume of the line"`
	Area        float64   `key:"area" dim:"area" range:"(0,1]" doc:"narrowest flow area"`
	Coefficient float64   `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
	Wall        *PipeWall `key:"wall" doc:"the pipe wall, whose temperature a mechanic can feel"`
}

// PipeWall is a wall of one temperature between the fluid inside and the air.
type PipeWall struct {
	HeatCapacity float64     `key:"heat-capacity" dim:"heat-capacity" range:"(0,1e9]" doc:"mass times specific heat"`
	Inside       float64     `key:"inside-conductance" dim:"conductance" range:"[0,1e6]" doc:"film coefficient times area, inside"`
	Outside      float64     `key:"outside-conductance" dim:"conductance" range:"[0,1e6]" doc:"film coefficient times area, outside"`
	Driven       *DrivenFilm `key:"driven-film" doc:"what the flow through the pipe adds to the film inside"`
	Film         *WetFilm    `key:"wet-film" doc:"steam condensing on the wall, or water boiling off it"`
}

// DrivenFilm is what a turbulent flow adds to the film inside a pipe; it goes
// with the flow's power 0.8.
type DrivenFilm struct {
	Conductance float64 `key:"conductance" dim:"conductance" range:"[0,1e7]" doc:"film coefficient times area at that flow"`
	At          float64 `key:"at-flow" dim:"mass-flow" range:"(0,1e4]" doc:"the flow"`
}

// WetFilm is the exchange of heat between a wall and what condenses on it.
type WetFilm struct {
	Conductance float64 `key:"conductance" dim:"conductance" range:"[0,1e7]" doc:"film coefficient times area, while steam condenses or water boils"`
	Water       float64 `key:"covering-volume" dim:"volume" range:"(0,10]" doc:"water that covers the wall: less boils off more slowly"`
}

// Plunger shuts the pilot seat; s counts up from the seat.
type Plunger struct {
	Mass        float64 `key:"mass" dim:"mass" range:"(0,100]" doc:"moving mass; its weight is left out"`
	Stroke      float64 `key:"stroke" dim:"length" range:"(0,0.1]" doc:"lift at the stop"`
	SpringRate  float64 `key:"spring-rate" dim:"spring-rate" range:"[0,1e9]" doc:"force per travel"`
	Preload     float64 `key:"preload" dim:"force" range:"[0,1e5]" doc:"spring force when shut"`
	Damping     float64 `key:"damping" dim:"damping" range:"[0,1e6]" doc:"viscous damping"`
	Restitution float64 `key:"restitution" dim:"ratio" range:"[0,1)" doc:"speed after a contact over speed before"`
	HoldSpeed   float64 `key:"hold-speed" dim:"speed" range:"(0,1]" doc:"slower than this after a contact, it may stay"`
	BondShut    float64 `key:"bond-shut" dim:"force" range:"[0,1e6]" doc:"extra force that breaks it free from its shut end"`
	BondOpen    float64 `key:"bond-open" dim:"force" range:"[0,1e6]" doc:"extra force that breaks it free from its open end"`
}

// Coil is the solenoid: L di/dt = V - R i, pull Kf i^2/(1 + gap/g0)^2.
type Coil struct {
	Inductance float64 `key:"inductance" dim:"inductance" range:"(0,1e4]" doc:"inductance that the plunger does not change"`
	Resistance float64 `key:"resistance" dim:"resistance" range:"(0,1e9]" doc:"resistance of the circuit"`
	PullFactor float64 `key:"pull-factor" dim:"pull-factor" range:"[0,1e6]" doc:"Kf: pull per current squared with the gap closed"`
	Gap        float64 `key:"gap" dim:"length" range:"(0,1]" doc:"g0: gap at which the pull has fallen to a quarter"`
	Law        string  `key:"inductance-law" enum:"constant|moving" doc:"constant; or moving: the inductance above, and on top 2 Kf g0/(1 + gap/g0), as the pull demands"`
}

// Tailpipe leads from the valve to the surroundings.
type Tailpipe struct {
	To          string    `key:"to" ref:"surroundings" doc:"where it ends"`
	Volume      float64   `key:"volume" dim:"volume" range:"(0,1e4]" doc:"volume with the disc shut"`
	Area        float64   `key:"area" dim:"area" range:"(0,100]" doc:"narrowest flow area"`
	Coefficient float64   `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
	Wall        *PipeWall `key:"wall" doc:"the pipe wall, whose temperature a mechanic can feel"`
	Drain       *Drain    `key:"drain" doc:"the drain at its lowest point"`
}

// Drain lets water out of a pipe.
type Drain struct {
	Area        float64 `key:"area" dim:"area" range:"[0,1]" doc:"area of the drain"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
}

// Sensor follows the pressure of a vessel with a first-order lag.
type Sensor struct {
	On  string  `key:"on" ref:"vessel|drum" doc:"the vessel it senses"`
	Lag float64 `key:"lag" dim:"time" range:"(0,1e5]" doc:"time constant of sensing line and element"`
}

// Switch makes on rising pressure and resets on falling pressure.
type Switch struct {
	Sensor string  `key:"sensor" ref:"sensor" doc:"the sensor it hangs on"`
	Set    float64 `key:"set" dim:"pressure" range:"(0,1e9]" doc:"sensed pressure at which it makes"`
	Reset  float64 `key:"reset" dim:"pressure" range:"(0,1e9]" doc:"sensed pressure at which it opens again"`
	Drift  float64 `key:"drift" dim:"pressure-difference" range:"[-1e9,1e9]" doc:"by how much set and reset have moved off the values above"`
}

// Relay puts the supply on a valve's coil.
type Relay struct {
	Switch   string    `key:"switch" ref:"pressure-switch" doc:"the switch that drives it"`
	Valve    string    `key:"valve" ref:"piloted-valve" doc:"the valve whose coil it feeds"`
	PickUp   float64   `key:"pick-up" dim:"time" range:"[0,100]" doc:"delay from switch made to coil on"`
	DropOut  float64   `key:"drop-out" dim:"time" range:"[0,100]" doc:"delay from switch reset to coil off"`
	Supply   float64   `key:"supply" dim:"voltage" range:"[0,1e4]" doc:"voltage on the coil circuit"`
	Selector *Selector `key:"selector" doc:"the hand switch ahead of the relay"`
}

// Selector is the hand switch of the coil circuit.
type Selector struct {
	Position string `key:"position" enum:"auto|open|off" doc:"auto follows the pressure switch; open and off hold the relay on and off"`
}
