package words

import (
	"strings"

	"underdisc/model/explain"
)

// Next is the safe next step in one paragraph; empty where there is none.
func Next(checks []explain.Check) string {
	var out []string
	for _, c := range checks {
		out = append(out, nextSteps[c])
	}
	return strings.Join(out, " ")
}

var nextSteps = map[explain.Check]string{
	explain.TellStandsOpen: "Tell the operators now: the valve stands open when it should be shut, and it draws the pressure down; they hold fire and feedwater by their procedure.",
	explain.TellWontLift:   "Tell the operators now: do not count on this valve to lift.",
	explain.TellLeaks:      "Tell the operators: the valve passes while shut, and may lift unasked.",
	explain.TellCycles:     "Tell the operators: the valve lifts again and again, and each lift wears its seat.",
	explain.OthersRelieve:  "Until it is put right the other relief valves must carry the relief: see that they are in service.",
	explain.LowerPressure:  "The operators bring the pressure down and keep it clear of the set pressure.",
	explain.LookSelector:   "Then look where the selector stands, and ask who set it there: that tells a hand's doing from a fault.",
	explain.GaugeOnGauge: "Then hold the gauge on the sensing line against the drum's or vessel's own: if they agree, look to the switch and its setting;" +
		" if not, to root valve, sensing line and sensor.",
	explain.LineGauges: "Then compare the vessel's gauge with the one where the pressure is sensed while it blows: a difference points to the inlet line, none to the switch's setting.",
	explain.CoilVolts: "Then those who may work on live terminals read voltage and current at the coil: voltage and no current, the coil is open;" +
		" no voltage, look to fuse, contacts and supply; current, but little, the winding or the supply.",
	explain.PullFuse: "Then those who may work on live terminals pull the coil's fuse: if the current dies, the relay's contact fed it; if it stays, a fault to earth does." +
		" The valve cannot lift by its switch while the fuse is out.",
	explain.DumpLine: "Then read the coil's current, and the dump line's heat from a safe distance: hot with the coil dead, the pilot passes;" +
		" cold with the coil live, it has not opened; if it does as the coil says, look to bleed, guide, chamber and disc.",
	explain.HeaderGauge:   "Then read the pressure in the tailpipe or header: high, and another valve or a blocked pipe pushes from that side; low, and the valve itself holds.",
	explain.BlockPosition: "Then see whether the block valve stands open, and under whose tag it was shut.",
	explain.TailpipeWall:  "Then read the heat of tailpipe and dump line from a safe distance: tailpipe hot and dump line cold, the seat passes; both hot, the pilot does.",
	explain.TestGauge:     "Then take the pressures at which the switch makes and resets with a test gauge: too close together, the switch; as marked, the pressure runs too near its set pressure.",
	explain.ThenBlock:     "Only if it still does not seat do the operators shut the block valve, by the plant's procedure and with other relief in service; never as the first step.",
}

// Remedy names the repair or the act that puts a quantity right.
func Remedy(q explain.Quantity) string { return repairs[q] }

var repairs = map[explain.Quantity]string{
	explain.SwitchDrift:        "switch set as marked",
	explain.SensingLag:         "sensing line and snubber cleared",
	explain.RootValve:          "root valve opened",
	explain.ReadingOffset:      "water leg and sensor put right",
	explain.SwitchContact:      "contact of the switch renewed",
	explain.Deadband:           "reset set as marked",
	explain.ResetPressure:      "reset set as marked",
	explain.LineArea:           "inlet line cleared, block valve full open",
	explain.SelectorPosition:   "selector turned",
	explain.RelayContact:       "contact of the relay renewed",
	explain.SupplyVoltage:      "supply brought back to its rating, if it is low",
	explain.CoilCurrent:        "current dies away",
	explain.CoilResistance:     "coil or its joints renewed, if the resistance is high",
	explain.WindingTemperature: "winding cools, what heats it found",
	explain.FusePosition:       "fuse, once it is known why it is out or has to come out",
	explain.EarthFaults:        "faults to earth cleared",
	explain.PilotLeakArea:      "pilot's seat repaired",
	explain.LostStroke:         "stroke of the pilot set as marked",
	explain.PlungerBond:        "plunger freed and cleaned",
	explain.BleedArea:          "bleed brought back to its bore",
	explain.GuideFlow:          "guide and rings renewed",
	explain.DumpArea:           "dump line cleared",
	explain.CoverLeakArea:      "gasket of the cover renewed",
	explain.ChamberWater:       "water boils off",
	explain.DiscFriction:       "disc and guide cleaned",
	explain.DiscBond:           "disc freed from seat or stop",
	explain.SpringPreload:      "main spring renewed or set as marked",
	explain.SeatLeakArea:       "disc and seat lapped or renewed",
	explain.VesselPressure:     "pressure run farther below set",
	explain.OutletPressure:     "header relieved, tailpipe cleared",
	explain.BlockOpening:       "block valve opened slowly, chamber first, with the coil dead",
	explain.Wait:               "nothing to repair: it takes time",
}
