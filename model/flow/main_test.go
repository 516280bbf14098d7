package flow_test

import (
	"flag"
	"os"
	"testing"
)

// Random tests draw the same every time, unless asked for another seed.
func TestMain(m *testing.M) {
	for name, value := range map[string]string{"rapid.seed": "1", "rapid.nofailfile": "true"} {
		if err := flag.Set(name, value); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
