//go:build !linux

package harness

import "os/exec"

func dieTogether(*exec.Cmd) {}
