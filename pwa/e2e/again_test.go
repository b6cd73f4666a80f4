package e2e

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// change rewrites the first piece of the workshop's log that this phone keeps, as soon as there is one.
const change = `const db = await new Promise((ok, no) => { const r = indexedDB.open('stillroom'); r.onsuccess = () => ok(r.result); r.onerror = () => no(r.error); });
for (let changed = false; !changed; ) {
  const tx = db.transaction('chunks', 'readwrite', { durability: 'strict' }); const rows = tx.objectStore('chunks');
  rows.openCursor(IDBKeyRange.bound(['workshop', 0], ['workshop', 1e9])).onsuccess = (e) => {
    const at = e.target.result; if (!at) return; const chunk = at.value; %s; at.update(chunk); changed = true; };
  await new Promise((ok, no) => { tx.oncomplete = ok; tx.onabort = () => no(tx.error); });
  await new Promise((ok) => setTimeout(ok, 20)); }
db.close();`

const (
	// flipped is one bit.
	flipped = `chunk.bytes[chunk.bytes.length - 5] ^= 8`
	// large makes Chromium keep it in a file of its own.
	large = `chunk.pad = new Uint8Array(300000); for (let i = 0; i < 300000; i += 60000) crypto.getRandomValues(chunk.pad.subarray(i, i + 60000))`
)

// loseLarge deletes the files in which a Chromium that is not running keeps large values.
func loseLarge(t *testing.T, profile string) {
	t.Helper()
	lost := 0
	must(t, filepath.WalkDir(profile, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.Contains(path, ".blob") {
			return err
		}
		lost++
		return os.Remove(path)
	}))
	if lost == 0 {
		t.Fatal("the browser kept nothing in files of their own")
	}
}

// F20 and more: a phone's own copy of the book goes bad, by a bit, or so that it cannot be read at all, and is mended by the
// home store; then the home store is brought back
// from a backup of before this phone's first day, and one tap brings all of it back: what was in the book, and what was not.
func TestAPhoneFindsItsWaysBack(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		dir := t.TempDir()
		store := startStore(t, false)
		ran(t, "backup", "-book", store.book, "-to", filepath.Join(dir, "kept"))
		o := webdriver.Options{}
		if engine == "chromium" {
			o.Profile = filepath.Join(dir, "profile")
		}
		p := openPhone(t, engine, store, o, "/", "today")
		p.InTheBook()
		p.ReadyForOffline()
		p.ReceiveLot("glycerin", "glycerin", "after the backup", "500")
		p.InTheBook()

		if engine == "chromium" {
			must(t, p.Await(fmt.Sprintf(change, large), nil))
			store.Stop()
			p.Kill()
			loseLarge(t, o.Profile)
			p = openPhone(t, engine, store, o, "/shelf", "shelf")
		} else {
			must(t, p.Await(fmt.Sprintf(change, flipped), nil))
			store.Stop()
			must(t, p.Reload())
			p.At("shelf")
		}
		p.SeeIn(`[data-part="link-trouble"]`, "Entry 1 of the workshop’s log could not be read on this phone; what is missing comes again as soon as")
		p.Fits()
		p.Shot("again mending " + engine)
		store.Start()
		p.SeeIn(`[data-part="told"]`, "the book on this phone is whole")
		p.See("after the backup")
		p.Tap("I have read it")
		p.Gone("the book on this phone is whole")

		store.Kill()
		p.ReceiveLot("glycerin", "glycerin", "while it was away", "200")
		made, err := filepath.Glob(filepath.Join(dir, "kept", "*.backup"))
		must(t, err)
		store.book = filepath.Join(dir, "again")
		ran(t, "restore", "-from", made[0], "-book", store.book)
		store.Start()
		p.Tap("What happened, and how to go on")
		p.At("again")
		p.See("The home store does not know this phone")
		p.See("1 row is on this phone alone")
		p.Fits()
		p.Shot("again " + engine)
		p.Tap("Go on as a new device")
		p.See("This phone goes on as a new device. 1 row that it had not sent waits")
		p.Go("/", "today")
		p.InTheBook()
		p.See("1 × lot received")
		p.Shot("again waiting " + engine)
		p.Tap("Accept, as the owner")
		p.Gone("1 × lot received")
		p.Go("/shelf", "shelf")
		p.See("after the backup")
		p.See("while it was away")
		p.ReceiveLot("glycerin", "glycerin", "under its new name", "100")
		p.InTheBook()
		store.Stop()
		if book := strings.Join(store.Export(), "\n"); strings.Count(book, `"kind":"lot.received"`) != 3 || strings.Count(book, `"kind":"accepted"`) != 1 {
			t.Errorf("the book:\n%s", book)
		}
	})
}
