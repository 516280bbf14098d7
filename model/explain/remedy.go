package explain

import "slices"

// remedies are the quantities that the cause itself is made of, by reason: to
// put them right takes the cause away. Everything else that would let the valve
// go makes up for a fault by changing something sound.
var remedies = map[Reason][]Quantity{
	BelowSet:        {SwitchDrift},
	AboveReset:      {SwitchDrift},
	ReadingStays:    {RootValve, SensingLag, SelectorPosition},
	ReadsOff:        {ReadingOffset, SelectorPosition},
	SensedElsewhere: {BlockOpening, SelectorPosition},
	StuckMade:       {SwitchContact, SelectorPosition},
	StuckOpen:       {SwitchContact, SelectorPosition},
	InletDrops:      {LineArea},
	DeadbandShort:   {Deadband, ResetPressure},
	RunsNearSet:     {VesselPressure},

	SelectorOff:   {SelectorPosition},
	SelectorOpen:  {SelectorPosition},
	ContactOpen:   {RelayContact},
	ContactWelded: {RelayContact, FusePosition},

	CurrentTooLow:   {SupplyVoltage, CoilResistance, WindingTemperature},
	CoilHot:         {WindingTemperature},
	FuseGone:        {FusePosition},
	EarthsFeed:      {EarthFaults},
	CurrentDecaying: {CoilCurrent},
	CurrentLost:     {SupplyVoltage},

	PilotBonded: {PlungerBond},
	PilotLeaks:  {PilotLeakArea, CoverLeakArea},
	StrokeShort: {LostStroke},

	BleedOutruns:   {BleedArea},
	GuideOutruns:   {GuideFlow},
	WaterFlashes:   {ChamberWater},
	DumpBacksUp:    {DumpArea},
	NoInflow:       {BleedArea},
	FillsTooSlowly: {BleedArea},
	CoverLeaks:     {CoverLeakArea, PilotLeakArea},

	DiscStuck:           {DiscBond, DiscFriction},
	TooLittleDifference: {OutletPressure},
	BodyIsolated:        {BlockOpening},
	OutletHolds:         {OutletPressure},
	SpringTooWeak:       {SpringPreload},
	SeatLeaks:           {SeatLeakArea},
	Chatters:            {OutletPressure, PilotLeakArea},
}

// falling are those that a repair makes smaller, whatever else they could do.
var falling = []Quantity{PilotLeakArea, CoverLeakArea, SeatLeakArea}

// cures tells whether a change takes away what holds the valve.
func (k *freer) cures(f *Free) bool {
	if f.By == NoWait && f.Quantity != WindingTemperature || slices.Contains(falling, f.Quantity) && !f.Below {
		return false
	}
	return slices.Contains(remedies[k.f.Why.Reason], f.Quantity)
}

// unsafe tells whether a change is none that anybody may be told of: a pressure
// above the one at which the valve is to lift, and a current above what the
// circuit carries.
func (k *freer) unsafe(f *Free) bool {
	switch f.Quantity {
	case BodyPressure, VesselPressure, SensedPressure:
		c := &k.f.Switch
		marked := c.Set - max(k.drift(), 0)
		return !f.Below && !(c.Fitted && f.Needed <= marked)
	case SupplyVoltage:
		// With the winding cold the current is the largest.
		c := &k.f.Coil
		most := k.fuseRating()
		return most > 0 && c.Supply > 0 && f.Needed/c.Supply*c.ColdSteady > most
	}
	return false
}
