package words

import (
	"math"

	"underdisc/model/plant"
)

// Tail is what is heard at the end of the tailpipe.
type Tail int

// The pipe is still, hisses, or blows.
const (
	Still Tail = iota
	Hisses
	Blows
)

// Shares of what a wide-open seat would pass from which on gas is heard at the
// end of the tailpipe, and blows. At 12 bar abs a seat of 50 mm passes 5.5 kg/s
// of air: half a gram a second is a hiss that nobody misses. Common practice, no
// source.
const (
	heard   = 1e-4
	blowing = 0.05
)

// chokedFlux is the mass flux of air at 300 K through a choked nozzle over the
// pressure upstream, s/m: C(1.4)/sqrt(287 J/(kg K) 300 K), with C(1.4) = 0.6847.
const chokedFlux = 2.333e-3

// LeaksAtCover tells whether so much leaves at the joint of the chamber's cover
// that it is seen and heard there.
func LeaksAtCover(v *plant.ValveState) bool {
	return v.Cover > heard*chokedFlux*v.Vessel*v.Disc.SeatArea
}

// TailOf tells what the end of the tailpipe does, and how much leaves it, kg/s:
// nothing that would not be heard.
func TailOf(v *plant.ValveState) (does Tail, leaves float64) {
	leaves = v.Seat + math.Max(v.PilotFlow, 0)
	switch share := leaves / (chokedFlux * v.Vessel * v.Disc.SeatArea); {
	case share > blowing:
		return Blows, leaves
	case share > heard:
		return Hisses, leaves
	}
	return Still, 0
}
