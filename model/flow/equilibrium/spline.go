package equilibrium

// cubic holds f = c0 + c1 t + c2 t^2 + c3 t^3 in one cell, t from 0 to 1.
type cubic [4]float64

// at is the value and its slope by t.
func (c *cubic) at(t float64) (f, slope float64) {
	return c[0] + t*(c[1]+t*(c[2]+t*c[3])), c[1] + t*(2*c[2]+3*t*c[3])
}

// area is the integral from 0 to t.
func (c *cubic) area(t float64) float64 {
	return t * (c[0] + t*(c[1]*(1./2)+t*(c[2]*(1./3)+t*(c[3]*(1./4)))))
}

// hermite is the cubic with the values f0, f1 and the slopes m0, m1 by t at the
// ends.
func hermite(f0, m0, f1, m1 float64) cubic {
	return cubic{f0, m0, 3*(f1-f0) - 2*m0 - m1, 2*(f0-f1) + m0 + m1}
}

// grid is n equal cells from low on.
type grid struct {
	low, per float64 // where it begins; cells per unit
	n        int
}

func newGrid(n int, low, high float64) grid { return grid{low, float64(n) / (high - low), n} }

func (g *grid) node(i int) float64 { return g.low + float64(i)/g.per }

// find is the cell of x and the place in it. x outside the grid is taken at its
// edge; free is then 0, else 1, and is what slopes by x are to be multiplied by.
func (g *grid) find(x float64) (i int, t, free float64) {
	t = (x - g.low) * g.per
	if !(t > 0) {
		return 0, 0, 0
	}
	if t >= float64(g.n) {
		return g.n - 1, 1, 0
	}
	i = int(t)
	return i, t - float64(i), 1
}

// slopes yields the slopes per cell at the nodes of the cubic spline through f,
// on equal cells. The end slopes are those of the quartic through the five
// outermost nodes; or, if flat, zero at the first.
func slopes(f []float64, flat bool) []float64 {
	n := len(f) - 1
	m := make([]float64, n+1)
	if !flat {
		m[0] = (-25*f[0] + 48*f[1] - 36*f[2] + 16*f[3] - 3*f[4]) / 12
	}
	m[n] = (25*f[n] - 48*f[n-1] + 36*f[n-2] - 16*f[n-3] + 3*f[n-4]) / 12
	// m[i-1] + 4 m[i] + m[i+1] = 3 (f[i+1] - f[i-1]).
	c := make([]float64, n)
	for i := 1; i < n; i++ {
		r := 3 * (f[i+1] - f[i-1])
		if i == n-1 {
			r -= m[n]
		}
		d := 4 - c[i-1]
		c[i] = 1 / d
		before := m[i-1]
		m[i] = (r - before) / d
	}
	for i := n - 2; i > 0; i-- {
		m[i] -= c[i] * m[i+1]
	}
	return m
}

// cubics is the spline through f cell by cell.
func cubics(f []float64) []cubic {
	m := slopes(f, false)
	c := make([]cubic, len(f)-1)
	for i := range c {
		c[i] = hermite(f[i], m[i], f[i+1], m[i+1])
	}
	return c
}

// patch is a function in one cell of a plane: the sum over a, b of
// c[4a+b] x^a z^b, x and z from 0 to 1.
type patch [16]float64

// at is the value and the slopes by x and z.
func (c *patch) at(x, z float64) (f, fx, fz float64) {
	r0 := c[0] + z*(c[1]+z*(c[2]+z*c[3]))
	r1 := c[4] + z*(c[5]+z*(c[6]+z*c[7]))
	r2 := c[8] + z*(c[9]+z*(c[10]+z*c[11]))
	r3 := c[12] + z*(c[13]+z*(c[14]+z*c[15]))
	z2, z3 := 2*z, 3*z*z
	d0 := c[1] + z2*c[2] + z3*c[3]
	d1 := c[5] + z2*c[6] + z3*c[7]
	d2 := c[9] + z2*c[10] + z3*c[11]
	d3 := c[13] + z2*c[14] + z3*c[15]
	f = r0 + x*(r1+x*(r2+x*r3))
	fx = r1 + x*(2*r2+3*x*r3)
	fz = d0 + x*(d1+x*(d2+x*d3))
	return
}

// value is the value alone.
func (c *patch) value(x, z float64) float64 {
	z2 := z * z
	r0 := c[0] + z*c[1] + z2*(c[2]+z*c[3])
	r1 := c[4] + z*c[5] + z2*(c[6]+z*c[7])
	r2 := c[8] + z*c[9] + z2*(c[10]+z*c[11])
	r3 := c[12] + z*c[13] + z2*(c[14]+z*c[15])
	return r0 + x*r1 + x*x*(r2+x*r3)
}

// bends are the second slopes.
func (c *patch) bends(x, z float64) (fxx, fxz, fzz float64) {
	r2 := c[8] + z*(c[9]+z*(c[10]+z*c[11]))
	r3 := c[12] + z*(c[13]+z*(c[14]+z*c[15]))
	fxx = 2*r2 + 6*x*r3
	z2, z3 := 2*z, 3*z*z
	d1 := c[5] + z2*c[6] + z3*c[7]
	d2 := c[9] + z2*c[10] + z3*c[11]
	d3 := c[13] + z2*c[14] + z3*c[15]
	fxz = d1 + x*(2*d2+3*x*d3)
	e0 := 2*c[2] + 6*z*c[3]
	e1 := 2*c[6] + 6*z*c[7]
	e2 := 2*c[10] + 6*z*c[11]
	e3 := 2*c[14] + 6*z*c[15]
	fzz = e0 + x*(e1+x*(e2+x*e3))
	return
}

// patches is the bicubic spline through f[i][j], row by row of i; if flat, with
// no slope by j at the first j.
func patches(f [][]float64, flat bool) []patch {
	nx, nz := len(f)-1, len(f[0])-1
	fz := make([][]float64, nx+1)
	for i := range f {
		fz[i] = slopes(f[i], flat)
	}
	fx, fxz := across(f), across(fz)
	p := make([]patch, nx*nz)
	for i := range nx {
		for j := range nz {
			var rows [4]cubic // by z: f and f_x at the left, at the right
			for e := range 2 {
				k := i + e
				rows[2*e] = hermite(f[k][j], fz[k][j], f[k][j+1], fz[k][j+1])
				rows[2*e+1] = hermite(fx[k][j], fxz[k][j], fx[k][j+1], fxz[k][j+1])
			}
			for b := range 4 {
				col := hermite(rows[0][b], rows[1][b], rows[2][b], rows[3][b])
				for a := range 4 {
					p[i*nz+j][4*a+b] = col[a]
				}
			}
		}
	}
	return p
}

// across yields the spline slopes of f by its first index.
func across(f [][]float64) [][]float64 {
	m := make([][]float64, len(f))
	for i := range m {
		m[i] = make([]float64, len(f[0]))
	}
	line := make([]float64, len(f))
	for j := range f[0] {
		for i := range f {
			line[i] = f[i][j]
		}
		for i, d := range slopes(line, false) {
			m[i][j] = d
		}
	}
	return m
}
