package screen

import (
	"fmt"
	"os"
	"testing"

	"underdisc/viz/screen/desk"
	"underdisc/viz/screen/harness"
)

// instead is what this program does in place of the tests if the environment
// has a variable of that name.
var instead = map[string]func(string) error{}

func TestMain(m *testing.M) {
	for name, do := range instead {
		if what := os.Getenv(name); what != "" {
			if err := do(what); err != nil {
				fmt.Fprintln(os.Stderr, err)
				os.Exit(1)
			}
			return
		}
	}
	harness.Main(m)
}

func keyNamed(name string) desk.Key { return desk.Key{Name: name} }
