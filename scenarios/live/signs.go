package live

import (
	"fmt"
	"slices"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/scenarios"
)

// The standard exercise: what is done to a plant so that its faults show, s.
// At rest; a stroke by the selector; at rest again; the load rejected; what is
// left of that two minutes later; isolated, emptied and shut in; back in
// service.
const (
	strokeAt, strokeFor = 30.0, 2.5
	rejectAt, rejectTo  = 90.0, 0.1 // the load's opening
	lateAt              = 230.0
	isolateAt           = 231.0
	emptyAt             = 263.0 // the block valve has travelled: stroke
	drainAt, drainFor   = 275.0, 20.0
	shutInAt            = 325.0 // thirty seconds after the drain is shut
	returnAt            = 326.0
	exerciseEnd         = 370.0
)

// SignColumn is one thing that the exercise is watched for.
type SignColumn struct {
	Key   string // a word in kebab case, for tables that programs read
	Head  string // for people
	When  string // the part of the exercise
	Dim   unit.Dimension
	Yes   bool // a yes or no: 1 or 0
	Count bool // a number of times
}

// Parts of the exercise.
const (
	AtRest   = "at rest"
	Stroke   = "stroke by the selector"
	Reject   = "load rejected"
	Late     = "140 s after the load is lost"
	Isolated = "isolated and emptied, then back"
)

// SignColumns lists what the exercise is watched for. A value that the run does
// not have, such as the time to a lift that does not come, is not a number.
func SignColumns() []SignColumn { return slices.Clone(signColumns) }

var signColumns = []SignColumn{
	{Key: "rest-vessel", Head: "vessel", When: AtRest, Dim: unit.Pressure},
	{Key: "rest-body", Head: "pA", When: AtRest, Dim: unit.Pressure},
	{Key: "rest-chamber", Head: "pB", When: AtRest, Dim: unit.Pressure},
	{Key: "rest-share", Head: "pB/pA", When: AtRest, Dim: unit.Ratio},
	{Key: "rest-lift", Head: "lift", When: AtRest, Dim: unit.Length},
	{Key: "rest-outlet", Head: "outlet", When: AtRest, Dim: unit.Pressure},
	{Key: "rest-dump", Head: "dump line", When: AtRest, Dim: unit.Temperature},
	{Key: "rest-tail", Head: "tailpipe", When: AtRest, Dim: unit.Temperature},
	{Key: "rest-header", Head: "header", When: AtRest, Dim: unit.Temperature},
	{Key: "rest-current", Head: "current", When: AtRest, Dim: unit.Current},
	{Key: "rest-relay", Head: "relay", When: AtRest, Yes: true},
	{Key: "rest-gauge", Head: "switch gauge less vessel", When: AtRest, Dim: unit.PressureDifference},

	{Key: "stroke-lift", Head: "full lift", When: Stroke, Dim: unit.Length},
	{Key: "stroke-delay", Head: "selector to lift", When: Stroke, Dim: unit.Time},
	{Key: "stroke-pilot", Head: "selector to pilot", When: Stroke, Dim: unit.Time},
	{Key: "stroke-share", Head: "lowest pB/pA", When: Stroke, Dim: unit.Ratio},
	{Key: "stroke-seat", Head: "release to seat", When: Stroke, Dim: unit.Time},
	{Key: "stroke-current", Head: "current", When: Stroke, Dim: unit.Current},
	{Key: "stroke-dip", Head: "dip of the vessel", When: Stroke, Dim: unit.PressureDifference},
	{Key: "stroke-body", Head: "lowest pA", When: Stroke, Dim: unit.Pressure},
	{Key: "stroke-tail", Head: "tailpipe's peak", When: Stroke, Dim: unit.Temperature},
	{Key: "stroke-low", Head: "peak at the tailpipe's lowest point", When: Stroke, Dim: unit.Temperature},
	{Key: "stroke-water", Head: "most water in the tailpipe", When: Stroke, Dim: unit.Volume},
	{Key: "stroke-dump", Head: "dump line's peak", When: Stroke, Dim: unit.Temperature},

	{Key: "lifts", Head: "lifts", When: Reject, Count: true},
	{Key: "opens", Head: "opens at", When: Reject, Dim: unit.Pressure},
	{Key: "highest", Head: "highest in the vessel", When: Reject, Dim: unit.Pressure},
	{Key: "lowest", Head: "lowest in the vessel", When: Reject, Dim: unit.Pressure},
	{Key: "switch-to-lift", Head: "switch to lift", When: Reject, Dim: unit.Time},
	{Key: "reset-to-seat", Head: "reset to seat", When: Reject, Dim: unit.Time},
	{Key: "reset-to-pilot", Head: "reset to pilot shut", When: Reject, Dim: unit.Time},
	{Key: "cycle", Head: "cycle", When: Reject, Dim: unit.Time},
	{Key: "longest-lift", Head: "longest lift", When: Reject, Dim: unit.Time},
	{Key: "peak-current", Head: "highest current", When: Reject, Dim: unit.Current},
	{Key: "lamp-after-coil", Head: "position lamp after the coil", When: Reject, Dim: unit.Time},

	{Key: "late-body", Head: "pA", When: Late, Dim: unit.Pressure},
	{Key: "late-chamber", Head: "pB", When: Late, Dim: unit.Pressure},
	{Key: "late-share", Head: "pB/pA", When: Late, Dim: unit.Ratio},
	{Key: "late-lift", Head: "lift", When: Late, Dim: unit.Length},
	{Key: "late-dump", Head: "dump line", When: Late, Dim: unit.Temperature},
	{Key: "late-tail", Head: "tailpipe", When: Late, Dim: unit.Temperature},
	{Key: "late-current", Head: "current", When: Late, Dim: unit.Current},
	{Key: "late-coil", Head: "coil", When: Late, Dim: unit.Temperature},
	{Key: "late-relay", Head: "relay", When: Late, Yes: true},
	{Key: "late-lamp", Head: "demand lamp", When: Late, Yes: true},
	{Key: "late-fuse", Head: "fuse not blown", When: Late, Yes: true},

	{Key: "shut-in", Head: "pA shut in", When: Isolated, Dim: unit.Pressure},
	{Key: "isolated-lift", Head: "lift while isolated", When: Isolated, Dim: unit.Length},
	{Key: "isolated-tail", Head: "tailpipe", When: Isolated, Dim: unit.Temperature},
	{Key: "return-lift", Head: "lift on return", When: Isolated, Dim: unit.Length},
}

