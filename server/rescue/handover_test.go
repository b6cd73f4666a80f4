package rescue

import (
	"encoding/base64"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/backup"
	"stillroom/server/folder"
	"stillroom/sync"
)

// F20, F12, F13: what a phone brings that goes on as a new device, in each of the ways in which the store had stopped it.
func TestAPhoneGoesOnAsANewDevice(t *testing.T) {
	type world struct {
		book   *folder.Folder
		was    folder.Device // the device that wrote the file
		proves bool          // it proves that it was that one
		file   string
	}
	for name, test := range map[string]struct {
		make func(t *testing.T, dir string) world
		want Done
		says string // of the refusal
		head uint64 // of the log afterwards
	}{
		"F20 not known, since it came after the backup": {func(t *testing.T, dir string) world {
			f := opened(t, filepath.Join(dir, "book"))
			first, _, _ := f.Devices.Add(book.Owner)
			add(t, f, first.ID, 0, entries(1, 10, "in the backup "))
			info, err := backup.Write(ctx, f, filepath.Join(dir, "kept"), backup.Options{})
			if err != nil {
				t.Fatal(err)
			}
			late, _, _ := f.Devices.Add(book.Owner)
			add(t, f, first.ID, 10, entries(11, 20, "after it "))
			add(t, f, late.ID, 0, entries(1, 5, "of the late one "))
			text := saved(t, f, late.ID, entries(6, 8, "not sent "), nil)
			if _, err := backup.Restore(ctx, info.Path, filepath.Join(dir, "again"), folder.Options{Now: time.Now}); err != nil {
				t.Fatal(err)
			}
			return world{opened(t, filepath.Join(dir, "again")), late, false, text}
		}, Done{Back: 15, Sent: 3, Held: 3, Has: map[string][]uint64{book.Workshop: {6, 7, 8}}}, "", 28},
		"F2 sent already, its acknowledgement lost": {func(t *testing.T, dir string) world {
			f := opened(t, dir)
			d, _, _ := f.Devices.Add(book.Owner)
			add(t, f, d.ID, 0, entries(1, 5, "kept "))
			text := saved(t, f, d.ID, entries(6, 8, "sent "), nil)
			add(t, f, d.ID, 5, entries(6, 7, "sent "))
			return world{f, d, true, text}
		}, Done{Sent: 1, Has: map[string][]uint64{book.Workshop: {6, 7, 8}}}, "", 8},
		"F12 behind: an old copy of itself that wrote on": {func(t *testing.T, dir string) world {
			f := opened(t, dir)
			d, _, _ := f.Devices.Add(book.Owner)
			add(t, f, d.ID, 0, entries(1, 5, "kept "))
			text := saved(t, f, d.ID, append(entries(6, 6, "sent "), entries(7, 9, "of the old copy ")...), nil)
			add(t, f, d.ID, 5, entries(6, 8, "sent "))
			return world{f, d, true, text}
		}, Done{Has: map[string][]uint64{book.Workshop: {6}}, Left: []string{"3 entries of workshop that the phone had not sent"}}, "", 8},
		"a row that went bad on the phone, and one behind it": {func(t *testing.T, dir string) world {
			f := opened(t, dir)
			d, _, _ := f.Devices.Add(book.Owner)
			rows := entries(1, 3, "not sent ")
			text := strings.Replace(saved(t, f, d.ID, rows, nil), `"seq":2`, fmt.Sprintf(`"sum":%q,"seq":2`, sync.RowSum(rows[0])), 1)
			return world{f, d, true, strings.Replace(text, `"seq":1`, fmt.Sprintf(`"sum":%q,"seq":1`, sync.RowSum(rows[0])), 1)}
		}, Done{Sent: 1, Has: map[string][]uint64{book.Workshop: {1}}, Left: []string{"2 entries of workshop that the phone had not sent: number 2 went bad"}}, "", 1},
		"F29 another device's rows, and no proof of having been that one": {func(t *testing.T, dir string) world {
			f := opened(t, dir)
			d, _, _ := f.Devices.Add(book.Owner)
			return world{f, d, false, saved(t, f, d.ID, entries(1, 2, "claimed "), nil)}
		}, Done{}, "not that device", 0},
		"F28 taken off the list": {func(t *testing.T, dir string) world {
			f := opened(t, dir)
			d, _, _ := f.Devices.Add(book.Owner)
			if err := f.Devices.Revoke(d.ID); err != nil {
				t.Fatal(err)
			}
			return world{f, d, true, saved(t, f, d.ID, entries(1, 2, "after it was revoked "), nil)}
		}, Done{}, "taken off the list", 0},
		"the copy of another book": {func(t *testing.T, dir string) world {
			other := opened(t, filepath.Join(dir, "other"))
			d, _, _ := other.Devices.Add(book.Owner)
			add(t, other, d.ID, 0, entries(1, 5, "elsewhere "))
			return world{opened(t, filepath.Join(dir, "book")), d, false, saved(t, other, d.ID, entries(6, 8, "not sent "), nil)}
		}, Done{}, "two histories", 0},
		"F21 a copy that bears the mark, of a store that went on otherwise": {func(t *testing.T, dir string) world {
			f := opened(t, dir)
			d, _, _ := f.Devices.Add(book.Owner)
			e, _, _ := f.Devices.Add(book.Owner)
			add(t, f, d.ID, 0, entries(1, 5, "kept "))
			key, life := f.Store.Key(), f.Store.Epoch()
			text := saved(t, f, d.ID, nil, func(c map[string]any) {
				// The copied folder gave this phone a sixth entry; this one gave number 6 to another.
				env := sync.Envelope{Seq: 6, Device: e.ID, At: 5, Entry: entries(1, 1, "of the copied folder ")[0]}.Append(nil)
				items := appended(c["bytes"].(string), env)
				hash := f.Store.Head(book.Workshop).Hash.Next(env)
				mac := sync.HeadMAC(key, life, book.Workshop, 6, hash)
				c["to"], c["bytes"], c["hash"], c["mac"] = 6, items, fmt.Sprintf("%x", hash[:]), fmt.Sprintf("%x", mac[:])
			})
			add(t, f, d.ID, 5, entries(6, 6, "here "))
			return world{f, d, true, text}
		}, Done{}, "two histories", 6},
	} {
		t.Run(name, func(t *testing.T) {
			w := test.make(t, t.TempDir())
			by, _, err := w.book.Devices.Add(book.Owner)
			if err != nil {
				t.Fatal(err)
			}
			who := From{By: by}
			if w.proves {
				who.Was = w.was.ID
			}
			for round := range 2 { // killed behind the answer, it is handed over once more
				got, err := HandOver(ctx, w.book.Store, w.book.Devices, who, strings.NewReader(w.file), 9)
				refused := new(Refused)
				if errors.As(err, &refused) {
					if test.says == "" || !strings.Contains(refused.Says, test.says) {
						t.Fatalf("refused: %s", refused.Says)
					}
				} else if err != nil || test.says != "" {
					t.Fatalf("%+v, %v", got, err)
				} else {
					want := test.want
					if round > 0 {
						want.Back, want.Sent, want.Held = 0, 0, 0
					}
					if fmt.Sprint(got.Has) != fmt.Sprint(want.Has) || got.Back != want.Back || got.Sent != want.Sent || got.Held != want.Held || len(got.Left) != len(want.Left) ||
						len(want.Left) > 0 && !strings.HasPrefix(got.Left[0], want.Left[0]) {
						t.Errorf("round %d: %+v", round, got)
					}
				}
				if h := w.book.Store.Head(book.Workshop).Seq; h != test.head {
					t.Errorf("the log ends at %d", h)
				}
			}
		})
	}
}

