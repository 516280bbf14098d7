package words

import "underdisc/model/explain"

// Question writes what is asked of a valve, as a title.
func Question(q explain.Question) string {
	switch q {
	case explain.WontReseat:
		return "Why won't it reseat?"
	case explain.WontLift:
		return "Why won't it lift?"
	case explain.Cycles:
		return "Why does it cycle?"
	}
	return "What keeps it where it is?"
}

// Quantity names what is compared or what would have to change.
func Quantity(q explain.Quantity) string { return quantities[q] }

var quantities = map[explain.Quantity]string{
	explain.NoQuantity:         "nothing",
	explain.SensedPressure:     "pressure where it is sensed",
	explain.Reading:            "reading of the sensor",
	explain.SetPressure:        "set pressure of the switch",
	explain.ResetPressure:      "reset pressure of the switch",
	explain.ReadingOffset:      "reading above the pressure",
	explain.SensingLag:         "lag of the sensing line",
	explain.RootValve:          "root valve of the sensing line",
	explain.SwitchContact:      "contact of the switch",
	explain.Deadband:           "set less reset",
	explain.SwitchDrift:        "drift of the switch",
	explain.LineArea:           "effective area from vessel to body",
	explain.SelectorPosition:   "selector",
	explain.RelayContact:       "contact of the relay",
	explain.CoilVoltage:        "voltage at the coil",
	explain.SupplyVoltage:      "voltage of the supply",
	explain.CoilCurrent:        "current of the coil",
	explain.CoilResistance:     "resistance of the coil at 20 degC",
	explain.WindingTemperature: "temperature of the winding",
	explain.FusePosition:       "fuse of the coil",
	explain.EarthFaults:        "faults to earth",
	explain.PilotLift:          "lift of the pilot",
	explain.PilotLeakArea:      "leak area of the shut pilot",
	explain.PilotStroke:        "stroke of the pilot",
	explain.LostStroke:         "stroke that the pilot lacks",
	explain.PlungerBond:        "bond that holds the plunger",
	explain.ChamberPressure:    "pressure in the chamber",
	explain.BleedArea:          "area of the bleed's bore",
	explain.GuideFlow:          "flow past the guide into the chamber",
	explain.DumpArea:           "area of the dump line",
	explain.CoverLeakArea:      "leak area of the chamber's cover",
	explain.ChamberWater:       "water in the chamber, by volume",
	explain.DiscLift:           "lift of the disc",
	explain.DiscFriction:       "friction that holds the disc",
	explain.DiscBond:           "bond that holds the disc",
	explain.SpringPreload:      "preload of the main spring",
	explain.SeatLeakArea:       "leak area of the shut seat",
	explain.BodyPressure:       "pressure in the body",
	explain.VesselPressure:     "pressure in the vessel",
	explain.OutletPressure:     "pressure at the outlet",
	explain.BlockOpening:       "block valve",
	explain.Wait:               "time",
}

// Reach says who can bring a change about.
func Reach(r explain.Reach) string {
	switch r {
	case explain.Operators:
		return "operators, by the plant's procedure"
	case explain.IsolatedWork:
		return "licensed work, isolated and made safe"
	case explain.CircuitWork:
		return "those who may work on live terminals"
	case explain.NoWait:
		return "nobody: no reason to wait for it"
	}
	return "comes by itself"
}

// IfEver says of a quantity that would do, and that nothing takes there, who
// brings it: nobody.
func IfEver(q explain.Quantity) string {
	switch q {
	case explain.BodyPressure, explain.VesselPressure:
		return "only if the system falls that far; that is no reason to wait"
	case explain.SensedPressure:
		return "only if the pressure gets there; that is no reason to wait"
	case explain.WindingTemperature:
		return "once what heats it is found and ended; it does not cool as things go"
	}
	return Reach(explain.NoWait)
}

// NotDone is what is said of a change that would make up for the cause by
// altering something sound.
const NotDone = "nobody: it would hide the cause"
