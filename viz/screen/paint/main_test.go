package paint_test

import (
	"fmt"
	"os"
	"testing"

	"underdisc/viz/screen/harness"
)

// failing stands in for a test where there is none.
type failing struct{ testing.TB }

func (failing) Helper() {}
func (failing) Errorf(format string, args ...any) {
	fmt.Fprintf(os.Stderr, format+"\n", args...)
}
func (failing) FailNow() { os.Exit(1) }

// TestMain runs the tests in a game, or is the game that a benchmark asks for.
func TestMain(m *testing.M) {
	if what := os.Getenv(costs); what != "" {
		if err := showCosts(failing{}, what); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	harness.Main(m)
}
