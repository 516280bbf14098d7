package scene

import (
	"underdisc/model/network"
	"underdisc/model/plant"
)

// ValveNames are the valves of a plant in the order of View.Valve: the piloted
// ones, then the spring-loaded ones.
func ValveNames(m *plant.Model) []string {
	out := make([]string, 0, len(m.Valves)+len(m.Springs))
	for i := range m.Valves {
		out = append(out, m.Valves[i].Name)
	}
	for i := range m.Springs {
		out = append(out, m.Springs[i].Name)
	}
	return out
}

// SpringAt is which of a plant's spring-loaded valves has that number in the order
// of ValveNames; -1 if it is a piloted one.
func SpringAt(m *plant.Model, valve int) int {
	if i := valve - len(m.Valves); i >= 0 && i < len(m.Springs) {
		return i
	}
	return -1
}

// SpringState is the spring-loaded valve that is looked at; nil if it is a piloted
// one.
func (v *View) SpringState() *plant.SpringState {
	if i := v.Valve - len(v.Snapshot.Valves); i >= 0 && i < len(v.Snapshot.Springs) {
		return &v.Snapshot.Springs[i]
	}
	return nil
}

// piloted is the piloted valve that is looked at; of a spring-loaded one a state
// with what both have.
func (v *View) piloted() *plant.ValveState {
	q := v.SpringState()
	if q == nil {
		return &v.Snapshot.Valves[v.Valve]
	}
	return &plant.ValveState{Name: q.Name, Vessel: q.Vessel, VesselRate: q.VesselRate, Above: q.Inlet, Below: q.Huddle, Outlet: q.Outlet,
		OutletFluid: q.OutletFluid, OutletWall: q.OutletWall, LowPoint: q.LowPoint, Behind: q.Behind}
}

// Heard is the valve that is looked at as an ear takes it: what passes its seat, from
// where to where, and how its disc strikes.
func (v *View) Heard() *plant.ValveState {
	q := v.SpringState()
	if q == nil {
		return &v.Snapshot.Valves[v.Valve]
	}
	st := v.piloted()
	st.Below, st.Seat, st.AboveTemperature = st.Outlet, q.W, q.InletFluid.Temperature
	st.Dump, st.BelowTemperature = st.Outlet, q.InletFluid.Temperature
	st.Disc.Hold, st.Disc.Speed, st.Disc.SeatArea = q.Hold, q.Speed, q.SeatArea
	if q.Pop != plant.Lifted && q.Hold != plant.HeldOpen { // its faces take it up softly
		st.Disc.Hold = plant.HeldShut
	}
	return st
}

// vesselNode is the vessel or drum that the valve stands on.
func (v *View) vesselNode() network.Node {
	if i := SpringAt(v.Model, v.Valve); i >= 0 {
		return v.Model.Springs[i].Vessel
	}
	return v.Model.Valves[v.Valve].Vessel
}

// Named is the name of the valve that is looked at where a plant has several;
// empty where it has one.
func (v *View) Named() string {
	names := ValveNames(v.Model)
	if len(names) < 2 {
		return ""
	}
	return names[v.Valve]
}

// DriftAfter is the drift of the marks of flow a time dt of the picture later, s.
func (v *View) DriftAfter(d Drift, dt float64) Drift {
	if q := v.SpringState(); q != nil {
		w := dt * pace(q.W, mainFlow)
		return Drift{Line: wrap(d.Line + w), Seat: wrap(d.Seat + w)}
	}
	return d.After(dt, &v.Snapshot.Valves[v.Valve])
}