// A device of the stall takes back nothing of the workshop, and one that was taken off the list nothing at all.
func TestWhatANewDeviceMayHandOver(t *testing.T) {
	f := opened(t, t.TempDir())
	d, _, _ := f.Devices.Add(book.Maker)
	text := saved(t, f, d.ID, entries(1, 2, "not sent "), nil)
	stall, _, _ := f.Devices.Add(book.Stall)
	gone, _, _ := f.Devices.Add(book.Owner)
	if err := f.Devices.Revoke(gone.ID); err != nil {
		t.Fatal(err)
	}
	got, err := HandOver(ctx, f.Store, f.Devices, From{By: stall, Was: d.ID}, strings.NewReader(text), 9)
	if err != nil || len(got.Has) != 0 || len(got.Left) != 1 || !strings.Contains(got.Left[0], "role") {
		t.Errorf("stall: %+v, %v", got, err)
	}
	refused := new(Refused)
	if got, err = HandOver(ctx, f.Store, f.Devices, From{By: gone, Was: d.ID}, strings.NewReader(text), 9); !errors.As(err, &refused) || !refused.Revoked {
		t.Errorf("revoked: %+v, %v", got, err)
	}
	if h := f.Store.Head(book.Workshop); h.Seq != 0 {
		t.Errorf("%d entries", h.Seq)
	}
}

// appended is a list of byte strings in base64 with one more.
func appended(list string, item []byte) string {
	items, err := base64.StdEncoding.DecodeString(list)
	if err != nil {
		panic(err)
	}
	return base64.StdEncoding.EncodeToString(append(append(items, byte(len(item)), byte(len(item)>>8), 0, 0), item...))
}
