package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/backup"
	"stillroom/server/folder"
	"stillroom/server/servertest"
	"stillroom/sync"
)

// asked runs a command in this process and gives what it printed.
func asked(t *testing.T, args ...string) (string, int) {
	t.Helper()
	var out bytes.Buffer
	code := run(context.Background(), console{strings.NewReader(""), &out, &out}, args)
	return out.String(), code
}

func served(t *testing.T, dir string, args ...string) *program {
	t.Helper()
	p, err := startProgram(dir, args...)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.kill)
	return p
}

// F20, F24: a backup is made while phones push; the store goes on and is lost. What is brought back from the backup is a
// prefix; the phones bring the rest, also of one that is gone, and in the end all hold the same bytes and fold to the same
// book.
func TestLostStoreHealsFromItsPhones(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	p := served(t, dir, "-book", "book")
	a, b, gone := servertest.New(t, p.url), servertest.New(t, p.url), servertest.New(t, p.url)
	for _, phone := range []*servertest.Phone{a, b, gone} {
		phone.Connect()
		phone.Write("workshop", book.KindBatchNoted, 30)
		phone.Write("shelf", book.KindPlaceNamed, 3)
	}
	out, code := "", -1
	for round := 0; code != 0 || round < 3; round++ {
		a.Write("workshop", book.KindBatchNoted, 200)
		b.Write("workshop", book.KindBatchNoted, 200)
		if out, code = asked(t, "backup", "-book", in("book"), "-to", in("kept")); code != exitOK {
			t.Fatalf("while it runs: %s", out)
		}
	}
	gone.Write("workshop", book.KindBatchNoted, 25)
	for _, phone := range []*servertest.Phone{a, b, gone} {
		phone.UntilAcked("workshop", uint64(phone.Own("workshop")))
	}
	total := a.Own("workshop") + b.Own("workshop") + gone.Own("workshop")
	a.UntilHas("workshop", total)
	a.UntilHas("shelf", 9)
	gone.Cut()
	a.Cut()
	b.Cut()
	if err := p.stop(); err != nil {
		t.Fatal(err)
	}

	all, err := backup.List(in("kept"))
	if err != nil || len(all) != 3 {
		t.Fatalf("backups %v, %v", all, err)
	}
	if out, code := asked(t, "restore", "-from", all[1].Path, "-book", in("again")); code != exitOK {
		t.Fatal(out)
	}
	older := prefixOf(t, in("again"), a)
	if older == 0 || older >= total {
		t.Fatalf("the backup holds %d of %d entries, which shows nothing", older, total)
	}
	if out, code := asked(t, "restore", "-from", all[1].Path, "-book", in("again")); code != exitFailed || !strings.Contains(out, "nothing in it was touched") {
		t.Errorf("over a book: %d %s", code, out)
	}

	p = served(t, dir, "-book", "again")
	// A new phone is there first, so that the store has moved on before the old end comes.
	fresh := servertest.New(t, p.url)
	fresh.Connect()
	fresh.Write("workshop", book.KindBatchNoted, 7)
	fresh.UntilAcked("workshop", 7)
	// The shelf moves on as well, and begins with the store's own mark of its new life: what phones of the old one had
	// seen is known to end there.
	fresh.Write("shelf", book.KindPlaceNamed, 2)
	fresh.UntilAcked("shelf", 2)
	for _, phone := range []*servertest.Phone{a, b} {
		phone.URL = p.url
		phone.Write("workshop", book.KindBatchNoted, 2) // while the store was away
		phone.Heal()
		phone.UntilAcked("workshop", uint64(phone.Own("workshop")))
	}
	total += 7 + 4
	for _, phone := range []*servertest.Phone{a, b, fresh} {
		phone.UntilHas("workshop", total)
		phone.UntilHas("shelf", 12)
	}
	if !servertest.SameDown(a, b, "workshop") || !servertest.SameDown(a, fresh, "workshop") || !servertest.SameDown(a, fresh, "shelf") {
		t.Error("the phones hold different bytes")
	}
	if a.Swaps == 0 || len(a.Stops)+len(b.Stops) > 0 {
		t.Errorf("%d swaps, stops %v %v", a.Swaps, a.Stops, b.Stops)
	}
	a.Cut()
	b.Cut()
	fresh.Cut()
	if err := p.stop(); err != nil {
		t.Fatal(err)
	}
	if out, code := asked(t, "verify", "-book", in("again")); code != exitOK {
		t.Error(out)
	}
	if err := reading(context.Background(), in("again"), func(f *folder.Folder) error {
		items, err := f.Store.Read(context.Background(), "shelf", 0, 0, 0)
		if err != nil {
			return err
		}
		began := 0
		for _, item := range items {
			v, _ := sync.ParseEnvelope(item)
			if e, err := sync.ParseEntry(v.Entry); err == nil && e.Kind == book.KindStoreBegan {
				began++
				if e.Seen != (sync.Seen{Epoch: f.Store.Epoch(), Seq: v.Seq - 1}) {
					t.Errorf("the mark has seen %+v", e.Seen)
				}
			}
		}
		if began != 1 {
			t.Errorf("%d marks of a new life", began)
		}
		if got := f.Store.DeviceHead("workshop", gone.ID).Seq; got != uint64(gone.Own("workshop")) {
			t.Errorf("of the phone that is gone %d entries came back, and it wrote %d", got, gone.Own("workshop"))
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}

// prefixOf compares a book with what a phone was given, number by number, and tells how far it goes.
func prefixOf(t *testing.T, dir string, phone *servertest.Phone) (n int) {
	t.Helper()
	if err := reading(context.Background(), dir, func(f *folder.Folder) error {
		items, err := f.Store.Read(context.Background(), "workshop", 0, 0, 0)
		if n = len(items); err != nil {
			return err
		}
		phone.Mu.Lock()
		defer phone.Mu.Unlock()
		for i, item := range items {
			if !bytes.Equal(item, phone.Log("workshop", sync.Down).Items[i]) {
				t.Fatalf("number %d of the backup is not what the phone was given", i+1)
			}
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return n
}

// F21: a book's folder is copied and both are run. A phone that meets the other one is stopped, and both are kept.
func TestF21CopiedFolderIsNoticed(t *testing.T) {
	dir := t.TempDir()
	p := served(t, dir, "-book", "book")
	a, b := servertest.New(t, p.url), servertest.New(t, p.url)
	for _, phone := range []*servertest.Phone{a, b} {
		phone.Connect()
		phone.Write("workshop", book.KindBatchNoted, 5)
	}
	a.UntilHas("workshop", 10)
	b.UntilHas("workshop", 10)
	a.Cut()
	b.Cut()
	if err := p.stop(); err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(filepath.Join(dir, "copy"), os.DirFS(filepath.Join(dir, "book"))); err != nil {
		t.Fatal(err)
	}
	one, two := served(t, dir, "-book", "book"), served(t, dir, "-book", "copy")
	a.URL, b.URL = one.url, two.url
	a.Connect()
	a.Write("workshop", book.KindBatchNoted, 1)
	b.Connect()
	b.Write("workshop", book.KindBatchNoted, 2)
	a.UntilHas("workshop", 11)
	b.UntilHas("workshop", 12)
	a.URL = two.url
	a.Connect()
	a.UntilStopped(sync.CodeFork)
	if a.Own("workshop") != 6 || len(a.Log("workshop", sync.Down).Items) != 11 {
		t.Error("the phone let go of something")
	}
}

// F12, F13: a phone comes back from an old backup of itself, and a profile is cloned. Each is stopped before it gives a
// number away twice, is taken in as a new device, and everything is in the book.
func TestPhoneFromAnOldBackupGetsANewName(t *testing.T) {
	dir := t.TempDir()
	p := served(t, dir, "-book", "book")
	a := servertest.New(t, p.url)
	a.Connect()
	a.Write("workshop", book.KindBatchNoted, 5)
	a.UntilAcked("workshop", 5)
	old := servertest.As(t, p.url, a.Me) // F12: nothing of what it wrote
	old.Connect()
	old.UntilStopped(sync.CodeBehind)
	clone := servertest.As(t, p.url, a.Me) // F13: other bytes under the same numbers
	clone.Write("workshop", book.KindBatchStarted, 6)
	clone.Connect()
	clone.UntilStopped(sync.CodeFork)
	for _, phone := range []*servertest.Phone{old, clone} {
		again := servertest.New(t, p.url)
		again.Write("workshop", book.KindBatchNoted, 6)
		again.Connect()
		again.UntilAcked("workshop", 6)
		if again.ID == phone.ID {
			t.Error("it kept its name")
		}
	}
	a.UntilHas("workshop", 17)
	if clone.Own("workshop") != 6 {
		t.Error("the clone's own entries are gone")
	}
}

func TestBadBackupsAreRefused(t *testing.T) {
	dir := t.TempDir()
	if f, err := folder.Open(filepath.Join(dir, "book"), folder.Options{Now: time.Now}); err != nil {
		t.Fatal(err)
	} else if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if out, code := asked(t, "backup", "-book", filepath.Join(dir, "book"), "-to", filepath.Join(dir, "kept")); code != exitOK {
		t.Fatal(out)
	}
	all, err := backup.List(filepath.Join(dir, "kept"))
	if err != nil || len(all) != 1 {
		t.Fatal(all, err)
	}
	whole, err := os.ReadFile(all[0].Path)
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{
		"a flipped bit": append(append([]byte(nil), whole[:60]...), append([]byte{whole[60] ^ 1}, whole[61:]...)...),
		"cut off":       whole[:len(whole)-7],
		"empty":         {},
		"a web page":    []byte("<html>" + strings.Repeat(" ", 100)),
	} {
		bad := filepath.Join(dir, "bad")
		if err := os.WriteFile(bad, data, 0o600); err != nil {
			t.Fatal(err)
		}
		out, code := asked(t, "restore", "-from", bad, "-book", filepath.Join(dir, "new"))
		if _, err := os.Stat(filepath.Join(dir, "new")); code != exitFailed || err == nil || !strings.Contains(out, "cannot be used as a backup") {
			t.Errorf("%s: %d %s", name, code, out)
		}
	}
}

// F19, F20: a book's journal is damaged and there is no backup. What can be read of it becomes a book with a new life,
// and the phone brings back the rest.
func TestDamagedBookHealsWithoutABackup(t *testing.T) {
	dir := t.TempDir()
	p := served(t, dir, "-book", "book")
	a := servertest.New(t, p.url)
	a.Connect()
	for n := 1; n <= 40; n++ { // each in a record of its own
		a.Write("workshop", book.KindBatchNoted, 5)
		a.UntilAcked("workshop", uint64(5*n))
	}
	a.UntilHas("workshop", 200)
	a.Cut()
	p.kill() // what is in the write-ahead log stays there
	logs, err := filepath.Glob(filepath.Join(dir, "book", "journal", "*.mem"))
	if err != nil || len(logs) == 0 {
		t.Fatalf("%v %v", logs, err)
	}
	data, err := os.ReadFile(logs[len(logs)-1])
	if err != nil {
		t.Fatal(err)
	}
	data[len(bytes.TrimRight(data, "\x00"))*6/10] ^= 1
	if err := os.WriteFile(logs[len(logs)-1], data, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, code := asked(t, "backup", "-book", filepath.Join(dir, "book"), "-to", filepath.Join(dir, "kept")); code != exitFailed {
		t.Errorf("a damaged book was backed up: %s", out)
	}
	t.Setenv(checkLeaves, filepath.Join(dir, "checked"))
	if out, code := asked(t, "restore", "-from", filepath.Join(dir, "book"), "-book", filepath.Join(dir, "again")); code != exitOK {
		t.Fatal(out)
	}
	if _, err := os.Stat(filepath.Join(dir, "checked")); err != nil {
		t.Errorf("the damaged journal was read in the process that restores, which a crash would end: %v", err)
	}
	if n := prefixOf(t, filepath.Join(dir, "again"), a); n == 0 || n >= 200 {
		t.Fatalf("%d entries could be read, which shows nothing", n)
	}
	p = served(t, dir, "-book", "again")
	a.URL = p.url
	a.Write("workshop", book.KindBatchNoted, 1)
	a.Heal()
	a.UntilAcked("workshop", 201)
	a.UntilHas("workshop", 201)
	if err := p.stop(); err != nil {
		t.Fatal(err)
	}
	if n := prefixOf(t, filepath.Join(dir, "again"), a); n != 201 {
		t.Errorf("%d entries in the end", n)
	}
}

// By hand as by the clock, a full backup is followed by small ones. A small one is restored with its full one; without that,
// and where it was altered, restore and verify name it, say what can be restored, and make nothing.
func TestSmallBackupsOnTheCommandLine(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	p := served(t, dir, "-book", "book")
	a := servertest.New(t, p.url)
	a.Connect()
	for day, want := range []string{"holds the key", "10 entries that came after stillroom-", "20 entries that came after stillroom-"} {
		a.Write("workshop", book.KindBatchNoted, 10)
		a.UntilAcked("workshop", uint64(10*(day+1)))
		if out, code := asked(t, "backup", "-book", in("book"), "-to", in("kept")); code != exitOK || !strings.Contains(out, want) {
			t.Fatalf("%d: %s", day, out)
		}
	}
	if out, code := asked(t, "backup", "-book", in("book"), "-to", in("kept"), "-full"); code != exitOK || strings.Contains(out, "came after") {
		t.Errorf("full: %s", out)
	}
	a.Cut()
	if err := p.stop(); err != nil {
		t.Fatal(err)
	}
	if out, code := asked(t, "backup", "-book", in("book"), "-to", in("kept")); code != exitOK || !strings.Contains(out, "0 entries that came after") {
		t.Errorf("of a book that is closed: %s", out)
	}
	all, err := backup.List(in("kept"))
	if err != nil || len(all) != 5 {
		t.Fatal(all, err)
	}
	for i, want := range []string{"10 entries, every", "20 entries, every", "30 entries, every"} {
		if out, code := asked(t, "verify", "-backup", all[i].Path); code != exitOK || !strings.Contains(out, want) {
			t.Errorf("%d: %s", i, out)
		}
	}
	if out, code := asked(t, "restore", "-from", all[2].Path, "-book", in("again")); code != exitOK || !strings.Contains(out, "30 entries") {
		t.Error(out)
	}
	if n := prefixOf(t, in("again"), a); n != 30 {
		t.Errorf("%d entries", n)
	}
	if err := os.Remove(all[0].Path); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"restore", "-from", all[2].Path, "-book", in("third")}, {"verify", "-backup", all[2].Path}} {
		out, code := asked(t, args...)
		if _, err := os.Stat(in("third")); err == nil || code != exitFailed || !strings.Contains(out, filepath.Base(all[0].Path)+", and that file is not in") || !strings.Contains(out, "can be restored is "+filepath.Base(all[4].Path)) {
			t.Errorf("%s: %s", args[0], out)
		}
	}
}
