package e2e

import (
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"stillroom/pwa/e2e/webdriver"
)

// line is the wire between a phone and a home store, in a test's hands.
type line struct {
	addr, to string

	mu    sync.Mutex
	does  does
	after int // bytes from the phone after which a connection is cut, when it cuts
	open  map[net.Conn]bool
	cuts  int
}

type does int

const (
	passes does = iota
	cuts        // every connection, after so many bytes from the phone
	holes       // takes everything and passes nothing on, without closing
	lies        // answers with a page of its own, as the network of a café does
)

func startLine(t *testing.T, store *homeStore) *line {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	w := &line{addr: l.Addr().String(), to: store.addr, open: map[net.Conn]bool{}}
	go func() {
		for {
			phone, err := l.Accept()
			if err != nil {
				return // closed at the end of the test
			}
			go w.carry(phone)
		}
	}()
	t.Cleanup(func() { _ = l.Close(); w.turn(cuts, 0) })
	return w
}

func (w *line) URL(path string) string { return "http://" + w.addr + path }

// turn changes what the line does. Connections that are open break, but into a hole they fall without a sound.
func (w *line) turn(to does, after int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.does, w.after = to, after
	if to == holes {
		return
	}
	for c := range w.open {
		_ = c.Close()
	}
}

func (w *line) now() (does, int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.does, w.after
}

func (w *line) holds(c net.Conn, there bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if there {
		w.open[c] = true
	} else {
		delete(w.open, c)
	}
}

const portal = "<!doctype html><title>Welcome</title><p>Accept our terms to go on."

func (w *line) carry(phone net.Conn) {
	defer phone.Close()
	w.holds(phone, true)
	defer w.holds(phone, false)
	if d, _ := w.now(); d == lies {
		buffer := make([]byte, 4096)
		if _, err := phone.Read(buffer); err == nil {
			fmt.Fprintf(phone, "HTTP/1.1 200 OK\r\nContent-Type: text/html\r\nContent-Length: %d\r\nConnection: close\r\n\r\n%s", len(portal), portal)
		}
		return
	}
	store, err := net.Dial("tcp", w.to)
	if err != nil {
		return
	}
	defer store.Close()
	go func() { w.copy(phone, store, false); _ = phone.Close() }()
	w.copy(store, phone, true)
}

// copy carries bytes one way until the line breaks.
func (w *line) copy(to io.Writer, from io.Reader, up bool) {
	buffer, passed := make([]byte, 1024), 0
	for {
		n, err := from.Read(buffer)
		if err != nil {
			return
		}
		switch d, after := w.now(); {
		case d == holes:
			continue
		case d == cuts && up && passed+n > after:
			n = max(0, after-passed)
			_, _ = to.Write(buffer[:n])
			w.mu.Lock()
			w.cuts++
			w.mu.Unlock()
			return
		}
		if _, err := to.Write(buffer[:n]); err != nil {
			return
		}
		passed += n
	}
}

// manyFormulas is a table of n formulas, whose entries are more than one message of the wire takes at once.
func manyFormulas(t *testing.T, n int) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("recipe;phase;ingredient;%;note\n")
	for i := range n {
		fmt.Fprintf(&b, "Wash %d;A;Distilled water;q.s.;%s\nWash %d;A;Glycerin;5,5;\n", i, strings.Repeat("stir it well ", 30), i)
	}
	path := filepath.Join(t.TempDir(), "many.csv")
	must(t, os.WriteFile(path, []byte(b.String()), 0o600))
	return path
}

// F1, F4, F5: what a phone wrote without a network comes to the home store whole over a line that breaks inside messages,
// that leads to somebody else's page, and that goes dead without a word.
func TestALineThatBreaksLiesAndGoesDeadLosesNothing(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		const many = 60
		store := startStore(t, false)
		w := startLine(t, store)
		p := phone{t, openBrowser(t, engine, webdriver.Options{Profile: t.TempDir()})}
		must(t, p.Open(w.URL("/formulas/import")))
		p.At("import")
		p.InTheBook()
		p.ReadyForOffline()
		away := func() (bool, error) { return p.has(`[data-part="link"][data-online="false"]`) }

		w.turn(holes, 0)
		p.Has(`input[name="file"]`)
		e, err := p.Find(`input[name="file"]`)
		must(t, err)
		must(t, e.Type(manyFormulas(t, many)))
		p.Tap("Keep all of it")
		p.At("formulas")
		if n := p.Unsent(); n != many {
			t.Errorf("%d rows are said to be on this phone alone, want %d", n, many)
		}
		// Silence is noticed after 25 s, which is more than one question waits.
		for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(time.Second) {
			if gone, err := away(); err == nil && gone {
				break
			}
		}
		p.until("the dead line to be noticed", away)

		w.turn(lies, 0)
		must(t, p.Reload())
		p.At("formulas")
		p.See("Wash 59")
		p.until("the stranger's page not to pass for the home store", away)

		for i, after := range []int{700, 9000, 30_000} {
			w.turn(cuts, after)
			must(t, p.Run(`dispatchEvent(new Event('online'))`, nil))
			p.until("the line to break", func() (bool, error) {
				w.mu.Lock()
				defer w.mu.Unlock()
				return w.cuts > i, nil
			})
		}
		w.turn(passes, 0)
		must(t, p.Run(`dispatchEvent(new Event('online'))`, nil))
		p.InTheBook()
		store.Stop()
		said, err := exec.Command(program(), "export", "-book", store.book).Output()
		if n := strings.Count(string(said), `"kind":"formula.saved"`); err != nil || n != many {
			t.Errorf("%d formulas are in the book, want %d (%v)", n, many, err)
		}
		if said, err := exec.Command(program(), "verify", "-book", store.book).CombinedOutput(); err != nil {
			t.Errorf("verify: %v\n%s", err, said)
		}
	})
}
