package report

import (
	"bytes"
	"fmt"
	"math"

	"underdisc/model/plant"
	"underdisc/viz/words"
)

// heardBlow is a stretch in which the discharge of a spring-loaded valve blew, to the
// nearest look; pressures of the vessel, Pa absolute.
type heardBlow struct {
	from, until float64
	began, left float64
	goesOn      bool
}

// heard is what was heard of a spring-loaded valve.
func (rec *Record) heard(spring int) ([]heardBlow, error) {
	var out []heardBlow
	until := rec.Until()
	const looks, most = 0.05, 100000
	step := math.Max(looks, until/most)
	blew := false
	for k := 0; ; k++ {
		t := math.Min(float64(k)*step, until)
		s, _, err := rec.Run.At(t)
		if err != nil {
			return nil, err
		}
		v := &s.Springs[spring]
		blow := words.SpringTailOf(v) == words.Blows
		switch {
		case blow && !blew && len(out) > 0 && t-out[len(out)-1].until < apart:
			out[len(out)-1].goesOn = true // to the ear it never stopped
		case blow && !blew:
			out = append(out, heardBlow{from: t, began: v.Vessel, goesOn: true})
		case !blow && blew:
			h := &out[len(out)-1]
			h.until, h.left, h.goesOn = t, v.Vessel, false
		}
		if blew = blow; t >= until {
			return out, nil
		}
	}
}

// writeSealedSprings writes what was heard of the spring-loaded valves.
func (rec *Record) writeSealedSprings(b *bytes.Buffer) {
	for i := range rec.Springs {
		v := &rec.Springs[i]
		name := ""
		if len(rec.Valves)+len(rec.Springs) > 1 {
			name = v.Name + ": "
		}
		section(b, name+"what was heard, in order")
		if len(v.Heard) == 0 {
			fmt.Fprintln(b, "  nothing: it did not blow")
		}
		for _, h := range v.Heard {
			line := fmt.Sprintf("  blows from %.1f s, at %s in the vessel", h.from, words.Pressure(h.began))
			if h.goesOn {
				line += ", to the end"
			} else {
				line += fmt.Sprintf(", to %.1f s, at %s", h.until, words.Pressure(h.left))
			}
			fmt.Fprintln(b, line)
		}
		section(b, name+"at the end")
		paragraph(b, "", words.SpringOutside(&rec.Run.Now().Springs[v.Index], rec.gauge(v.Index)))
	}
}

// SealedSpring is what is heard of one spring-loaded valve.
type SealedSpring struct {
	Name      string       `json:"name"`
	Blows     []SealedBlow `json:"blows"`
	Discharge string       `json:"discharge_at_end"`
	Vessel    float64      `json:"vessel_bar_abs"`
	Lever     bool         `json:"lever_pulled"`
}

// SealedBlow is a stretch in which it blew. Null: to the end.
type SealedBlow struct {
	From   float64  `json:"from_s"`
	Until  *float64 `json:"until_s"`
	Vessel float64  `json:"vessel_bar_abs"`
}

func (rec *Record) sealedSprings() []SealedSpring {
	var out []SealedSpring
	now := rec.Run.Now()
	for i := range rec.Springs {
		v, st := &rec.Springs[i], &now.Springs[i]
		s := SealedSpring{Name: v.Name, Blows: []SealedBlow{}, Discharge: tail(words.SpringTailOf(st)).String(), Vessel: st.Vessel * bar, Lever: st.Hand > 0}
		for _, h := range v.Heard {
			q := SealedBlow{From: math.Round(h.from*1e3) / 1e3, Vessel: h.began * bar}
			if !h.goesOn {
				q.Until = finite(h.until)
			}
			s.Blows = append(s.Blows, q)
		}
		out = append(out, s)
	}
	return out
}

// sealedSpringColumns are those of the trace: what can be read and heard.
var sealedSpringColumns = []springColumn{
	{"vessel_bar_abs", func(v *plant.SpringState) float64 { return v.Vessel * bar }},
	{"outlet_bar_abs", func(v *plant.SpringState) float64 { return v.Outlet * bar }},
	{"hisses", func(v *plant.SpringState) float64 { return truth(words.SpringTailOf(v) == words.Hisses) }},
	{"blows", func(v *plant.SpringState) float64 { return truth(words.SpringTailOf(v) == words.Blows) }},
	{"lever_pulled", func(v *plant.SpringState) float64 { return truth(v.Hand > 0) }},
}
