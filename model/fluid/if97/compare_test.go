package if97

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// place is a point of one region: p in MPa and T in K; in region 3 the density
// and T; in region 4 T and p.
type place struct {
	region int
	a, b   float64
}

// places are n random points of a region, half of them within 1 % of the
// saturation line or of the range's edge.
func places(r *rand.Rand, region, n int) []place {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	x := make([]place, n)
	for i := range x {
		edge := 0 // none
		if i%2 == 1 {
			edge = 1 + r.Intn(4)
		}
		up, down := between(1, 1.01), between(0.99, 1)
		t := between(MinT, T13)
		switch region {
		case 2:
			t = between(MinT, MaxT)
		case 3:
			t = between(T13, 863.15)
		case 4:
			t = between(MinT, CriticalT)
		}
		switch edge {
		case 1: // the cold edge
			t = MinT * up
			if region == 3 {
				t = T13 * up
			}
		case 2: // the hot edge
			t = map[int]float64{1: T13, 2: MaxT, 3: 863.15, 4: CriticalT}[region] * down
		case 3: // by the saturation line, region 3 up to the critical point
			if region == 3 {
				t = between(T13, CriticalT)
			}
		}
		var p float64
		switch region {
		case 1:
			p = between(SaturationP(t), MaxP)
			if edge == 3 {
				p = SaturationP(t) * up
			}
		case 2:
			top := MaxP
			if t <= T13 {
				top = SaturationP(t)
			} else if t < 863.15 {
				top = Boundary23P(t)
			}
			p = math.Exp(between(0, math.Log(top)))
			if edge == 3 {
				p = top * down
			}
		case 3:
			low := Boundary23P(t)
			p = between(low, MaxP)
			if edge == 3 {
				p = SaturationP(t) * between(0.99, 1.01)
			} else if i%4 == 0 {
				p = low * up
			}
			p = max(p, low)
		case 4:
			p = math.Exp(between(math.Log(SaturationP(MinT)), math.Log(CriticalP)))
			if edge >= 3 {
				p = [2]float64{SaturationP(MinT) * up, CriticalP * down}[edge-3]
			}
			x[i] = place{region, t, p / 1e6}
			continue
		}
		if edge == 4 {
			p = min(MaxP, max(p, MaxP*down))
			if region == 2 && t < 863.15 {
				t, p = between(863.15, MaxT), MaxP*down
			}
		}
		x[i] = place{region, p / 1e6, t}
		if region == 3 {
			x[i].a = 1 / density3(p, t, t < CriticalT && p >= SaturationP(t)).V
		}
	}
	return x
}

// own is what compare.py yields for the point, from this package.
func (x place) own() []float64 {
	var q Point
	switch x.region {
	case 1:
		q = Region1(x.a*1e6, x.b)
	case 2:
		q = Region2(x.a*1e6, x.b)
	case 3:
		q = Region3(x.a, x.b)
	case 4:
		return []float64{SaturationP(x.a) / 1e6, SaturationT(x.b * 1e6)}
	}
	y := []float64{q.V, q.H / 1e3, q.U / 1e3, q.S / 1e3, q.Cp / 1e3, q.W}
	if x.region == 3 {
		return append([]float64{q.P / 1e6}, y...)
	}
	return y
}

// columns are the properties of own.
func columns(region int) []string {
	y := []string{"v", "h", "u", "s", "cp", "w"}
	switch region {
	case 3:
		return append([]string{"p"}, y...)
	case 4:
		return []string{"ps", "Ts"}
	}
	return y
}

// apart are the differences: of h and u as shares of R T, of s as one of R, which
// cannot vanish as they do, of the rest as shares of themselves.
func (x place) apart(a, b []float64) []float64 {
	d := make([]float64, len(a))
	for i, name := range columns(x.region) {
		of := math.Abs(b[i])
		switch name {
		case "h", "u":
			of = R / 1e3 * x.b
		case "s":
			of = R / 1e3
		}
		d[i] = math.Abs(a[i]-b[i]) / of
		if math.IsNaN(d[i]) {
			d[i] = math.Inf(1)
		}
	}
	return d
}

// limits hold the largest deviation allowed in each region, by column: some times
// what rounding makes of sums in another order.
var limits = map[int][]float64{
	1: {5e-13, 1e-12, 1e-12, 1e-12, 4e-12, 2e-11},
	2: {1e-14, 1e-13, 1e-13, 1e-13, 1e-13, 1e-13},
	3: {5e-12, 1e-14, 8e-12, 8e-12, 8e-12, 3e-11, 8e-12},
	4: {1e-13, 5e-13},
}

// TestCompare holds all forward equations against an independent library at
// 20,000 random points a region.
func TestCompare(t *testing.T) {
	python := findPython(t)
	r := rand.New(rand.NewSource(97))
	var points []place
	for region := 1; region <= 4; region++ {
		points = append(points, places(r, region, 20000)...)
	}
	theirs := run(t, python, points)
	worst := map[int][]float64{}
	count := map[int]int{}
	for i, x := range points {
		d := x.apart(x.own(), theirs[i])
		if worst[x.region] == nil {
			worst[x.region] = make([]float64, len(d))
		}
		for k := range d {
			worst[x.region][k] = max(worst[x.region][k], d[k])
		}
		count[x.region]++
	}
	for region := 1; region <= 4; region++ {
		var text strings.Builder
		for k, name := range columns(region) {
			fmt.Fprintf(&text, "  %s %.1e", name, worst[region][k])
			if !(worst[region][k] <= limits[region][k]) {
				t.Errorf("region %d: %s is off by %g, limit %g", region, name, worst[region][k], limits[region][k])
			}
		}
		t.Logf("region %d, %d points, worst:%s", region, count[region], text.String())
		if count[region] != 20000 {
			t.Errorf("region %d: %d points", region, count[region])
		}
	}
}

// findPython is a Python that has iapws. Without one the test is skipped, but in
// CI it fails.
func findPython(t *testing.T) string {
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import iapws.iapws97").Run() == nil {
			return name
		}
	}
	const why = "no python3 with the package iapws (Debian: python3-iapws)"
	if os.Getenv("CI") == "true" {
		t.Fatal(why)
	}
	t.Skip(why)
	return ""
}

// run yields compare.py's lines.
func run(t *testing.T, python string, points []place) [][]float64 {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "points"), filepath.Join(dir, "values")
	var text bytes.Buffer
	for _, x := range points {
		fmt.Fprintln(&text, x.region, strconv.FormatFloat(x.a, 'g', -1, 64), strconv.FormatFloat(x.b, 'g', -1, 64))
	}
	if err := os.WriteFile(in, text.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := exec.Command(python, "testdata/compare.py", in, out).CombinedOutput()
	if err != nil {
		t.Fatalf("compare.py: %v\n%s", err, said)
	}
	values, err := read(out)
	if err == nil && len(values) != len(points) {
		err = errors.New("not a line for each point")
	}
	if err != nil {
		t.Fatal(err)
	}
	return values
}

func read(name string) (lines [][]float64, err error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	for s := bufio.NewScanner(f); s.Scan(); {
		var line []float64
		for _, word := range strings.Fields(s.Text()) {
			x, err := strconv.ParseFloat(word, 64)
			if err != nil {
				return nil, err
			}
			line = append(line, x)
		}
		lines = append(lines, line)
	}
	return lines, nil
}
