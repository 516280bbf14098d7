package live_test

import (
	"math"

	"underdisc/model/plant"
)

// What follows is the bench once more, on paper: its numbers, and the
// quasi-steady balances that thresholds come from. It shares nothing with the
// network but the plant description, so the two can disagree. Equations and
// symbols are those of the reference configuration: p pressure [Pa, absolute],
// T temperature [K], V vessel, A body above the disc, B chamber below it,
// T tailpipe, x lift [m], s stroke of the pilot [m], C an area times its
// discharge coefficient [m2].

// rig holds the numbers of a plant with one piloted valve, SI.
type rig struct {
	gamma, R, critical                    float64 // gas, and its critical pressure ratio
	vessel, cavity, shut                  float64 // volumes: vessel; chamber with the disc shut; all that fills as one then
	pStart, tStart, inflow, tInflow, pAir float64
	As, Ag, seatD                         float64 // areas of seat and guide
	xMax, F0, k, weight, Fc               float64 // disc; Fc is the friction that ends rest
	Cline, Cbleed, Cpilot, Ctail          float64
	cdLine, cdBleed, cdPilot, cdSeat      float64 // what to multiply an area with
	Ap, sMax, Fp0, kp, damp, mass         float64 // plunger
	volts, ohms, henrys, Kf, g0           float64 // coil
	lag, set, reset, pickUp, dropOut      float64 // sensor, switch, relay
}

func rigOf(p *plant.Plant) rig {
	gas, _ := plant.Spec[plant.Gas](p, "gas")
	site, _ := plant.Spec[plant.Site](p, "site")
	air, _ := plant.Spec[plant.Surroundings](p, "surroundings")
	vessel, _ := plant.Spec[plant.Vessel](p, "vessel")
	in, _ := plant.Spec[plant.Inflow](p, "inflow")
	line, _ := plant.Spec[plant.Line](p, "line")
	v, _ := plant.Spec[plant.PilotedValve](p, "valve")
	pipe, _ := plant.Spec[plant.Tailpipe](p, "tailpipe")
	sensor, _ := plant.Spec[plant.Sensor](p, "sensor")
	sw, _ := plant.Spec[plant.Switch](p, "switch")
	relay, _ := plant.Spec[plant.Relay](p, "relay")
	g := rig{gamma: gas.HeatCapacityRatio, R: gas.GasConstant}
	g.critical = math.Pow(2/(g.gamma+1), g.gamma/(g.gamma-1))
	g.vessel, g.cavity, g.shut = vessel.Volume, v.Chamber.Volume, vessel.Volume+line.Volume+v.Chamber.Volume
	g.pStart, g.tStart, g.inflow, g.tInflow, g.pAir = vessel.Pressure, vessel.Temperature, in.MassFlow, in.Temperature, air.Pressure
	g.As, g.Ag, g.seatD = circle(v.Seat.Diameter), circle(v.Disc.GuideDiameter), v.Seat.Diameter
	g.xMax, g.F0, g.k, g.weight, g.Fc = v.Disc.Travel, v.Spring.Preload, v.Spring.Rate, v.Disc.Mass*site.Gravity, v.Disc.StickFriction
	g.cdLine, g.cdBleed, g.cdPilot, g.cdSeat = line.Coefficient, v.Bleed.Coefficient, v.Pilot.Coefficient, v.Seat.Coefficient
	g.Cline, g.Cbleed, g.Cpilot, g.Ctail = g.cdLine*line.Area, g.cdBleed*v.Bleed.Area, g.cdPilot*v.Pilot.Area, pipe.Coefficient*pipe.Area
	g.Ap, g.sMax, g.Fp0, g.kp, g.damp, g.mass = v.Pilot.Area, v.Plunger.Stroke, v.Plunger.Preload, v.Plunger.SpringRate, v.Plunger.Damping, v.Plunger.Mass
	g.volts, g.ohms, g.henrys, g.Kf, g.g0 = relay.Supply, v.Coil.Resistance, v.Coil.Inductance, v.Coil.PullFactor, v.Coil.Gap
	g.lag, g.set, g.reset, g.pickUp, g.dropOut = sensor.Lag, sw.Set, sw.Reset, relay.PickUp, relay.DropOut
	return g
}

func circle(d float64) float64 { return math.Pi / 4 * d * d }

// psi is the flow function of a loss-free nozzle (Saint-Venant and Wantzel) at
// r = pd/pu, with no smoothing near one.
func (g rig) psi(r float64) float64 {
	if r >= 1 {
		return 0
	}
	r = max(r, g.critical)
	a := math.Pow(r, 1/g.gamma)
	return math.Sqrt(2 * g.gamma / (g.gamma - 1) * a * (a - r))
}

// choked is psi of a choked flow.
func (g rig) choked() float64 { return g.psi(0) }

// phi is the share of the body's pressure on the face at the lift x.
func (g rig) phi(x float64) float64 {
	r := 4 * x / g.seatD
	return r * r / (1 + r*r)
}

// Cseat is the main valve's area at the lift x.
func (g rig) Cseat(x float64) float64 {
	ac := math.Pi * g.seatD * x
	return g.cdSeat * g.As * ac / math.Sqrt(g.As*g.As+ac*ac)
}

