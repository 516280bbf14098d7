package report

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"underdisc/model/explain"
	"underdisc/model/plant"
)

const (
	timeDigits  = 12 // a microsecond in an hour, and more
	valueDigits = 9
)

// trace is the table of the run, a row for each sample.
type trace struct {
	w       *bufio.Writer
	row     []byte
	columns [][]column // of each valve
	plant   []plantColumn
}

func (rec *Record) newTrace(w io.Writer) (*trace, error) {
	t := &trace{w: bufio.NewWriter(w)}
	head := []string{"time_s"}
	m := rec.Run.Model(0)
	for i, v := range rec.Valves {
		t.columns = append(t.columns, columnsOf(m, i))
		for _, c := range t.columns[i] {
			head = append(head, v.Name+"."+c.name)
		}
	}
	head = append(head, rec.springHead()...)
	t.plant = plantColumns(m)
	for _, c := range t.plant {
		head = append(head, c.part+"."+c.name)
	}
	_, err := t.w.WriteString(strings.Join(head, ",") + "\n")
	return t, err
}

func (t *trace) add(s *plant.Snapshot) error {
	t.row = strconv.AppendFloat(t.row[:0], s.T, 'g', timeDigits, 64)
	for i := range s.Valves {
		v := &s.Valves[i]
		th := explain.ThresholdsOf(v)
		for _, c := range t.columns[i] {
			x := c.value(v, &th)
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return fmt.Errorf("%s.%s is not a number at %g s", v.Name, c.name, s.T)
			}
			t.row = append(t.row, ',')
			t.row = strconv.AppendFloat(t.row, x, 'g', valueDigits, 64)
		}
	}
	var err error
	if t.row, err = appendSprings(t.row, s); err != nil {
		return err
	}
	for _, c := range t.plant {
		t.row = append(t.row, ',')
		t.row = strconv.AppendFloat(t.row, c.value(s), 'g', valueDigits, 64)
	}
	t.row = append(t.row, '\n')
	_, err = t.w.Write(t.row)
	return err
}

// writeEvents writes the table of events, with the pressures of the valve that
// each belongs to.
func (rec *Record) writeEvents(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintln(b, "time_s,event,part,valve,vessel_bar_abs,above_bar_abs,below_bar_abs,outlet_bar_abs,disc_lift_mm")
	owners, springs := rec.owners(), rec.springOwners()
	for i := range rec.Run.Sim.Events() {
		e := &rec.Run.Sim.Events()[i]
		fmt.Fprintf(b, "%.*g,%s,%s", timeDigits, e.T, e.Name, e.Part)
		if k, ok := springs[e.Part]; ok { // it has no body and no chamber
			_, s := rec.Run.AtEvent(e)
			v := &s.Springs[k]
			fmt.Fprintf(b, ",%s,%.*g,,,%.*g,%.*g\n", v.Name, valueDigits, v.Vessel*bar, valueDigits, v.Outlet*bar, valueDigits, v.Lift*milli)
			continue
		}
		valve, ok := owners[e.Part]
		if !ok {
			fmt.Fprintln(b, ",,,,,,")
			continue
		}
		_, s := rec.Run.AtEvent(e)
		v := &s.Valves[valve]
		fmt.Fprintf(b, ",%s,%.*g,%.*g,%.*g,%.*g,%.*g\n", v.Name, valueDigits, v.Vessel*bar, valueDigits, v.Above*bar,
			valueDigits, v.Below*bar, valueDigits, v.Outlet*bar, valueDigits, v.Disc.Lift*milli)
	}
	return b.Flush()
}

// owners says which valve a part belongs to. A switch that drives several
// belongs to the first.
func (rec *Record) owners() map[string]int {
	out := map[string]int{}
	for i := range rec.Valves {
		p := rec.parts(i)
		for _, name := range []string{p.disc, p.pilot, p.coil, p.control} {
			if _, taken := out[name]; !taken && name != "" {
				out[name] = i
			}
		}
	}
	return out
}
