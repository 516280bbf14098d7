package live_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/sim"
)

// modulating is the reference valve behind an inlet pipe without losses, held
// open between its stop and its seat by an inflow.
type modulating struct {
	plant *plant.Plant
	state sim.State
	model *plant.Model
	disc  *plant.SpringMap
	// The linear criterion's numbers: see criterion.
	k, g, h, a, c0, area, m, c float64
	length                     float64
}

// pipeBore is that of the inlet: the nozzle's own size and half as much again.
const pipeBore = 0.0675

// modulate puts the plant at the equilibrium with the disc at the lift x: between
// the reseat fold, at 9 mm, and the stop at 14 those are stable without a pipe.
func modulate(t *testing.T, x, length float64, cells int, damping float64) *modulating {
	t.Helper()
	sc, err := scenarios.Load("spring-reference")
	require.NoError(t, err)
	p := &plant.Plant{}
	var spec *plant.SpringValve
	for _, q := range sc.Plant.Parts {
		switch s := q.Spec.(type) {
		case *plant.SpringValve:
			v := *s
			v.Inlet = &plant.Run{Length: length, Bore: pipeBore, Cells: float64(cells)}
			v.Disc.Damping = damping
			spec = &v
			q.Spec = spec
		case *plant.Vessel:
			v := *s
			v.Volume = 2000 // its pressure stands still beside the pipe's
			q.Spec = &v
		}
		p.Parts = append(p.Parts, q)
	}
	m, err := plant.Build(p)
	require.NoError(t, err)
	past := m.PastDisc(spec, 101325)
	const temperature = 523.0
	state := func(pressure float64) (s fluid.State) {
		m.At(m.Gas.Volume(pressure, temperature), m.Gas.Energy(temperature), &s)
		return s
	}
	weight := spec.Disc.Mass * m.Gravity
	balance := func(x float64) float64 { // pressure of the equilibrium
		lo, hi := 20e5, 60e5
		for range 100 {
			mid := (lo + hi) / 2
			s := state(mid)
			var o flow.Past
			past.At(&s, 101325, x, &o)
			if o.Force < spec.Spring.Preload+spec.Spring.Rate*x+weight {
				lo = mid
			} else {
				hi = mid
			}
		}
		return (lo + hi) / 2
	}
	at := func(x, pressure float64) (o flow.Past, s fluid.State) {
		s = state(pressure)
		past.Slopes(&s, 101325, x, &o)
		return o, s
	}
	pressure := balance(x)
	o, s := at(x, pressure)
	// Along an isentrope du = -p dv, and c0^2 = -v^2 dp/dv.
	w2 := s.V * s.V * (s.P*s.Pu - s.Pv)
	dv := -s.V * s.V / w2 // by pressure
	du := -s.P * dv
	d := &modulating{plant: p, model: m, k: spec.Spring.Rate - o.Fx, g: o.Wv*dv + o.Wu*du, h: o.Wx, a: o.Fv*dv + o.Fu*du,
		c0: math.Sqrt(w2), area: math.Pi / 4 * pipeBore * pipeBore, m: spec.Disc.Mass, c: damping, length: length}

	// The plant at rest there.
	p, err = p.With("vessel.pressure", plant.Value{Number: pressure})
	require.NoError(t, err)
	p, err = p.With("inflow.mass-flow", plant.Value{Number: o.W})
	require.NoError(t, err)
	d.plant = p
	d.model, err = plant.Build(p)
	require.NoError(t, err)
	n := d.model.Net
	d.state = n.Start()
	d.disc = &d.model.Springs[0]
	lay := n.Layout()
	for i, name := range lay.Vars {
		switch {
		case name == "safety.disc.position":
			d.state.Y[i] = x
		case name == "safety.disc.speed":
			d.state.Y[i] = 0
		case len(name) > 5 && name[len(name)-5:] == ".flow":
			d.state.Y[i] = o.W
		}
	}
	for i, name := range lay.Modes {
		if name == "safety.disc" {
			d.state.Modes[i] = network.Free
		}
		if name == "safety.disc.faces" {
			d.state.Modes[i] = network.FacesLifted
		}
	}
	return d
}

