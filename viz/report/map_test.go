package report

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/equilibria"
	"underdisc/model/plant"
	"underdisc/scenarios"
)

func mapsOf(t *testing.T, name, valve string, set ...string) *Maps {
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	p, err := scenarios.Set(sc.Plant, set...)
	require.NoError(t, err)
	m, err := plant.Build(p)
	require.NoError(t, err)
	y := &Maps{Title: sc.Title, Valve: valve}
	for _, pilot := range []equilibria.Pilot{equilibria.Open, equilibria.Shut} {
		k, err := equilibria.Of(m, valve, equilibria.Options{Pilot: pilot})
		require.NoError(t, err)
		y.Maps = append(y.Maps, k)
		if k.Pilot == equilibria.None {
			break
		}
	}
	return y
}

// TestMapPages: the pictures of maps of all sorts can be read, and say the same as
// the text; the table has a number or nothing in each cell.
func TestMapPages(t *testing.T) {
	for _, c := range []struct {
		name, valve string
		set         []string
		says        []string
	}{
		{"spring-reference", "safety", nil, []string{"Pops at 40.00 bar", "blowdown 4.3 %"}},
		{"spring-reference", "safety", []string{"safety.upper-ring.exit-height=30mm"}, []string{"4 folds"}},
		{"spring-reference", "safety", []string{"safety.seat.debris.size=0.3mm"}, []string{"never tight"}},
		{"spring-reference", "safety", []string{"safety.gag.leaves-lift=1mm"}, []string{"1.0 mm, its gag"}},
		{"spring-reference", "safety", []string{"safety.gag.leaves-lift=0.01mm"}, []string{"it cannot pop"}},
		{"spring-reference", "safety", []string{"safety.spring.preload=100kN"}, []string{"Pops at"}},
		{"spring-hood", "safety", nil, []string{"Pops at 10.00 bar"}},
		{"spring-liquid", "relief", nil, []string{"Opens in proportion", "no fold"}},
		{"gas-bench", "valve", nil, []string{"Opens in proportion", "Shut at every pressure"}},
		{"boiler-plant", "valve", nil, []string{"the pilot alone decides", "Pilot shut: Shut at every pressure"}},
	} {
		t.Run(c.name+" "+strings.Join(c.set, " "), func(t *testing.T) {
			y := mapsOf(t, c.name, c.valve, c.set...)
			page := y.Page()
			readable(t, page)
			for _, s := range c.says {
				assert.Contains(t, page.Title, s)
			}
			var text, table bytes.Buffer
			require.NoError(t, y.Text(&text))
			flat := strings.Join(strings.Fields(text.String()), " ")
			for _, s := range mapSentences(y.Maps[0]) {
				assert.Contains(t, flat, s)
			}
			require.NoError(t, y.CSV(&table))
			assert.NotContains(t, table.String(), "NaN")
			rows, err := csv.NewReader(&table).ReadAll()
			require.NoError(t, err)
			n := 1
			for _, m := range y.Maps {
				for _, b := range m.Branches {
					n += len(b.Points)
				}
			}
			assert.Len(t, rows, n)
		})
	}
}

func TestMapFileNames(t *testing.T) {
	for name, is := range map[string]bool{"map-safety-1.csv": true, "map-valve.png": true, "map-.csv": false, "trace.csv": false, "map-a.pdf": false} {
		assert.Equal(t, is, IsMapFile(name), name)
	}
}
