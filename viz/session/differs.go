package session

import (
	"strings"

	"underdisc/model/plant"
)

// differs keeps what Differs found for two plants.
type differs struct {
	of    [2]*plant.Model
	lines []string
}

// Differs says what the second lane has that the first has not, at the moment
// shown, in words. What a hidden fault sets is left out.
func (s *Session) Differs() []string {
	if len(s.lanes) < 2 {
		return nil
	}
	var of [2]*plant.Model
	for i, l := range s.lanes {
		_, m, err := l.Run.At(s.t)
		if err != nil {
			return nil
		}
		of[i] = m
	}
	if of != s.differs.of {
		s.differs.of = of
		s.differs.lines = s.between(of[0].Plant, of[1].Plant)
	}
	return s.differs.lines
}

func (s *Session) between(a, b *plant.Plant) (out []string) {
	other := map[string]plant.Param{}
	for _, p := range a.Params() {
		other[p.Path] = p
	}
	for _, p := range b.Params() {
		q, ok := other[p.Path]
		if ok && q.Value == p.Value || s.lanes[0].hidden(p.Path) || s.lanes[1].hidden(p.Path) {
			continue
		}
		line := Words(p.Path) + " " + plant.FormatValue(p)
		if ok {
			line += ", not " + plant.FormatValue(q)
		}
		out = append(out, line)
	}
	return out
}

// Words writes the path of a parameter for reading: valve.bleed.area as "valve
// bleed area".
func Words(path string) string {
	return strings.NewReplacer(".", " ", "-", " ").Replace(path)
}
