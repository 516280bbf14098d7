package report

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"
	"text/tabwriter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
)

// TestSpringReport: the report of a plant without a piloted valve can be read, and
// says of the lifts what the run has.
func TestSpringReport(t *testing.T) {
	for _, name := range []string{"spring-reference", "spring-hood", "spring-liquid", "boiler-plant-safeties"} {
		t.Run(name, func(t *testing.T) {
			rec := record(t, name, 0)
			got := textOf(t, rec)
			for _, line := range strings.Split(got, "\n") {
				assert.LessOrEqual(t, len(line), width+12, line)
				assert.Equal(t, strings.TrimRight(line, " "), line)
			}
			for _, word := range []string{"NaN", "Inf", "%!", "-0.0 ", "-0 N"} {
				assert.NotContains(t, got, word)
			}
			says(t, got, "WEAR OF THE SEATS")
			says(t, strings.Join(strings.Fields(got), " "), "Its constants are assumed; it is no loss of metal.")
			for _, p := range rec.springPictures(len(rec.Valves) > 0) {
				require.NoError(t, rec.pass(context.Background(), nil, func(s *plant.Snapshot, _ bool) error { p.add(s); return nil }))
				readable(t, p.page(rec))
			}
		})
	}
}

// TestSpringLiftsReported holds text and summary against the list of lifts.
func TestSpringLiftsReported(t *testing.T) {
	rec := record(t, "spring-reference", 0)
	lifts := live.SpringLifts(rec.Run, "safety")
	l := &lifts[0]
	got := textOf(t, rec)
	row := ""
	for _, line := range strings.Split(got, "\n") {
		if strings.HasPrefix(strings.TrimSpace(line), "1-6 ") {
			row = line
		}
	}
	cells := strings.Fields(strings.ReplaceAll(row, " %", "%"))
	require.Len(t, cells, 12, row)
	number := func(i int) float64 {
		x, err := strconv.ParseFloat(strings.TrimSuffix(cells[i], "%"), 64)
		require.NoError(t, err)
		return x
	}
	gauge := func(p float64) float64 { return (p - 101325) / 1e5 }
	blowdown, _ := l.Blowdown()
	for i, want := range map[int]float64{1: l.PopAt, 2: gauge(l.Simmer), 3: gauge(l.Pop), 4: 1e3 * l.Lift, 7: gauge(l.Reseat), 8: blowdown, 9: l.Open(0), 10: l.Wear, 11: l.SeatImpact} {
		assert.InDelta(t, want, number(i), 0.051, "column %d", i)
	}
	assert.Equal(t, "yes", cells[5])

	var b bytes.Buffer
	require.NoError(t, rec.WriteSummary(&b, "test"))
	var sum Summary
	require.NoError(t, json.Unmarshal(b.Bytes(), &sum))
	require.Len(t, sum.Springs, 1)
	s := sum.Springs[0]
	require.Len(t, s.Lifts, len(lifts))
	assert.InDelta(t, l.Pop, s.Lifts[0].Pop*1e5, 1e-3)
	assert.InDelta(t, l.Reseat, *s.Lifts[0].Reseat*1e5, 1e-3)
	assert.Nil(t, s.Lifts[len(lifts)-1].Reseat, "it is open at the end")
	assert.Equal(t, "partly-lifted", s.StateAtEnd)
	assert.InDelta(t, rec.Run.Now().Springs[0].Wear, s.Wear, 1e-12)
}

// TestSpringTrace: the forces of a row add up to nothing where the disc is at rest,
// and the peak of the lift is the stop.
func TestSpringTrace(t *testing.T) {
	rec := record(t, "spring-reference", 10)
	var b bytes.Buffer
	table, err := rec.newTrace(&b)
	require.NoError(t, err)
	require.NoError(t, rec.pass(context.Background(), nil, func(s *plant.Snapshot, _ bool) error { return table.add(s) }))
	require.NoError(t, table.w.Flush())
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	at := map[string]int{}
	for i, name := range rows[0] {
		at[strings.TrimPrefix(name, "safety.")] = i
	}
	value := func(row []string, name string) float64 {
		k, ok := at[name]
		require.True(t, ok, name)
		x, err := strconv.ParseFloat(row[k], 64)
		require.NoError(t, err)
		return x
	}
	high, wear := 0.0, 0.0
	for _, row := range rows[1:] {
		high = math.Max(high, value(row, "lift_mm"))
		assert.GreaterOrEqual(t, value(row, "wear_relative"), wear-1e-6, "wear does not heal, save for interpolation")
		wear = value(row, "wear_relative")
	}
	assert.InDelta(t, 14, high, 1e-9)
	first := rows[1]
	sum := -4 * 9.81 // weight
	for _, f := range []string{"seat", "momentum", "huddle", "upper_ring", "jet", "back", "faces", "lever", "spring"} {
		sum += value(first, f+"_force_N")
	}
	assert.InDelta(t, 0, sum, 0.01)
}

