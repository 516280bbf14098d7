package flow

import (
	"math"

	"underdisc/model/fluid"
)

// FluxSlopes is Flux with the derivatives of both results. With F = a G - Gb,
// zero at the solution, those of the face are -F_z/F_pF for each variable z.
func (s *Seat) FluxSlopes(up *fluid.State, down, a float64, f *SeatFlux) {
	n, nv, nu := s.throttling(up)
	face := s.face(up, down, a, n)
	f.Face = face
	if math.IsInf(a, 1) {
		s.wide(up, down, f)
		return
	}
	c, b := &f.curtain, &f.bore
	s.Law.FluxSlopes(up, face, c)
	d := beyond(up, down, face)
	s.Law.FluxSlopes(up, d, b)

	q := face / up.P
	qn := lessen(q, n)
	byArg := 0.0 // by the pressure on the face through the argument d = down pA/pF
	if down > 0 {
		byArg = -qn * b.Gp * d / face
	}
	// Gb by pF, by pA, by down, and by v and u at constant pA.
	bq := b.G * n * steep(q, n) / up.P
	bF := bq + byArg
	bA := -n*qn*b.G/up.P - byArg*q
	bp := 0.0
	if down > 0 {
		bp = qn * b.Gp * up.P / face
	}
	ln := 0.0
	if nv != 0 || nu != 0 {
		ln = qn * b.G * math.Log(q)
	}
	bv := qn*b.Gv + bA*up.Pv + ln*nv
	bu := qn*b.Gu + bA*up.Pu + ln*nu

	i := -1 / (a*c.Gp - bF)
	f.Facev = (a*c.Gv - bv) * i
	f.Faceu = (a*c.Gu - bu) * i
	f.Facep = -bp * i
	f.Facea = c.G * i
	if a < 1 {
		f.G = a * c.G
		f.Gv = a * (c.Gv + c.Gp*f.Facev)
		f.Gu = a * (c.Gu + c.Gp*f.Faceu)
		f.Gp = a * c.Gp * f.Facep
		f.Ga = c.G + a*c.Gp*f.Facea
	} else {
		f.G = qn * b.G
		f.Gv = bv + bF*f.Facev
		f.Gu = bu + bF*f.Faceu
		f.Gp = bp + bF*f.Facep
		f.Ga = bF * f.Facea
	}
	f.Choked = c.Choked || b.Choked
	if f.Choked {
		f.Gp = 0
	}
}

// steep is q^(n-1), the slope of q^n over n.
func steep(q, n float64) float64 {
	switch {
	case n == 1:
		return 1
	case q == 0:
		return math.Inf(1)
	}
	return lessen(q, n) / q
}

// wide is the limit of a curtain without end.
func (s *Seat) wide(up *fluid.State, down float64, f *SeatFlux) {
	b := &f.bore
	s.Law.FluxSlopes(up, down, b)
	f.G, f.Gv, f.Gu, f.Gp, f.Ga = b.G, b.Gv, b.Gu, b.Gp, 0
	f.Facev, f.Faceu, f.Facep, f.Facea = up.Pv, up.Pu, 0, 0
	f.Choked = b.Choked
}