// toLift is the chamber's pressure below which the disc leaves its seat: the
// sum of the forces on a shut disc equals what friction holds,
//
//	pA (Ag - As) + pT As - pB Ag - F0 + m g = Fc.
func (g rig) toLift(pA, pT float64) float64 {
	return (pA*(g.Ag-g.As) + pT*g.As - g.F0 + g.weight - g.Fc) / g.Ag
}

// toLeave is the chamber's pressure above which the disc leaves its stop:
//
//	pA (Ag - As + phi As) + pT (1 - phi) As - pB Ag - F0 - k xmax + m g = -Fc.
func (g rig) toLeave(pA, pT float64) float64 {
	f := g.phi(g.xMax)
	return (pA*(g.Ag-g.As+f*g.As) + pT*(1-f)*g.As - g.F0 - g.k*g.xMax + g.weight + g.Fc) / g.Ag
}

// flowing is the quasi-steady state of body and tailpipe while the main valve
// is held at the area c and the vessel stands at pV: one flow through line,
// seat and tailpipe. Throttling a perfect gas leaves its temperature, so w,
// which is the flow times sqrt(R T), does not depend on it.
func (g rig) flowing(pV, c float64) (w, pA, pT float64) {
	// With a choked seat pA/pV is a constant of the two areas.
	share := root(0, 1, func(s float64) float64 { return g.Cline*g.psi(s) - c*s*g.choked() })
	pA, w = share*pV, c*share*pV*g.choked()
	if pT = g.upstream(w, g.Ctail, g.pAir); pT <= g.critical*pA {
		return w, pA, pT
	}
	// Otherwise less flows; a hair more than that bound is certainly too much.
	w = root(0, w*(1+1e-9), func(w float64) float64 {
		pT = g.upstream(w, g.Ctail, g.pAir)
		pA = g.upstream(w, c, pT)
		return pV - g.upstream(w, g.Cline, pA)
	})
	return w, pA, pT
}

// upstream is the pressure that drives w = W sqrt(R T) through the area c into
// pd: the root of c pu psi(pd/pu) = w.
func (g rig) upstream(w, c, pd float64) float64 {
	if pu := w / (c * g.choked()); pd <= g.critical*pu {
		return pu
	}
	return root(pd, 4*pd, func(pu float64) float64 { return c*pu*g.psi(pd/pu) - w })
}

// open is flowing at full lift.
func (g rig) open(pV float64) (w, pA, pT float64) { return g.flowing(pV, g.Cseat(g.xMax)) }

// rise is how fast the vessel's pressure rises with everything shut [Pa/s]:
// vessel, body and chamber fill as one, d(p V)/dt/(gamma - 1) = W cp T.
func (g rig) rise() float64 {
	return g.gamma * g.R * g.tInflow * g.inflow / g.shut
}

// gasAt is pressure and temperature of the vessel t after the start with
// everything shut.
func (g rig) gasAt(t float64) (p, T float64) {
	p = g.pStart + g.rise()*t
	return p, p * g.shut / (g.R * (g.pStart*g.shut/(g.R*g.tStart) + g.inflow*t))
}

// madeAt is when the switch makes: on a ramp the sensor's reading lags by its
// time constant, once that has passed (here forty times over).
func (g rig) madeAt() float64 { return (g.set-g.pStart)/g.rise() + g.lag }

// dumped is the chamber's steady pressure with the pilot wide open.
func (g rig) dumped(pA, pT float64) float64 {
	return root(pT, pA, func(pB float64) float64 { return g.Cbleed*pA*g.psi(pB/pA) - g.Cpilot*pB*g.psi(pT/pB) })
}

// leaking is the leak C past a shut pilot with which the chamber stands at pB.
func (g rig) leaking(pA, pB, pT float64) float64 {
	return g.Cbleed * pA * g.psi(pB/pA) / (pB * g.psi(pT/pB))
}

// balance is the vessel's pressure at which it loses through the area c what
// flows in, in the end: when what leaves it has the temperature of what enters.
func (g rig) balance(c float64) float64 {
	return root(1.01*g.pAir, 100*g.pAir, func(pV float64) float64 {
		w, _, _ := g.flowing(pV, c)
		return w - g.inflow*math.Sqrt(g.R*g.tInflow)
	})
}

// holdCurrent is the current below which the pilot leaves its open stop: the
// pull with the gap closed equals the spring; no pressure presses on the seat.
func (g rig) holdCurrent() float64 { return math.Sqrt((g.Fp0 + g.kp*g.sMax) / g.Kf) }

// liftCurrent is the current that lifts the pilot off its seat.
func (g rig) liftCurrent(pB, pT float64) float64 {
	return (1 + g.sMax/g.g0) * math.Sqrt((g.Fp0+g.Ap*(pB-pT))/g.Kf)
}

// release is the time from coil off to the pilot's leaving its open stop: the
// current falls from V/R as exp(-t R/L).
func (g rig) release() float64 {
	return g.henrys / g.ohms * math.Log(g.volts/g.ohms/g.holdCurrent())
}
