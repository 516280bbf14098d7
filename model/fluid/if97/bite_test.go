package if97

import (
	"math"
	"math/rand"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// TestCoefficients finds every coefficient, to its last digit, among the numbers
// that the independent library is written with. A last digit is mostly worth less
// than the rounding of the sums: the values alone would not show it. Signs and
// places they do show.
func TestCoefficients(t *testing.T) {
	text, err := exec.Command(findPython(t), "testdata/literals.py").Output()
	if err != nil {
		t.Fatalf("literals.py: %v", err)
	}
	theirs := map[float64]bool{}
	for _, word := range strings.Fields(string(text)) {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		theirs[x] = true
	}
	all := append([]float64{region3Log}, saturation[:]...)
	all = append(all, boundary23[:]...)
	for _, terms := range [][]term{region1Terms, region2Ideal, region2Rest, region3Terms,
		backward1PH, backward1PS, backward2aPH, backward2bPH, backward2cPH,
		backward2aPS, backward2bPS, backward2cPS} {
		for _, x := range terms {
			all = append(all, x.n)
		}
	}
	for _, n := range all {
		if n = math.Abs(n); !theirs[n] {
			t.Errorf("coefficient %.14g is not one of the library's", n)
		}
	}
	t.Logf("%d coefficients among %d numbers", len(all), len(theirs))
}

// TestCompareBites shows that TestCompare would see a wrong digit in any
// coefficient of the forward equations: it changes each a little, and scales up
// to the change that takes some property, at some point, over its limit.
func TestCompareBites(t *testing.T) {
	type coefficient struct {
		region int
		at     *float64
	}
	var all []coefficient
	for region, tables := range map[int][][]term{1: {region1Terms}, 2: {region2Ideal, region2Rest}, 3: {region3Terms}} {
		for _, terms := range tables {
			for k := range terms {
				all = append(all, coefficient{region, &terms[k].n})
			}
		}
	}
	for k := range saturation {
		all = append(all, coefficient{4, &saturation[k]})
	}
	r := rand.New(rand.NewSource(98))
	points, right := map[int][]place{}, map[int][][]float64{}
	for region := 1; region <= 4; region++ {
		points[region] = places(r, region, 3000)
		for _, x := range points[region] {
			right[region] = append(right[region], x.own())
		}
	}
	digits := map[int]int{}
	for _, c := range all {
		const change = 1e-6
		n := *c.at
		*c.at *= 1 + change
		over := 0.0
		for i, x := range points[c.region] {
			for k, d := range x.apart(x.own(), right[c.region][i]) {
				over = max(over, d/limits[c.region][k])
			}
		}
		*c.at = n
		// A unit of the digit after m others is seen.
		unit := math.Pow(10, math.Floor(math.Log10(math.Abs(n))))
		m := int(math.Log10(unit / (math.Abs(n) * change / over)))
		digits[m+1]++
		if m+1 < 8 {
			t.Errorf("region %d, coefficient %.14g: only its first %d digits are checked", c.region, n, m+1)
		}
	}
	t.Logf("coefficients by the last digit of which a single unit is seen: %v", digits)
	if len(all) != 34+9+43+39+10 {
		t.Errorf("%d coefficients", len(all))
	}
}
