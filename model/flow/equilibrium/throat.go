package equilibrium

import "math"

// The throat of a wet expansion, whatever it came from, is where
//
//	F = w^2 - 2 (h0 - h) (w - w_X) = 0,  w = p v, X = ln p,
//
// that is, where the velocity is the speed of sound in equilibrium, v^2/-v_p;
// F_X = 2 w^2 - 2 (h0 - h) (w_X - w_XX). F falls with p. A guess from a small
// table and one step of Newton's method find it; G, greatest there, feels the
// square of what error is left.
const (
	guessStep  = 0.2
	guessCells = 55
	wetOctaves = 18 // of v/v"
	wetBits    = 2
	wetCells   = wetOctaves << wetBits
	deepest    = 0.8 // ln(p0/ps) of steam up to which its throat may be wet
	dryCells   = 12
	coldCells  = 20
)

// guesses are ln ratios down to the throat, bilinear. All over X, and: over the
// bits of v/v" for wet inlets; over ln(p0/ps) for steam; for water, from ps on,
// over the cube root of 1 - xi.
type guesses struct {
	grid          grid
	wet, dry, hot []float32
}

func bilinear(g []float32, width, i, j int, t, z float64) float64 {
	k := i*(width+1) + j
	a, b := g[k:k+2], g[k+width+1:k+width+3]
	lo, hi := float64(a[0]), float64(b[0])
	lo += z * (float64(a[1]) - lo)
	hi += z * (float64(b[1]) - hi)
	return lo + t*(hi-lo)
}

// octave is the cell and place of r, 2^-wetOctaves to 1, by its bits.
func octave(r float64) (j int, z float64) {
	b := math.Float64bits(r)
	j = int(b>>(52-wetBits)) - (1023-wetOctaves)<<wetBits
	if j < 0 {
		return 0, 0
	}
	if j >= wetCells {
		return wetCells - 1, 1
	}
	const mask = 1<<(52-wetBits) - 1
	return j, (math.Float64frombits(b&mask|1023<<52) - 1) * (1 << wetBits)
}

// build makes the guesses. Steam's are made by the table of its inlets.
func (n *Nozzle) buildGuesses() {
	g := &n.guess
	g.grid = grid{lineLow, 1 / guessStep, guessCells}
	g.wet = make([]float32, (guessCells+1)*(wetCells+1))
	g.dry = make([]float32, (guessCells+1)*(dryCells+1))
	g.hot = make([]float32, (guessCells+1)*(coldCells+1))
	for i := range guessCells + 1 {
		x := g.grid.node(i)
		p := math.Exp(x)
		c, t := n.line.find(x)
		vg, _ := c.vg.at(t)
		a, _ := c.a.at(t)
		b, _ := c.b.at(t)
		for j := range wetCells + 1 {
			r := math.Float64frombits(uint64((1023-wetOctaves)<<wetBits+j) << (52 - wetBits))
			s := (p*vg*r - a) / b
			h, _ := c.wet(t, s)
			g.wet[i*(wetCells+1)+j] = float32(x - n.search(x, h, s))
		}
		for j := range dryCells + 1 {
			d := deepest * float64(j) / dryCells
			cs, ts := n.line.find(x - d)
			s, _ := cs.sg.at(ts)
			sg, _ := c.sg.at(t)
			h, _ := c.wet(t, s)
			var l steamPlace
			n.steam.find(x, s-sg, &l)
			e, _, _ := l.cell.at(l.x, l.z)
			g.dry[i*(dryCells+1)+j] = float32(x - n.search(x, h+e, s))
		}
		vl, _ := c.vl.at(t)
		s := (p*vl - a) / b
		h, w := c.wet(t, s)
		wx, _ := c.bends(t, s)
		for j := range coldCells + 1 {
			z := float64(j) / coldCells
			xi := 1 - z*z*z
			work := xi * w * w / (2 * (w - wx))
			if j > 0 {
				g.hot[i*(coldCells+1)+j] = float32(x - n.search(x, h+work, s))
			}
		}
	}
}

