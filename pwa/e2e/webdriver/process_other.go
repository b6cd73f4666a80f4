//go:build !unix

package webdriver

import (
	"os"
	"os/exec"
)

func ownGroup(*exec.Cmd) {}

func endGroup(c *exec.Cmd, _ bool) { _ = c.Process.Kill() }

func killProcess(pid int) {
	if p, err := os.FindProcess(pid); err == nil {
		_ = p.Kill()
	}
}
