package water

// cubic holds f = c0 + c1 t + c2 t^2 + c3 t^3 in one cell, t from 0 to 1.
type cubic [4]float64

// at is the value and its slope by t.
func (c *cubic) at(t float64) (f, slope float64) {
	return c[0] + t*(c[1]+t*(c[2]+t*c[3])), c[1] + t*(2*c[2]+3*t*c[3])
}

// hermite is the cubic with the values f0, f1 and the slopes m0, m1 (by t) at
// the ends.
func hermite(f0, m0, f1, m1 float64) cubic {
	return cubic{f0, m0, 3*(f1-f0) - 2*m0 - m1, 2*(f0-f1) + m0 + m1}
}

// slopes yields the slopes at the nodes of the cubic spline through (x, f), which
// has two continuous derivatives. Its end slopes are those of the quartic
// through the five outermost nodes.
func slopes(x, f []float64) []float64 {
	n := len(x) - 1
	return clamped(x, f,
		endSlope(x[0], x[1], x[2], x[3], x[4], f[0], f[1], f[2], f[3], f[4]),
		endSlope(x[n], x[n-1], x[n-2], x[n-3], x[n-4], f[n], f[n-1], f[n-2], f[n-3], f[n-4]))
}

// clamped is slopes with given end slopes.
func clamped(x, f []float64, first, last float64) []float64 {
	n := len(x) - 1
	m := make([]float64, n+1)
	m[0], m[n] = first, last
	// Tridiagonal: continuity of the second derivative at each inner node.
	c := make([]float64, n)
	for i := 1; i < n; i++ {
		a, b := 1/(x[i]-x[i-1]), 1/(x[i+1]-x[i])
		r := 3 * (a*a*(f[i]-f[i-1]) + b*b*(f[i+1]-f[i]))
		if i == n-1 {
			r -= b * m[n]
		}
		d := 2*(a+b) - a*c[i-1]
		c[i] = b / d
		m[i] = (r - a*m[i-1]) / d
	}
	for i := n - 2; i > 0; i-- {
		m[i] -= c[i] * m[i+1]
	}
	return m
}

// endSlope is the slope at the first of five nodes by Newton's divided
// differences.
func endSlope(x0, x1, x2, x3, x4, f0, f1, f2, f3, f4 float64) float64 {
	x := [5]float64{x0, x1, x2, x3, x4}
	d := [5]float64{f0, f1, f2, f3, f4}
	slope, product := 0.0, 1.0
	for k := 1; k < 5; k++ {
		for i := 4; i >= k; i-- {
			d[i] = (d[i] - d[i-1]) / (x[i] - x[i-k])
		}
		slope += d[k] * product
		product *= x0 - x[k]
	}
	return slope
}

// cubics yields the spline through (x, f) cell by cell.
func cubics(x, f []float64) []cubic {
	m := slopes(x, f)
	c := make([]cubic, len(x)-1)
	for i := range c {
		h := x[i+1] - x[i]
		c[i] = hermite(f[i], h*m[i], f[i+1], h*m[i+1])
	}
	return c
}

// patch is a function in one cell of a plane, the sum over a, b of
// c[4a+b] x^a z^b with x and z from 0 to 1 in the cell.
type patch [16]float64

// at is the value and its slopes by x and z.
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

// surface is a function at the nodes of a grid, f[i][j] at (x[i], z[j]), with its
// slopes by z at the first and the last z. These come from the formulation: what
// a spline makes up there shows in the slopes along the saturation line.
type surface struct {
	x, z []float64
	f    [][]float64
	ends [][2]float64
}

func newSurface(x, z []float64) *surface {
	s := &surface{x: x, z: z, f: make([][]float64, len(x)), ends: make([][2]float64, len(x))}
	for i := range s.f {
		s.f[i] = make([]float64, len(z))
	}
	return s
}

// fill writes the bicubic spline of s into patches, numbered row by row of x. In
// each row there is one patch more than cells in z: beyond the last node the
// function goes on linearly, so that no trial state meets a cubic gone wild.
func (s *surface) fill(patch func(n int) *patch) {
	nx, nz := len(s.x)-1, len(s.z)-1
	fz := make([][]float64, nx+1)
	for i := range fz {
		fz[i] = clamped(s.z, s.f[i], s.ends[i][0], s.ends[i][1])
	}
	fx, fxz := s.along(s.f), s.along(fz)
	for i := range nx {
		hx := s.x[i+1] - s.x[i]
		for j := range nz + 1 {
			var rows [4]cubic // by z: f and hx f_x at the left, at the right
			for e := range 2 {
				if j < nz {
					hz := s.z[j+1] - s.z[j]
					rows[2*e] = hermite(s.f[i+e][j], hz*fz[i+e][j], s.f[i+e][j+1], hz*fz[i+e][j+1])
					rows[2*e+1] = hermite(fx[i+e][j], hz*fxz[i+e][j], fx[i+e][j+1], hz*fxz[i+e][j+1])
				} else {
					hz := s.z[nz] - s.z[nz-1]
					rows[2*e] = cubic{s.f[i+e][nz], hz * fz[i+e][nz]}
					rows[2*e+1] = cubic{fx[i+e][nz], hz * fxz[i+e][nz]}
				}
			}
			c := patch(i*(nz+1) + j)
			for b := range 4 {
				col := hermite(rows[0][b], hx*rows[1][b], rows[2][b], hx*rows[3][b])
				for a := range 4 {
					c[4*a+b] = col[a]
				}
			}
		}
	}
}

// along yields the spline slopes of f by x.
func (s *surface) along(f [][]float64) [][]float64 {
	m := newSurface(s.x, s.z).f
	line := make([]float64, len(s.x))
	for j := range s.z {
		for i := range s.x {
			line[i] = f[i][j]
		}
		for i, d := range slopes(s.x, line) {
			m[i][j] = d
		}
	}
	return m
}
