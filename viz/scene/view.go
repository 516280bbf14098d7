package scene

import (
	"underdisc/model/explain"
	"underdisc/model/plant"
)

// View is everything a picture is made from.
type View struct {
	Size      Point // picture units; 1600 x 900 is the reference
	Snapshot  *plant.Snapshot
	Model     *plant.Model // the plant in force: dimensions
	Valve     int          // which of its valves: the piloted ones first, then the spring-loaded ones
	Facts     *explain.Facts
	Spring    *explain.SpringFacts // in their place, of a spring-loaded valve; nil of a piloted one
	State     string               // the state in a word or two
	Sentence  string               // why, in at most two lines
	Title     string               // name of the scenario
	Range     Range                // of the colours of pressure
	Trace     Trace
	Marks     []Mark // on the charts, in order of time
	Pins      []Mark // on the ribbon: the six links of an opening, then those of a closing
	Units     Units
	Projector bool
	Sealed    bool                                                // a fault is hidden: nothing is shown or said that only the inside of the valve gives
	Controls  bool                                                // leave room for buttons, as Scene.Rooms says
	Drift     Drift                                               // of the marks of flow
	Measure   func(size float64, bold bool, words string) float64 // width of a text
}

// Trace is the past and, where it is known, the time ahead, as samples on one
// axis; all slices are of one length.
type Trace struct {
	T                            []float64 // s
	Above, Below, Outlet, Vessel []float64 // Pa absolute
	LiftBelow, DropAbove         []float64 // thresholds for Below, Pa absolute
	Lift, Pilot                  []float64 // m
	Current                      []float64 // A
	TailWall, DumpWall           []float64 // K; NaN where there is no wall

	// Of a spring-loaded valve, whose inlet is Above; empty of a piloted one.
	Huddle, Under []float64 // Pa absolute
	Flow          []float64 // kg/s
	Wear          []float64 // relative
	Up, Down      []float64 // N: of pressure and flow on the disc; of spring and weight

	From, To float64 // what the charts show, s
	Zero     float64 // s; the time axis counts from here
	ZeroName string  // what happened then; empty: it counts from the start of the run
}

// Mark is an event on the time axis, or one that is still to come.
type Mark struct {
	T    float64
	Name string // in the words of the trade
	Link int    // 1 to 6; 0 of what is none: load, block valve, lever
	Done bool   // false: to come, T is not known
	Shut bool   // it belongs to a closing
}

// PressureUnit, and so on, are the units that numbers are shown in.
type PressureUnit int

const (
	Bar PressureUnit = iota
	PSI
	KPa
)

// Units of the numbers shown.
type Units struct {
	Pressure PressureUnit
	Gauge    bool    // pressures over Ambient
	Ambient  float64 // Pa absolute
	Fahrenheit,
	PoundsPerHour,
	KilogramsPerSecond bool // else kg/h
}
