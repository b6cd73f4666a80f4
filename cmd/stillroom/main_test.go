package main

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"stillroom/calc"
	"stillroom/calc/book"
	"stillroom/server"
	"stillroom/server/folder"
)

// asProgram makes the test binary be the program itself, so that tests drive the real one.
const asProgram = "STILLROOM_TEST_AS_PROGRAM"

// checkLeaves names a file that a process writes that was started to read a journal.
const checkLeaves = "STILLROOM_TEST_CHECK_LEAVES"

func TestMain(m *testing.M) {
	if os.Getenv(inCheck) != "" && os.Getenv(checkLeaves) != "" {
		os.WriteFile(os.Getenv(checkLeaves), nil, 0o600)
	}
	if os.Getenv(asProgram) != "" || os.Getenv(inCheck) != "" {
		main()
	}
	testscript.Main(m, map[string]func(){"stillroom": main})
}

// TestScripts drives the program by the scripts in testdata. Beside testscript's own commands there are
//
//	demo DIR           writes the demo workshop into a new book, at a fixed time
//	codes DIR          sets $JAR, $LID (as printed), $WRONG (one character off) and $BATCH from the first filled batch there
//	serving NAME ARGS  runs stillroom serve in the background and sets $NAME to its address
//	stop NAME          interrupts it and waits for its clean end
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:       "testdata",
		Condition: func(name string) (bool, error) { return name == "root" && os.Geteuid() == 0, nil },
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"demo": demo, "codes": codes, "serving": serving, "stop": stopServing,
		},
	})
}

func openToRead(dir string) (*folder.Folder, error) {
	return folder.Open(dir, folder.Options{ReadOnly: true, Now: time.Now})
}

func demo(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 1 {
		ts.Fatalf("usage: demo DIR")
	}
	s, err := server.Open(server.Options{Dir: ts.MkAbs(args[0]), Addr: "127.0.0.1:0", Demo: true,
		Now: func() time.Time { return time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC) }})
	ts.Check(err)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	ts.Check(s.Run(ctx))
}

func codes(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 1 {
		ts.Fatalf("usage: codes DIR")
	}
	f, err := openToRead(ts.MkAbs(args[0]))
	ts.Check(err)
	defer f.Close()
	state, err := fold(context.Background(), f)
	ts.Check(err)
	rows, no := state.View(book.Context{Role: book.Owner}, "batches", []byte("{}"))
	if no != nil {
		ts.Fatalf("%v", no)
	}
	for _, row := range rows.([]book.BatchRow) {
		jars := state.PublicJars(row.Key)
		if len(jars) == 0 {
			continue
		}
		code := jars[2].Code
		wrong := []byte(code)
		if wrong[6]++; wrong[6] > '9' {
			wrong[6] = '0'
		}
		ts.Setenv("JAR", code)
		ts.Setenv("LID", calc.ShowJarCode(code))
		ts.Setenv("WRONG", string(wrong))
		ts.Setenv("BATCH", jars[2].Jars.Code)
		return
	}
	ts.Fatalf("no batch in %s is filled", args[0])
}

var running = map[string]*program{}

func serving(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) < 2 {
		ts.Fatalf("usage: serving NAME ARGS")
	}
	p, err := startProgram(ts.Getenv("WORK"), args[1:]...)
	ts.Check(err)
	running[args[0]] = p
	ts.Defer(p.kill)
	ts.Setenv(args[0], p.url)
}

func stopServing(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 1 || running[args[0]] == nil {
		ts.Fatalf("usage: stop NAME")
	}
	ts.Check(running[args[0]].stop())
}

// program is stillroom serve as a process of its own.
type program struct {
	cmd *exec.Cmd
	url string
	err strings.Builder
}

var says = regexp.MustCompile(`^Stillroom is at (http://127\.0\.0\.1:\d+/)$`)

// serveCommand is stillroom serve on any free port.
func serveCommand(dir string, args ...string) (*exec.Cmd, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	c := exec.Command(self, append([]string{"serve", "-addr", "127.0.0.1:0"}, args...)...)
	c.Dir, c.Env = dir, append(os.Environ(), asProgram+"=1")
	return c, nil
}

// startProgram starts it and waits until it says where it is.
func startProgram(dir string, args ...string) (*program, error) {
	c, err := serveCommand(dir, args...)
	if err != nil {
		return nil, err
	}
	p := &program{cmd: c}
	p.cmd.Stderr = &p.err
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := p.cmd.Start(); err != nil {
		return nil, err
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if m := says.FindStringSubmatch(strings.TrimSpace(line)); err == nil && m != nil {
		p.url = m[1]
		return p, nil
	}
	p.kill()
	return nil, fmt.Errorf("it said %q and not where it is (%v): %s", line, err, p.err.String())
}

// stop interrupts it as a person would and expects a clean end.
func (p *program) stop() error {
	if err := p.cmd.Process.Signal(syscall.SIGINT); err != nil {
		return err
	}
	if err := p.cmd.Wait(); err != nil {
		return fmt.Errorf("%w: %s", err, p.err.String())
	}
	return nil
}

// crash ends it at once, without waiting for it to be gone.
func (p *program) crash() { p.cmd.Process.Kill() }

// kill ends it at once and waits until it is gone.
func (p *program) kill() {
	if p.cmd.ProcessState == nil {
		p.cmd.Process.Kill()
		p.cmd.Wait()
	}
}

func TestMainIsThin(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(".", "main.go"))
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(data), "\n"); n >= 50 {
		t.Errorf("main.go has %d lines; it wires and nothing else", n)
	}
}