// miss is F and its slope, of an expansion from h0 with entropy s.
func (c *lineCell) miss(t, h0, s float64) (f, slope float64) {
	h, w := c.wet(t, s)
	wx, wxx := c.bends(t, s)
	d := 2 * (h0 - h)
	return w*w - d*(w-wx), 2*w*w - d*(wx-wxx)
}

// search finds the throat below x without a guess.
func (n *Nozzle) search(x, h0, s float64) float64 {
	lo, hi := x-1, x
	at := x - 0.3
	for range 60 {
		c, t := n.line.find(at)
		f, d := c.miss(t, h0, s)
		if f > 0 {
			hi = at
		} else {
			lo = at
		}
		next := at - f/d
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-at) < 1e-10 {
			break
		}
		at = next
	}
	return at
}

// refine is one step of Newton's method from x, not above top.
func (n *Nozzle) refine(x, top float64, in *inlet, o *throat) {
	c, t := n.line.find(x)
	f, d := c.miss(t, in.h, in.s)
	step := -f / d
	if !(x+step < top) {
		step = top - x
	}
	if !(math.Abs(step) < lineStep/4) {
		step = max(-1, step)
		o.set(n, x+step, inWet)
		return
	}
	// The cell's cubics serve a little beyond it.
	o.x, o.c, o.t, o.at = x+step, c, t+step/lineStep, inWet
	o.p = c.pressure(o.t)
}

// place tells where the throat is.
type place int

const (
	inWet place = iota
	onLine
	inSteam
)

// throat is a throat's X and pressure, its place on the line and where it lies.
type throat struct {
	spot
	at place
}

// set places the throat at x.
func (o *throat) set(n *Nozzle, x float64, at place) {
	o.x, o.at, o.mixed = x, at, at == onLine
	o.c, o.t = n.line.find(x)
	o.p = o.c.pressure(o.t)
}

// far tells that pd is so much nearer to the expansion's upper end top than the
// guessed throat is that it need not be known better. d is the guess of ln(top/pc).
func far(pd, top, d float64) bool { return pd > top*(1-0.5*d) && d > 4*linearBelow }

// surely is a ratio of pressures that no steam chokes at.
const surely = 0.75

// throat finds it: the greatest flux lies in steam, on the line or in the wet,
// whichever of the three pressures is the middle one. Where pd is far above, zero
// is given for its pressure.
func (n *Nozzle) throat(in *inlet, pd float64, o *throat) {
	g := &n.guess
	switch in.kind {
	case fromSteam:
		if pd > surely*in.p {
			o.p = 0
			return
		}
		n.steamThroat(in, o)
	case fromWet:
		i, t, _ := g.grid.find(in.x)
		j, z := octave(in.share)
		d := bilinear(g.wet, wetCells, i, j, t, z)
		if far(pd, in.p, d) {
			o.p = 0
			return
		}
		n.refine(in.x-d, in.x, in, o)
	default:
		c, m := n.line.find(in.xs)
		_, w := c.wet(m, in.s)
		wx, _ := c.bends(m, in.s)
		xi := 2 * in.work * (w - wx) / (w * w)
		if xi >= 1 {
			o.set(n, in.xs, onLine)
			return
		}
		i, t, _ := g.grid.find(in.xs)
		z := math.Cbrt(1-xi) * coldCells
		j := min(int(z), coldCells-1)
		d := bilinear(g.hot, coldCells, i, j, t, z-float64(j))
		if far(pd, in.iso.p, d) {
			o.p = 0
			return
		}
		n.refine(in.xs-d, in.xs, in, o)
	}
}

func (n *Nozzle) steamThroat(in *inlet, o *throat) {
	g := &n.guess
	if d := in.x - in.xs; d < deepest {
		i, t, _ := g.grid.find(in.x)
		z := max(d, 0) * (dryCells / deepest)
		j := min(int(z), dryCells-1)
		at := in.x - bilinear(g.dry, dryCells, i, j, t, z-float64(j))
		n.refine(at, in.x, in, o)
		if o.x <= in.xs {
			return
		}
	}
	x := in.x - in.cell.value(in.cellX, in.cellZ)
	if x >= in.xs {
		o.set(n, x, inSteam)
	} else {
		o.set(n, in.xs, onLine)
	}
}
