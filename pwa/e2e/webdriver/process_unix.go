//go:build unix

package webdriver

import (
	"os/exec"
	"syscall"
)

func ownGroup(c *exec.Cmd) { c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }

// endGroup signals the driver and all that it started. A group that is gone already is as wanted.
func endGroup(c *exec.Cmd, now bool) {
	signal := syscall.SIGTERM
	if now {
		signal = syscall.SIGKILL
	}
	_ = syscall.Kill(-c.Process.Pid, signal)
}

func killProcess(pid int) { _ = syscall.Kill(pid, syscall.SIGKILL) }
