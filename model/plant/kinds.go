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

// HeatInput is the heat into a drum: constant, or as a pressure controller or
// a hand sets it.
type HeatInput struct {
	Into    string       `key:"into" ref:"drum" doc:"the drum that is heated"`
	Power   float64      `key:"power" dim:"power" range:"[0,1e10]" doc:"heat to the water and steam; with a controller, its middle and what it starts with"`
	Control *FireControl `key:"control" doc:"the controller of the fire"`
}

// FireControl holds a pressure by the fire: proportional and integral action
// about the power, between limits, through the lag of furnace and metal.
type FireControl struct {
	Mode   string  `key:"mode" enum:"automatic|hand" doc:"automatic follows the pressure; hand leaves the fire as it stands, or at its power where that is changed, and to the operators"`
	Sensor string  `key:"sensor" ref:"sensor" doc:"the sensor it goes by"`
	Hold   float64 `key:"hold" dim:"pressure" range:"(0,1e9]" doc:"the pressure it holds"`
	Band   float64 `key:"band" dim:"pressure-difference" range:"(0,1e9]" doc:"fall of pressure that raises the fire from its least to its most"`
	Reset  float64 `key:"reset-time" dim:"time" range:"(0,1e6]" doc:"time in which the integral action repeats the proportional one"`
	Least  float64 `key:"least" dim:"power" range:"[0,1e10]" doc:"smallest fire"`
	Most   float64 `key:"most" dim:"power" range:"(0,1e10]" doc:"largest fire"`
	Lag    float64 `key:"lag" dim:"time" range:"(0,1e5]" doc:"time constant from the burner to the water"`
}

// Inflow is a mass flow into a vessel or drum: constant, or as a level
// controller sets it.
type Inflow struct {
	Into        string        `key:"into" ref:"vessel|drum" doc:"the vessel that is fed"`
	MassFlow    float64       `key:"mass-flow" dim:"mass-flow" range:"[0,1e4]" doc:"mass flow; with a controller, its middle and what it starts with"`
	Temperature float64       `key:"temperature" dim:"temperature" range:"(0,3000]" doc:"temperature of what flows in"`
	Control     *LevelControl `key:"control" doc:"the controller of the feedwater"`
}

// LevelControl holds the water in a drum by the feed.
type LevelControl struct {
	Hold  float64 `key:"hold" dim:"ratio" range:"[0,1]" doc:"share of the drum's volume that is water"`
	Band  float64 `key:"band" dim:"ratio" range:"(0,1]" doc:"fall of that share that raises the feed from nothing to its most"`
	Reset float64 `key:"reset-time" dim:"time" range:"(0,1e6]" doc:"time in which the integral action repeats the proportional one"`
	Most  float64 `key:"most" dim:"mass-flow" range:"(0,1e4]" doc:"largest feed"`
	Lag   float64 `key:"lag" dim:"time" range:"(0,1e5]" doc:"time constant of valve and pump"`
}

// Load takes steam from a drum through a valve: what the boiler works for.
type Load struct {
	From        string  `key:"from" ref:"drum" doc:"the drum that it takes steam from"`
	To          string  `key:"to" ref:"surroundings" doc:"the place whose pressure lies behind it"`
	Area        float64 `key:"area" dim:"area" range:"(0,100]" doc:"flow area when fully open"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
	Opening     float64 `key:"opening" dim:"ratio" range:"[0,1]" doc:"share of the area that is asked for"`
	TravelTime  float64 `key:"travel-time" dim:"time" range:"(0,1e5]" doc:"time from shut to fully open"`
}

// Neighbour is another valve that discharges into a pipe, from a steady source
// of dry saturated steam of its own.
type Neighbour struct {
	Into        string  `key:"into" ref:"tailpipe" doc:"the pipe it discharges into"`
	Pressure    float64 `key:"pressure" dim:"pressure" range:"[2000,1.65e7]" doc:"pressure ahead of it"`
	Area        float64 `key:"area" dim:"area" range:"(0,100]" doc:"flow area when fully open"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
	Opening     float64 `key:"opening" dim:"ratio" range:"[0,1]" doc:"share of the area that is open"`
}