// SignRow is what the exercise shows on one plant.
type SignRow struct {
	Plant    string // name of the scenario whose plant it is
	Fault    string // "" on the plant as it is
	Severity string // for people
	Part     string
	Values   map[string]float64 // by the key of the column, SI
}

// Exercised is the scenario of the standard exercise on a plant, with a fault or
// none (a name of "") in it from the start. The commands of the scenario are not
// done; its faults stay. The selector goes back to where it stood, right or
// wrong, and the block valve too.
func Exercised(sc *scenarios.Scenario, e fault.Entry) (*scenarios.Scenario, error) {
	out := *sc
	out.Commands, out.Shows, out.Until = nil, nil, exerciseEnd
	out.Faults = slices.Clone(sc.Faults)
	if e.Name != "" {
		out.Faults = append(out.Faults, e)
	}
	p := sc.Plant
	var err error
	for _, f := range out.Faults {
		if p, _, err = fault.Apply(p, f); err != nil {
			return nil, err
		}
	}
	valves, loads := p.OfKind("piloted-valve"), p.OfKind("load")
	if len(valves) != 1 || len(loads) != 1 {
		return nil, fmt.Errorf("this plant has %d piloted valves and %d loads to reject; want one of each, as in boiler-plant", len(valves), len(loads))
	}
	relay, line := ofValve(p, valves[0].Name)
	for _, s := range []struct {
		at   float64
		path string
		to   plant.Value
		back bool // to where it stands in this plant
	}{
		{at: strokeAt, path: relay + ".selector.position", to: plant.Value{Word: "open"}},
		{at: strokeAt + strokeFor, path: relay + ".selector.position", back: true},
		{at: rejectAt, path: loads[0].Name + ".opening", to: plant.Value{Number: rejectTo}},
		{at: isolateAt, path: line + ".block-valve.opening", to: plant.Value{Number: 0}},
		{at: emptyAt, path: relay + ".selector.position", to: plant.Value{Word: "open"}},
		{at: drainAt - 2, path: relay + ".selector.position", to: plant.Value{Word: "off"}},
		{at: drainAt, path: valves[0].Name + ".body-drain.opening", to: plant.Value{Number: 1}},
		{at: drainAt + drainFor, path: valves[0].Name + ".body-drain.opening", to: plant.Value{Number: 0}},
		{at: returnAt, path: line + ".block-valve.opening", back: true},
	} {
		prm, err := p.Get(s.path)
		if err != nil {
			return nil, fmt.Errorf("the exercise cannot be done on this plant: %w", err)
		}
		if s.back {
			s.to = prm.Value
		}
		out.Commands = append(out.Commands, scenarios.Command{At: s.at, Path: s.path, Value: s.to})
	}
	return &out, nil
}

// ofValve names the relay and the line of a valve.
func ofValve(p *plant.Plant, valve string) (relay, line string) {
	relay, line = "relay", "line"
	for _, q := range p.Parts {
		switch s := q.Spec.(type) {
		case *plant.Relay:
			if s.Valve == valve {
				relay = q.Name
			}
		case *plant.Line:
			if s.To == valve {
				line = q.Name
			}
		}
	}
	return relay, line
}

// SignsOf does the exercise and says what it shows.
func SignsOf(sc *scenarios.Scenario, e fault.Entry, rtol float64) (*SignRow, error) {
	ex, err := Exercised(sc, e)
	if err != nil {
		return nil, err
	}
	run, err := Start(ex, Options{RelTol: rtol})
	if err != nil {
		return nil, err
	}
	if err := run.Finish(); err != nil {
		return nil, err
	}
	row := &SignRow{Plant: sc.Name, Fault: e.Name, Part: e.Part, Severity: SeverityText(sc.Plant, e)}
	row.Values, err = watch(run)
	return row, err
}

const day = 86400.0 // s

// SeverityText is the severity of an entry for people.
func SeverityText(p *plant.Plant, e fault.Entry) string {
	f, ok := fault.Find(e.Name)
	switch {
	case !ok:
		return ""
	case e.Word != "":
		return e.Word
	case e.Severity != nil && f.Dim() == unit.Time && *e.Severity >= 2*day:
		return fmt.Sprintf("%.0f days", *e.Severity/day)
	case e.Severity != nil:
		return unit.Format(*e.Severity, f.Dim())
	}
	return f.TypicalValue()
}
