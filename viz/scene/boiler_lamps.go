package scene

import (
	"math"
	"strings"

	wording "underdisc/viz/words"
)

// lampSays is a lamp on the panel beside what really is.
type lampSays struct {
	name, short string
	lit, wrong  bool   // wrong: it says what is not so
	is          string // how the disc stands, in a word or two
}

// mostLamps have room.
const mostLamps = 2

// lampsNow are the lamps that stand for the valve.
func (s *sheet) lampsNow() []lampSays {
	open, is := s.st.Disc.Lift > 0.05*s.st.Disc.Travel, [2]string{"disc shut", "disc open"}
	if s.v.Sealed { // what is heard at the end of the tailpipe
		open, is = s.st.Seat > 0, [2]string{"tailpipe still", "tailpipe heard"}
	}
	var out []lampSays
	for i := range s.v.Snapshot.Lamps {
		l := &s.v.Snapshot.Lamps[i]
		if l.Valve != s.st.Name || len(out) == mostLamps {
			continue
		}
		name := wording.Capital(strings.ReplaceAll(l.Name, "-", " "))
		q := lampSays{name: name, short: strings.TrimSuffix(name, " lamp"), lit: l.Lit, wrong: l.Lit != open, is: is[0]}
		if open {
			q.is = is[1]
		}
		out = append(out, q)
	}
	return out
}

// lamps draws the lamps below each other. One that says what is not so is written
// on a plate in the ink of now, with what is.
func (s *sheet) lamps(part string, c *dial, at Rect) {
	name, value := s.label(), s.strong()
	r := 0.5 * name.size
	says := ""
	for i := range c.lamps {
		l := &c.lamps[i]
		row := at
		row.Top += at.Height() * float64(i) / float64(len(c.lamps))
		row.Bottom = row.Top + at.Height()/float64(len(c.lamps))
		mid := (row.Top + row.Bottom) / 2
		y := mid + capShare*name.size/2
		state := "dark"
		if l.lit {
			state = "lit"
		}
		full := state
		left := row.Left + 2.9*r
		if l.wrong {
			full = s.say(state, ", ", l.is)
			e := 0.3 * name.size
			s.fill(part, s.box(Rect{row.Left - e, row.Top + 1, row.Right + e, row.Bottom - 1}, s.p.px(4)), Now)
			s.wrongLamp(part, l, state, Rect{left, mid, row.Right + e - 3*s.p.scale, mid})
		} else {
			room := row.Right - left - 0.3*name.size
			called := l.name
			if s.width(name, called)+s.width(value, full) > room {
				called = l.short
			}
			s.first(part, name, left, y, FromLeft, room-s.width(value, state), called)
			s.first(part, value, row.Right, y, FromRight, room-s.width(name, called), full)
		}
		s.lamp(part, l.lit, l.wrong, Point{row.Left + 1.2*r, mid}, 0.9*r)
		if i > 0 {
			says = s.say(says, ", ")
		}
		says = s.say(says, strings.ToLower(l.name), " ", full)
	}
	s.spot(s.say("boiler, ", c.name), at, says)
}

// wrongLamp writes what a lamp says and what is so, as large as it goes.
func (s *sheet) wrongLamp(part string, l *lampSays, state string, at Rect) {
	for _, says := range [...]string{s.say(l.name, " ", state, ", ", l.is), s.say(l.short, " ", state, ", ", l.is), s.say(l.name, " ", state), s.say(l.short, " ", state)} {
		for _, f := range [...]face{s.strong(), s.small()} {
			f.bold, f.ink = true, White
			if s.width(f, says) <= at.Width() {
				s.text(part, f, at.Left, at.Top+capShare*f.size/2, FromLeft, says)
				return
			}
		}
	}
}

// lamp is a lamp on the panel: crossed, and with rays when it is lit; on a plate
// in the ink of now they are white.
func (s *sheet) lamp(part string, lit, plate bool, at Point, r float64) {
	k := s.p.scale
	fill, ink, rays := White, Dark, Now
	if plate {
		rays = White
	}
	if lit {
		if !plate {
			fill, ink = Now, White
		}
		for i := range 8 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 4)
			s.line(part, s.open(Point{at.X + 1.15*r*cos, at.Y + 1.15*r*sin}, Point{at.X + 1.5*r*cos, at.Y + 1.5*r*sin}), rays, 2*k)
		}
	}
	s.outlined(part, s.circle(at, 0.95*r), fill, Dark, 1.8*k)
	d := 0.62 * r
	s.line(part, s.open(Point{at.X - d, at.Y - d}, Point{at.X + d, at.Y + d}), ink, 1.8*k)
	s.line(part, s.open(Point{at.X - d, at.Y + d}, Point{at.X + d, at.Y - d}), ink, 1.8*k)
}