// Operators watch a gauge and work the fire by hand. Told of a lift, they leave
// it alone; not told, they take the falling pressure for a loss of fire and
// raise it, with the delay of people who first look twice.
type Operators struct {
	Fire  string  `key:"fire" ref:"heat-input" doc:"the fire that they work"`
	Gauge string  `key:"gauge" ref:"sensor" doc:"the sensor that they read"`
	Told  string  `key:"told" enum:"yes|no" doc:"whether they know of the lift"`
	Hold  float64 `key:"hold" dim:"pressure" range:"(0,1e9]" doc:"the pressure that they want to see"`
	Delay float64 `key:"delay" dim:"time" range:"(0,1e5]" doc:"mean time from a reading to what they do about it"`
	Band  float64 `key:"band" dim:"pressure-difference" range:"(0,1e9]" doc:"want of pressure for which they add the most"`
	Most  float64 `key:"most" dim:"power" range:"[0,1e10]" doc:"the most that they add to the fire"`
}

// Lamp is a lamp on the panel that is taken for the valve's position.
type Lamp struct {
	Valve string `key:"valve" ref:"piloted-valve" doc:"the valve it stands for"`
	Shows string `key:"shows" enum:"relay|coil-voltage|plunger|disc" doc:"what it is wired to: the demand, or a part that moves"`
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
	Return      *Drain      `key:"condensate-return" doc:"how water that condenses in the valve's body runs back to the vessel, along the floor of the line"`
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
	Motion      *Motion `key:"motion" doc:"how it travels; it then stands at the line's inlet, ahead of the length of pipe"`
}

// Motion is how a block valve travels, and what it passes when shut.
type Motion struct {
	TravelTime float64 `key:"travel-time" dim:"time" range:"(0,1e5]" doc:"time from shut to fully open"`
	LeakArea   float64 `key:"leak-area" dim:"area" range:"[0,1]" doc:"area of a leak past the shut gate"`
}

// PilotedValve is a main valve whose disc is held shut by its chamber, with
// the pilot, plunger and coil that empty the chamber.
type PilotedValve struct {
	Outlet  string     `key:"outlet" ref:"tailpipe" doc:"where seat and pilot discharge"`
	Seat    Seat       `key:"seat" doc:"the main seat"`
	Disc    Disc       `key:"disc" doc:"the main disc"`
	Spring  Spring     `key:"spring" doc:"the spring that pushes the disc shut"`
	Chamber Chamber    `key:"chamber" doc:"the chamber below the disc"`
	Bleed   Bleed      `key:"bleed" doc:"the drilled bore that fills the chamber"`
	Guide   *Guide     `key:"guide" doc:"the clearance round the disc, a second path into the chamber"`
	Pilot   Pilot      `key:"pilot" doc:"the pilot seat that empties the chamber"`
	Dump    *DumpLine  `key:"dump-line" doc:"the line from pilot to outlet; without it the pilot opens into the outlet"`
	Plunger Plunger    `key:"plunger" doc:"the plunger that shuts the pilot seat"`
	Coil    Coil       `key:"coil" doc:"the solenoid"`
	Wall    *PipeWall  `key:"body-wall" doc:"the metal of the body; outside it is insulation"`
	Drain   *BodyDrain `key:"body-drain" doc:"the drain and vent of the body, by which it is emptied once isolated"`
}

// BodyDrain empties the body to the surroundings.
type BodyDrain struct {
	Area        float64 `key:"area" dim:"area" range:"(0,1]" doc:"area of the drain"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
	Fall        float64 `key:"fall" dim:"length" range:"[0,100]" doc:"how far the drain leads down: water runs out by its own weight"`
	Opening     float64 `key:"opening" dim:"ratio" range:"[0,1]" doc:"share of the area that is open"`
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
	Bond          *Bond   `key:"bond" doc:"what holds it at its ends beside friction"`
}

// Bond is the force that breaks a part free from its ends: deposits, galling.
type Bond struct {
	Shut float64 `key:"shut" dim:"force" range:"[0,1e6]" doc:"force that breaks it free from its shut end"`
	Open float64 `key:"open" dim:"force" range:"[0,1e6]" doc:"force that breaks it free from its open end"`
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
	Cover  *Cover    `key:"cover" doc:"the cover's gasket"`
	// Water as a block, so that a plant of gas need not say that it has none.
	Condensate *Condensate `key:"condensate" doc:"water that lies in the chamber at the start"`
}

// Cover is the chamber's cover with its gasket, open to the surroundings.
type Cover struct {
	LeakArea    float64 `key:"leak-area" dim:"area" range:"[0,1]" doc:"area of a leak past the gasket"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
}

