package e2e

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stillroom/pwa/e2e/webdriver"
	"stillroom/server/servertest"
)

// ran runs the program and gives what it printed.
func ran(t *testing.T, args ...string) string {
	t.Helper()
	out, err := exec.Command(program(), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("stillroom %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return string(out)
}

// F20: the home store is lost and brought back from a backup older than what it had said is in the book. The browser
// brings the rest, under other numbers, since another device was there first. Then the page that saves what a phone
// holds: it opens with the store away, and its file brings a book back that no phone ever meets.
func TestF20BrowserHealsARestoredStore(t *testing.T) {
	need(t, "chromium")
	dir := t.TempDir()
	store := startStore(t, false)
	p := openPhone(t, "chromium", store, webdriver.Options{Profile: filepath.Join(dir, "profile")}, "/", "today")
	p.InTheBook()
	p.ReadyForOffline()
	p.ReceiveLot("glycerin", "glycerin", "in the backup", "500")
	p.InTheBook()
	ran(t, "backup", "-book", store.book, "-to", filepath.Join(dir, "kept"))
	p.ReceiveLot("glycerin", "glycerin", "after the backup", "300")
	p.InTheBook()
	store.Kill()
	p.ReceiveLot("glycerin", "glycerin", "while it was away", "200")

	made, err := filepath.Glob(filepath.Join(dir, "kept", "*.backup"))
	must(t, err)
	store.book = filepath.Join(dir, "again")
	ran(t, "restore", "-from", made[0], "-book", store.book)
	store.Start()
	other := servertest.New(t, store.URL("/"))
	other.Connect()
	other.Write("workshop", 4_000_000, 2)
	other.UntilAcked("workshop", 2)
	p.InTheBook()
	p.Go("/shelf", "shelf")
	lots := []string{"in the backup", "after the backup", "while it was away"}
	for _, lot := range lots {
		p.See(lot)
	}
	other.UntilHas("workshop", 5)
	p.Go("/settings", "settings")
	p.SeeIn(`[data-part="backup"]`, "No backups are made")
	p.TapAt(`a[href="/health"]`)
	p.See("The home store is well")
	p.Fits()
	p.TapAt(`a[href="/"]`)
	p.At("today")
	p.Go("/settings", "settings")
	store.Stop()
	if book := strings.Join(store.Export(), "\n"); strings.Count(book, `"kind":"lot.received"`) != 3 || !strings.Contains(book, lots[1]) {
		t.Errorf("the book:\n%s", book)
	}

	p.TapAt(`a[href="/rescue.html"]`)
	p.SeeIn("#says", "Ready:")
	p.Fits()
	p.Shot("rescue")
	var text string
	must(t, p.Await(`return await (await fetch(document.getElementById('save').href)).text()`, &text))
	file := filepath.Join(dir, "phone.txt")
	must(t, os.WriteFile(file, []byte(text), 0o600))
	if strings.Contains(text, "token") {
		t.Error("the file would let its reader be this phone")
	}
	ran(t, "restore", "-from", made[0], "-book", filepath.Join(dir, "third"))
	if said := ran(t, "rescue", "-book", filepath.Join(dir, "third"), file); !strings.Contains(said, "4 entries of the book came back") {
		t.Error(said)
	}

	// Neither folder nor backup is left: the phone goes on under its name from a book of its own file alone.
	store.book = filepath.Join(dir, "fourth")
	if said := ran(t, "rescue", "-book", store.book, "-new", file); !strings.Contains(said, "On its list, as their own files say: A as owner.") {
		t.Error(said)
	}
	store.Start()
	p.TapAt(`a[href="/"]`)
	p.InTheBook()
	p.ReceiveLot("glycerin", "glycerin", "in the new book", "100")
	p.InTheBook()
	store.Stop()
	if book := strings.Join(store.Export(), "\n"); strings.Count(book, `"kind":"lot.received"`) != 4 {
		t.Errorf("the book of the file:\n%s", book)
	}
}
