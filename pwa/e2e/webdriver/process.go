package webdriver

import (
	"fmt"
	"net"
	"os"
	"os/exec"
	"strings"
	"sync"
	"time"
)

// process is a running driver, and the last of what it printed.
type process struct {
	cmd  *exec.Cmd
	done chan struct{}
	tail tail
}

// tail keeps the last few kilobytes written to it.
type tail struct {
	mu sync.Mutex
	b  []byte
}

func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.b = append(t.b, p...)
	if over := len(t.b) - 8<<10; over > 0 {
		t.b = append([]byte(nil), t.b[over:]...)
	}
	return len(p), nil
}

func (p *process) said() string {
	p.tail.mu.Lock()
	defer p.tail.mu.Unlock()
	if len(p.tail.b) == 0 {
		return "it printed nothing"
	}
	return "it printed:\n" + strings.TrimSpace(string(p.tail.b))
}

// start runs a driver in a process group of its own, so that it ends with everything it started.
func start(env []string, name string, args ...string) (*process, error) {
	p := &process{cmd: exec.Command(name, args...), done: make(chan struct{})}
	p.cmd.Env = append(os.Environ(), env...)
	p.cmd.Stdout, p.cmd.Stderr = &p.tail, &p.tail
	ownGroup(p.cmd)
	// A browser left behind must not keep Wait from returning by holding the pipe open.
	p.cmd.WaitDelay = time.Second
	if err := p.cmd.Start(); err != nil {
		return nil, fmt.Errorf("%s did not start: %w", name, err)
	}
	go func() {
		_ = p.cmd.Wait() // how it ended is of no interest: it is ended on purpose
		close(p.done)
	}()
	return p, nil
}

func (p *process) stop() {
	if p.ended() {
		return
	}
	endGroup(p.cmd, false)
	select {
	case <-p.done:
	case <-time.After(3 * time.Second):
	}
	p.kill()
}

func (p *process) kill() {
	if p.ended() {
		return // its number may be another process's by now
	}
	endGroup(p.cmd, true)
	<-p.done
}

func (p *process) ended() bool {
	select {
	case <-p.done:
		return true
	default:
		return false
	}
}

// FreePort finds a port on the loopback that nothing listens on.
func FreePort() (int, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return 0, err
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port, nil
}
