package scene

import (
	"math"
	"strconv"
)

// phrases are the words of the pictures drawn so far: what is said again is not
// made again.
type phrases struct {
	made    map[string]string
	scratch []byte
}

// mostPhrases are kept; then they are forgotten and begin anew.
const mostPhrases = 1 << 13

// say puts words together.
func (p *phrases) say(words ...string) string {
	b := p.scratch[:0]
	for _, w := range words {
		b = append(b, w...)
	}
	return p.keep(b)
}

// number writes a number with n places; one that rounds to zero has no sign.
func (p *phrases) number(x float64, n int) string {
	return p.keep(strconv.AppendFloat(p.scratch[:0], unsigned(x, n), 'f', n, 64))
}

// keep gives the words that the scratch spells.
func (p *phrases) keep(b []byte) string {
	p.scratch = b
	if s, ok := p.made[string(b)]; ok {
		return s
	}
	if p.made == nil || len(p.made) >= mostPhrases {
		p.made = make(map[string]string)
	}
	s := string(b)
	p.made[s] = s
	return s
}

// unsigned is a number, but zero if it rounds to zero with n places.
func unsigned(x float64, n int) float64 {
	if math.Abs(x) < 0.5*math.Pow(10, -float64(n)) {
		return 0
	}
	return x
}

// The numbers of a picture with their units, as the functions of the same names
// write them.

func (p *phrases) pressure(u Units, pa float64) string {
	_, n := u.factor()
	return p.number(u.shown(pa), n)
}

func (p *phrases) pressureUnit(u Units, pa float64) string {
	return p.say(p.pressure(u, pa), " ", u.PressureName())
}

func (p *phrases) difference(u Units, dp float64) string {
	size, n := u.factor()
	return p.number(dp/size, n)
}

func (p *phrases) force(f float64) string {
	x, n, unit := forceIn(f)
	return p.say(p.number(x, n), unit)
}

func (p *phrases) current(i float64) string {
	if math.IsInf(i, 1) {
		return "none" // no current does
	}
	return p.number(i, currentPlaces)
}

func (p *phrases) mm(x float64) string { return p.say(p.number(1e3*x, 1), " mm") }

func (p *phrases) span(dt float64) string {
	x, n, unit := spanIn(dt)
	return p.say(p.number(x, n), unit)
}

func (p *phrases) flow(u Units, w float64) string {
	x, n, unit := u.flowIn(w)
	return p.say(p.number(x, n), unit)
}

func (p *phrases) temperature(u Units, t float64) string {
	if u.Fahrenheit {
		return p.say(p.number(t*1.8-459.67, 0), " degF")
	}
	return p.say(p.number(t-273.15, 0), " degC")
}