// Condensate is water at saturation.
type Condensate struct {
	Share float64 `key:"share" dim:"ratio" range:"[0,0.95]" doc:"share of the volume"`
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
	Adjust      *Adjust `key:"adjustment" doc:"how the stroke has been set"`
}

// Adjust is the setting of the plunger's stroke.
type Adjust struct {
	Lost float64 `key:"lost-stroke" dim:"length" range:"[0,0.1]" doc:"how much shorter the stroke is than the one above, at which the pilot passes its full area"`
}

// Coil is the solenoid: L di/dt = V - R i, pull Kf i^2/(1 + gap/g0)^2.
type Coil struct {
	Inductance float64      `key:"inductance" dim:"inductance" range:"(0,1e4]" doc:"inductance that the plunger does not change"`
	Resistance float64      `key:"resistance" dim:"resistance" range:"(0,1e9]" doc:"resistance of the circuit"`
	PullFactor float64      `key:"pull-factor" dim:"pull-factor" range:"[0,1e6]" doc:"Kf: pull per current squared with the gap closed"`
	Gap        float64      `key:"gap" dim:"length" range:"(0,1]" doc:"g0: gap at which the pull has fallen to a quarter"`
	Law        string       `key:"inductance-law" enum:"constant|moving" doc:"constant; or moving: the inductance above, and on top 2 Kf g0/(1 + gap/g0), as the pull demands"`
	Winding    *Winding     `key:"winding" doc:"the copper: its temperature and its turns"`
	AC         *Alternating `key:"alternating" doc:"the supply alternates; currents and voltages are then effective values"`
}

// Winding is the copper of a coil. Its resistance, given at 20 degC, rises by
// 0.393 % per kelvin.
type Winding struct {
	HeatCapacity float64 `key:"heat-capacity" dim:"heat-capacity" range:"(0,1e6]" doc:"mass times specific heat"`
	Conductance  float64 `key:"conductance" dim:"conductance" range:"(0,1e4]" doc:"to what surrounds it"`
	Around       float64 `key:"around" dim:"temperature" range:"(0,1000]" doc:"temperature of what surrounds it"`
	Shorted      float64 `key:"shorted-turns" dim:"ratio" range:"[0,0.95]" doc:"share of the turns that are bridged"`
}

// Alternating is an alternating supply.
type Alternating struct {
	Frequency float64 `key:"frequency" dim:"frequency" range:"(0,1000]" doc:"of the supply"`
}

