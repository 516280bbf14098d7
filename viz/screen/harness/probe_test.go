package harness_test

import (
	"fmt"
	"runtime"
	"testing"
)

// probe is a test that may fail.
type probe struct {
	testing.TB
	failure string
}

func (p *probe) Fatal(args ...any)                 { p.fail(fmt.Sprint(args...)) }
func (p *probe) Fatalf(format string, args ...any) { p.fail(fmt.Sprintf(format, args...)) }

func (p *probe) fail(text string) {
	p.failure = text
	runtime.Goexit()
}
