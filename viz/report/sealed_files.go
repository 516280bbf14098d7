package report

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"underdisc/model/plant"
	"underdisc/viz/paper"
)

// sealedColumn is one quantity of the outside.
type sealedColumn struct {
	name  string
	value func(o *outside) float64
}

// sealedColumns are those of the trace of a run with a hidden fault. Yes is 1
// and no is 0; a valve that lacks the thing has no number.
var sealedColumns = []sealedColumn{
	{"vessel_bar_abs", func(o *outside) float64 { return o.vessel * bar }},
	{"sensed_bar_abs", func(o *outside) float64 { return where(o.fitted, o.sensed*bar) }},
	{"outlet_bar_abs", func(o *outside) float64 { return o.outlet * bar }},
	{"switch_made", func(o *outside) float64 { return where(o.fitted, truth(o.made)) }},
	{"relay_on", func(o *outside) float64 { return where(o.fitted, truth(o.relayOn)) }},
	{"coil_current_A", func(o *outside) float64 { return o.current }},
	{"supply_V", func(o *outside) float64 { return where(o.fitted, o.supply) }},
	{"hisses", func(o *outside) float64 { return truth(o.tail == hisses) }},
	{"blows", func(o *outside) float64 { return truth(o.tail == blows) }},
	{"blows_at_cover_joint", func(o *outside) float64 { return truth(o.joint) }},
	{"dump_wall_degC", func(o *outside) float64 { return o.wall - 273.15 }},
	{"block_valve_open", func(o *outside) float64 { return o.block }},
	{"selector_open", func(o *outside) float64 { return where(o.selector != "", truth(o.selector == "open")) }},
	{"selector_off", func(o *outside) float64 { return where(o.selector != "", truth(o.selector == "off")) }},
}

// sealedColumnsOf are those of a valve: a tailpipe with a wall has one more.
func sealedColumnsOf(m *plant.Model, valve int) []sealedColumn {
	if m.Valves[valve].OutletWall < 0 {
		return sealedColumns
	}
	return append(slices.Clip(sealedColumns), sealedColumn{"tailpipe_wall_degC", func(o *outside) float64 { return o.tailWall - 273.15 }})
}

func truth(is bool) float64 {
	if is {
		return 1
	}
	return 0
}

func where(is bool, v float64) float64 {
	if is {
		return v
	}
	return math.NaN()
}

// sealedFiles writes the files of a run with a hidden fault. The rows of the
// trace lie at even distances: those of the solver's steps would show when the
// inside moves.
func (rec *Record) sealedFiles(ctx context.Context, version string, watch func(t float64), add func(name string, write func(io.Writer) error) error) error {
	charts := make([]*sealedStrip, len(rec.Valves))
	for i := range charts {
		charts[i] = newSealedStrip(span{0, rec.Until()})
	}
	for _, f := range []struct {
		name  string
		write func(io.Writer) error
	}{
		{"trace.csv", func(w io.Writer) error { return rec.sealedTrace(ctx, w, watch, charts) }},
		{"events.csv", rec.writeSignTable},
		{"report.txt", rec.Text},
		{"summary.json", func(w io.Writer) error { return rec.WriteSummary(w, version) }},
	} {
		if err := add(f.name, f.write); err != nil {
			return err
		}
	}
	for i, st := range charts {
		name := "plot"
		if i > 0 {
			name += "-" + rec.Valves[i].Name
		}
		page := st.page(rec, &rec.Valves[i])
		for ending, write := range map[string]func(*paper.Page, io.Writer) error{"png": (*paper.Page).PNG, "svg": (*paper.Page).SVG} {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := add(name+"."+ending, func(w io.Writer) error { return write(page, w) }); err != nil {
				return err
			}
		}
	}
	return nil
}

func (rec *Record) sealedTrace(ctx context.Context, out io.Writer, watch func(t float64), charts []*sealedStrip) error {
	w := bufio.NewWriter(out)
	head := []string{"time_s"}
	for i, v := range rec.Valves {
		for _, c := range sealedColumnsOf(rec.Run.Model(0), i) {
			head = append(head, v.Name+"."+c.name)
		}
	}
	for _, v := range rec.Springs {
		for _, c := range sealedSpringColumns {
			head = append(head, v.Name+"."+c.name)
		}
	}
	around := plantColumns(rec.Run.Model(0))
	for _, c := range around {
		head = append(head, c.part+"."+c.name)
	}
	fmt.Fprintln(w, strings.Join(head, ","))
	const rows = 2400
	until := rec.Until()
	step := math.Max(paper.Step(until/rows), 1e-9)
	var row []byte
	for k := 0; ; k++ {
		t := math.Min(float64(k)*step, until)
		if err := ctx.Err(); err != nil {
			return err
		}
		watch(t)
		s, m, err := rec.Run.At(t)
		if err != nil {
			return err
		}
		row = strconv.AppendFloat(row[:0], t, 'g', timeDigits, 64)
		for i := range rec.Valves {
			o := outsideOf(m, s, i)
			charts[i].add(&o)
			for _, c := range sealedColumnsOf(rec.Run.Model(0), i) {
				row = append(row, ',')
				if x := c.value(&o); !math.IsNaN(x) {
					row = strconv.AppendFloat(row, x, 'g', valueDigits, 64)
				}
			}
		}
		for i := range s.Springs {
			for _, c := range sealedSpringColumns {
				row = strconv.AppendFloat(append(row, ','), c.value(&s.Springs[i]), 'g', valueDigits, 64)
			}
		}
		for _, c := range around {
			row = append(row, ',')
			row = strconv.AppendFloat(row, c.value(s), 'g', valueDigits, 64)
		}
		if _, err := w.Write(append(row, '\n')); err != nil {
			return err
		}
		if t >= until {
			return w.Flush()
		}
	}
}

// writeSignTable writes what was seen and heard.
func (rec *Record) writeSignTable(out io.Writer) error {
	w := bufio.NewWriter(out)
	fmt.Fprintln(w, "time_s,event,part,valve,vessel_bar_abs,outlet_bar_abs")
	for _, v := range rec.Valves {
		for _, s := range v.signs {
			fmt.Fprintf(w, "%.*g,%s,%s,%s,%.*g,%.*g\n", timeDigits, s.t, s.event, s.part, v.Name, valueDigits, s.vessel*bar, valueDigits, s.outlet*bar)
		}
	}
	for i, v := range rec.Springs {
		pipe := rec.Run.Model(0).Springs[i].Spec.Outlet
		for _, h := range v.Heard {
			fmt.Fprintf(w, "%.*g,blows,%s,%s,%.*g,\n", timeDigits, h.from, pipe, v.Name, valueDigits, h.began*bar)
			if !h.goesOn {
				fmt.Fprintf(w, "%.*g,stops-blowing,%s,%s,%.*g,\n", timeDigits, h.until, pipe, v.Name, valueDigits, h.left*bar)
			}
		}
	}
	return w.Flush()
}
