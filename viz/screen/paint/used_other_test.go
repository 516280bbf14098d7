//go:build !unix

package paint_test

import "time"

// used is the time since the program began, for want of its processor time.
func used() time.Duration { return time.Since(begun) }

var begun = time.Now()