// Tailpipe leads from a valve to the surroundings, or into a header, which is
// another such pipe.
type Tailpipe struct {
	To          string    `key:"to" ref:"surroundings|tailpipe" doc:"where it ends"`
	Volume      float64   `key:"volume" dim:"volume" range:"(0,1e4]" doc:"volume with the disc shut"`
	Area        float64   `key:"area" dim:"area" range:"(0,100]" doc:"narrowest flow area"`
	Coefficient float64   `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
	Wall        *PipeWall `key:"wall" doc:"the pipe wall, whose temperature a mechanic can feel"`
	Drain       *Drain    `key:"drain" doc:"the drain at its lowest point"`
	Low         *LowPoint `key:"low-point" doc:"the piece of pipe at its lowest point, where water collects if the drain is plugged"`
}

// LowPoint is the piece of a pipe where water lies. What lies there is cold and
// in layers: the heat of steam above it has to be conducted down. Half of its
// depth counts, and water at rest: 0.6 W/(m K).
type LowPoint struct {
	HeatCapacity float64 `key:"heat-capacity" dim:"heat-capacity" range:"(0,1e9]" doc:"of the metal of this piece"`
	Inside       float64 `key:"inside-conductance" dim:"conductance" range:"(0,1e6]" doc:"film coefficient times area of the bare metal, steam condensing on it"`
	Outside      float64 `key:"outside-conductance" dim:"conductance" range:"[0,1e6]" doc:"film coefficient times area, outside"`
	Surface      float64 `key:"surface" dim:"area" range:"(0,100]" doc:"surface of the water"`
	Water        float64 `key:"water" dim:"volume" range:"[0,10]" doc:"water that lies there"`
}

// Drain lets water out of a pipe.
type Drain struct {
	Area        float64 `key:"area" dim:"area" range:"[0,1]" doc:"area of the drain"`
	Coefficient float64 `key:"discharge-coefficient" dim:"ratio" range:"(0,1]" doc:"discharge coefficient"`
	Fall        float64 `key:"fall" dim:"length" range:"[0,100]" doc:"how far the drain leads down: water runs out by its own weight"`
}

// Sensor follows a pressure with a first-order lag.
type Sensor struct {
	On   string       `key:"on" ref:"vessel|drum|line|piloted-valve" doc:"what it senses: a vessel; the end of a line's length of pipe; the body of a valve"`
	Lag  float64      `key:"lag" dim:"time" range:"(0,1e5]" doc:"time constant of sensing line and element"`
	Line *SensingLine `key:"sensing-line" doc:"the line that leads to it"`
}

// SensingLine leads from the plant to a sensor: root valve, water leg, snubber.
type SensingLine struct {
	Root     float64 `key:"root-opening" dim:"ratio" range:"[0,1]" doc:"how far the root valve passes: 1 freely, 0 not at all"`
	FallLag  float64 `key:"fall-lag" dim:"time" range:"(0,1e9]" doc:"time constant while the pressure falls: more than the other where a snubber checks"`
	Leg      float64 `key:"water-leg" dim:"length" range:"[-200,200]" doc:"height of the water that stands above the element"`
	Expected float64 `key:"expected-leg" dim:"length" range:"[-200,200]" doc:"height of it that the setting allows for"`
	Error    float64 `key:"error" dim:"pressure-difference" range:"[-1e9,1e9]" doc:"what the element itself reads too much"`
}

// Switch makes on rising pressure and resets on falling pressure.
type Switch struct {
	Sensor  string         `key:"sensor" ref:"sensor" doc:"the sensor it hangs on"`
	Set     float64        `key:"set" dim:"pressure" range:"(0,1e9]" doc:"sensed pressure at which it makes"`
	Reset   float64        `key:"reset" dim:"pressure" range:"(0,1e9]" doc:"sensed pressure at which it opens again"`
	Drift   float64        `key:"drift" dim:"pressure-difference" range:"[-1e9,1e9]" doc:"by how much set and reset have moved off the values above"`
	Contact *SwitchContact `key:"contact" doc:"its contact"`
}

// SwitchContact is the contact of a pressure switch.
type SwitchContact struct {
	State string `key:"state" enum:"sound|stuck-made|stuck-open" doc:"sound follows the pressure"`
}

// Relay puts the supply on a valve's coil.
type Relay struct {
	Switch   string    `key:"switch" ref:"pressure-switch" doc:"the switch that drives it"`
	Valve    string    `key:"valve" ref:"piloted-valve" doc:"the valve whose coil it feeds"`
	PickUp   float64   `key:"pick-up" dim:"time" range:"[0,100]" doc:"delay from switch made to coil on"`
	DropOut  float64   `key:"drop-out" dim:"time" range:"[0,100]" doc:"delay from switch reset to coil off"`
	Supply   float64   `key:"supply" dim:"voltage" range:"[0,1e4]" doc:"voltage on the coil circuit"`
	Selector *Selector `key:"selector" doc:"the hand switch ahead of the relay"`
	Circuit  *Circuit  `key:"circuit" doc:"fuse, contact and wiring between supply and coil"`
}

// Circuit is what lies between supply and coil beside the relay's windings.
type Circuit struct {
	Contact string `key:"contact" enum:"sound|open|welded" doc:"the relay's contact: sound follows the relay"`
	Fuse    *Fuse  `key:"fuse" doc:"the fuse of the coil circuit"`
	Earth   string `key:"earth" enum:"clear|one|two" doc:"faults to earth: one does nothing; two feed the coil from another circuit, past fuse and contact"`
}

// Fuse heats as (i/rating)^2 with a lag and blows when it reaches one.
type Fuse struct {
	State  string  `key:"state" enum:"in|out" doc:"whether it is in its holder"`
	Rating float64 `key:"rating" dim:"current" range:"(0,1e4]" doc:"current that it just carries for ever"`
	Lag    float64 `key:"lag" dim:"time" range:"(0,1e4]" doc:"time constant of its heating"`
}

// Selector is the hand switch of the coil circuit.
type Selector struct {
	Position string `key:"position" enum:"auto|open|off" doc:"auto follows the pressure switch; open and off hold the relay on and off"`
}
