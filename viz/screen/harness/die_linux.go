package harness

import (
	"os/exec"
	"syscall"
)

// dieTogether ends a program when this one ends, however that comes about.
func dieTogether(c *exec.Cmd) { c.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL} }