// modes are the swinging modes of the plant, 1/s: the one that grows fastest, and
// the one that swings with the pipe's quarter wave.
func (d *modulating) modes(t *testing.T) (worst, wave complex128) {
	t.Helper()
	n := d.model.Net
	lay := n.Layout()
	nv := len(lay.Vars)
	el := make([]float64, len(lay.Entries))
	n.Jacobian(0, d.state.Y, d.state.Modes, el)
	j := mat.NewDense(nv, nv, nil)
	for k, e := range lay.Entries {
		if e.Row < nv {
			j.Set(e.Row, e.Col, j.At(e.Row, e.Col)+el[k])
		}
	}
	// In units of each variable's own size, so that the matrix is fit for it.
	for r := range nv {
		for c := range nv {
			j.Set(r, c, j.At(r, c)*lay.Scales[c]/lay.Scales[r])
		}
	}
	var e mat.Eigen
	require.True(t, e.Factorize(j, mat.EigenNone))
	quarter := math.Pi / 2 * d.c0 / d.length
	worst, wave = complex(math.Inf(-1), 0), complex(0, math.Inf(1))
	for _, v := range e.Values(nil) {
		if imag(v) <= 10 {
			continue
		}
		if real(v) > real(worst) {
			worst = v
		}
		if math.Abs(imag(v)-quarter) < math.Abs(imag(wave)-quarter) {
			wave = v
		}
	}
	return worst, wave
}

// undamped is the length of onset without damping. The linear criterion for a disc
// behind a pipe without losses (Hos, Champneys, Paul and McNeely, parts I to IV;
// derived anew from the pipe's wave equation) is
//
//	(m s^2 + K)(1 + Zc T G) + Zc T H a = 0, T = tanh(s L/c0), Zc = c0/A
//
// with K the spring's rate less the force's growth with the lift, G and H the
// flow's slopes by pressure and lift, a the force's by pressure, along isentropes.
// At the onset s is imaginary, and so is T: both the real and the imaginary part
// vanish where T is infinite, that is at the quarter wave, and m s^2 + K + H a/G
// is nothing.
func (d *modulating) undamped() float64 {
	return math.Pi / 2 * d.c0 * math.Sqrt(d.m/(d.k+d.h*d.a/d.g))
}

// onset is the length at which the largest growth of the plant's modes changes
// its sign.
func onset(t *testing.T, x float64, cells int, damping, about float64) float64 {
	t.Helper()
	grows := func(l float64) float64 {
		worst, _ := modulate(t, x, l, cells, damping).modes(t)
		return real(worst)
	}
	lo, hi := 0.5*about, 1.6*about
	require.Negative(t, grows(lo), "%g m of pipe", lo)
	require.Positive(t, grows(hi), "%g m of pipe", hi)
	for range 30 {
		mid := (lo + hi) / 2
		if grows(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// TestChatterOnset: the length of inlet pipe from which the valve chatters,
// against the criterion's closed form, at four and eight cells.
func TestChatterOnset(t *testing.T) {
	for _, x := range []float64{9.5e-3, 11e-3, 13e-3} {
		want := modulate(t, x, 1, 4, 0).undamped()
		for _, cells := range []int{4, 8} {
			got := onset(t, x, cells, 0, want)
			t.Logf("lift %.1f mm: %d cells %.4f m, criterion %.4f m: %+.2f %%", 1e3*x, cells, got, want, 100*(got/want-1))
			assert.InEpsilon(t, want, got, 0.02)
		}
	}
}

// TestChatterGrows: in the run itself a small swing dies out on a pipe five in a
// hundred shorter than the criterion's, and grows on one as much longer.
func TestChatterGrows(t *testing.T) {
	const x = 11e-3
	want := modulate(t, x, 1, 8, 0).undamped()
	for _, by := range []float64{0.95, 1.05} {
		d := modulate(t, x, by*want, 8, 0)
		_, mode := d.modes(t)
		grew := swing(t, d, 2*math.Pi/imag(mode))
		t.Logf("%.3f of the criterion's %.3f m: swings at %.1f Hz; grew by %.4g a swing, its mode says %.4g", by, want, imag(mode)/2/math.Pi, grew, math.Exp(2*math.Pi*real(mode)/imag(mode)))
		assert.Equal(t, by > 1, grew > 1)
		assert.InDelta(t, math.Exp(2*math.Pi*real(mode)/imag(mode)), grew, 0.01)
	}
}

// swing sets the disc off by ten micrometres and says by what factor its swing
// grows each time.
func swing(t *testing.T, d *modulating, period float64) float64 {
	t.Helper()
	n := d.model.Net
	x := slices.Index(n.Layout().Vars, "safety.disc.position")
	s := d.state.Clone()
	s.Y[x] += 1e-5
	h := &sim.History{}
	r, err := sim.New(n, s, sim.Settings{RelTol: 1e-9, History: h})
	require.NoError(t, err)
	const first, last, points = 5, 25, 200
	require.NoError(t, r.Finish((last+1)*period))
	y := make([]float64, len(s.Y))
	wide := func(k int) float64 { // from the lowest to the highest in one swing
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range points {
			at := (float64(k) + float64(i)/points) * period
			g, err := h.At(at)
			require.NoError(t, err)
			g.Eval(at, y)
			lo, hi = math.Min(lo, y[x]), math.Max(hi, y[x])
		}
		return hi - lo
	}
	return math.Pow(wide(last)/wide(first), 1./(last-first))
}