// TestSpringSealed: of a plant in which something is hidden, the outputs tell of the
// safety valves what is heard, and nothing of the inside.
func TestSpringSealed(t *testing.T) {
	rec := sealed(t, "boiler-plant-safeties", 65, "pilot-leaks=2 mm2@1s")
	got := textOf(t, rec)
	says(t, got, "SAFETY-1: WHAT WAS HEARD, IN ORDER")
	var b bytes.Buffer
	require.NoError(t, rec.WriteSummary(&b, "test"))
	require.NoError(t, rec.sealedTrace(context.Background(), &b, func(float64) {}, []*sealedStrip{newSealedStrip(span{0, rec.Until()})}))
	require.NoError(t, rec.writeSignTable(&b))
	why := Why{Run: rec.Run, At: 60, Valve: "safety-1"}
	require.NoError(t, why.Text(&b))
	require.NoError(t, why.WriteJSON(&b, "test"))
	for _, inside := range []string{"lift_mm", "huddle", "simmer", "faces part", "wear_relative", "forces_n", "preload"} {
		assert.False(t, strings.Contains(strings.ToLower(b.String()+got), inside), "it tells of %s", inside)
	}
	says(t, b.String(), "safety-1.blows")
}

// TestSpringWhy: a valve is picked by name, else the piloted one is answered for, and
// the others are listed with what they do.
func TestSpringWhy(t *testing.T) {
	rec := record(t, "boiler-plant-safeties", 20)
	say := func(valve string) string {
		var b bytes.Buffer
		require.NoError(t, (&Why{Run: rec.Run, At: 15, Valve: valve}).Text(&b))
		return b.String()
	}
	got := say("")
	says(t, got, "THE SIX LINKS")
	says(t, got, "safety-1: tight")
	says(t, got, "safety-2: tight")
	got = say("safety-2")
	assert.NotContains(t, got, "THE SIX LINKS")
	says(t, got, "SAFETY-2: WHY IS IT SHUT?")
	says(t, got, "valve: shut")
	says(t, got, "Before anyone touches a real valve")

	var b bytes.Buffer
	require.NoError(t, (&Why{Run: rec.Run, At: 15, Valve: "safety-1"}).WriteJSON(&b, "test"))
	var out WhySummary
	require.NoError(t, json.Unmarshal(b.Bytes(), &out))
	assert.Empty(t, out.Valves)
	require.Len(t, out.Springs, 1)
	assert.Len(t, out.Others, 2)
	sum := 0.0
	for name, f := range out.Springs[0].Forces {
		if name != "sum" && name != "stop" {
			sum += f
		}
	}
	assert.InDelta(t, out.Springs[0].Forces["sum"], sum, 1e-6)
	s, _, err := rec.Run.At(15)
	require.NoError(t, err)
	assert.InDelta(t, s.Springs[0].Net, sum, 1e-6)
	assert.InDelta(t, s.Springs[0].Inlet*1e-5, out.Springs[0].Inlet, 1e-9)
}

// TestWearSideBySide: where the piloted valve lifts alone its seat wears, the others'
// do not.
func TestWearSideBySide(t *testing.T) {
	rec := record(t, "boiler-plant-safeties", 100)
	var b bytes.Buffer
	rec.writeWear(&b)
	rows := map[string][]string{}
	for _, line := range strings.Split(b.String(), "\n") {
		if f := strings.Fields(line); len(f) > 4 {
			rows[f[0]] = f
		}
	}
	last := func(name string) string { return rows[name][len(rows[name])-1] }
	piloted, err := strconv.ParseFloat(last("valve"), 64)
	require.NoError(t, err)
	assert.InDelta(t, rec.Run.Now().Valves[0].Wear, piloted, 0.006)
	assert.Positive(t, piloted)
	assert.Equal(t, []string{"0.00", "0.00"}, []string{last("safety-1"), last("safety-2")})
}

// TestSpringFrees: the page of a valve that does not reseat writes every remedy.
func TestSpringFrees(t *testing.T) {
	pg := &explain.SpringPage{Frees: []explain.SpringFree{
		{Quantity: explain.InletPressure, Now: 40e5, Needed: 39e5, Below: true, Does: explain.ReseatsIt, By: explain.Itself, In: explain.Opt{Value: 2, Known: true}, Remedy: true},
		{Quantity: explain.SpringSetting, Now: 7000, Needed: 7200, Does: explain.ReseatsIt},
	}}
	var b bytes.Buffer
	require.NoError(t, writeSpringFrees(&b, tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0), pg, scene.Units{}))
	says(t, b.String(), "at most 39.00 bar abs")
	says(t, b.String(), "comes by itself, in about 2.000 s")
	says(t, b.String(), "nobody: it would hide the cause")
}
