package rescue

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/backup"
	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/sync"
)

var ctx = context.Background()

func entries(from, to uint64, body string) (out [][]byte) {
	for n := from; n <= to; n++ {
		out = append(out, sync.Entry{Seq: n, Kind: book.KindBatchNoted, V: 1, At: int64(n), Body: fmt.Append(nil, body, n)}.Append(nil))
	}
	return out
}

func opened(t *testing.T, dir string) *folder.Folder {
	t.Helper()
	f, err := folder.Open(dir, folder.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func add(t *testing.T, f *folder.Folder, d sync.DeviceID, after uint64, raw [][]byte) {
	t.Helper()
	if _, err := f.Store.Append(ctx, book.Workshop, d, after, raw, store.Meta{At: 5}); err != nil {
		t.Fatal(err)
	}
}

// saved is what a rescue page writes of a phone that has the whole log of a book and rows of its own.
func saved(t *testing.T, f *folder.Folder, d sync.DeviceID, own [][]byte, change func(map[string]any)) string {
	t.Helper()
	log, err := f.Store.Read(ctx, book.Workshop, 0, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	var items []byte
	for _, raw := range log {
		items = append(append(items, byte(len(raw)), byte(len(raw)>>8), 0, 0), raw...)
	}
	head, epoch := f.Store.Head(book.Workshop), f.Store.Epoch()
	mac := sync.HeadMAC(f.Store.Key(), epoch, book.Workshop, head.Seq, head.Hash)
	c := map[string]any{"stream": book.Workshop, "epoch": hex.EncodeToString(epoch[:]), "from": 1, "to": head.Seq,
		"hash": hex.EncodeToString(head.Hash[:]), "mac": hex.EncodeToString(mac[:]), "bytes": base64.StdEncoding.EncodeToString(items)}
	if change != nil {
		change(c)
	}
	var out bytes.Buffer
	lines := json.NewEncoder(&out)
	rows := []map[string]any{{"stillroom": "rescue 1", "device": d.String(), "saved": "2026-11-27T10:00:00Z"},
		{"kept": "meta", "key": "device", "value": map[string]any{"device": d.String(), "letter": "A", "role": "owner"}},
		{"kept": "chunks", "key": []any{book.Workshop, 1}, "value": c}, {"kept": "drafts", "key": "a", "value": "half typed"}}
	for _, raw := range own {
		e, _ := sync.ParseEntry(raw)
		rows = append(rows, map[string]any{"kept": "pending", "key": []any{book.Workshop, e.Seq},
			"value": map[string]any{"stream": book.Workshop, "seq": e.Seq, "bytes": base64.StdEncoding.EncodeToString(raw)}})
	}
	for _, r := range rows {
		if err := lines.Encode(r); err != nil {
			t.Fatal(err)
		}
	}
	return out.String()
}

// F20: a phone that the restored store does not know, since it came after the backup, still brings everything: what the
// store lost, of everyone, and what it had not sent, which waits for the owner.
func TestFileOfAPhoneThatIsNotKnown(t *testing.T) {
	dir := t.TempDir()
	f := opened(t, filepath.Join(dir, "book"))
	first, _, err := f.Devices.Add(book.Owner)
	if err != nil {
		t.Fatal(err)
	}
	add(t, f, first.ID, 0, entries(1, 10, "in the backup "))
	info, err := backup.Write(ctx, f, filepath.Join(dir, "kept"), backup.Options{})
	if err != nil {
		t.Fatal(err)
	}
	late, _, err := f.Devices.Add(book.Maker)
	if err != nil {
		t.Fatal(err)
	}
	add(t, f, first.ID, 10, entries(11, 20, "after it "))
	add(t, f, late.ID, 0, entries(1, 5, "of the late one "))
	text := saved(t, f, late.ID, entries(6, 8, "not sent "), nil)
	if _, err := backup.Restore(ctx, info.Path, filepath.Join(dir, "again"), folder.Options{Now: time.Now}); err != nil {
		t.Fatal(err)
	}
	again := opened(t, filepath.Join(dir, "again"))
	has := map[string][]uint64{book.Workshop: {6, 7, 8}}
	for round, want := range []Done{{Device: late.Name, Back: 15, Sent: 3, Held: 3, Has: has}, {Device: late.Name, Has: has}} {
		got, err := Into(ctx, again, strings.NewReader(text), 9)
		if err != nil || fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("round %d: %+v, %v", round, got, err)
		}
	}
	if h := again.Store.Head(book.Workshop).Seq; h != 28 {
		t.Errorf("%d entries", h)
	}
}

func TestWhatDoesNotFitStaysInTheFile(t *testing.T) {
	dir := t.TempDir()
	f := opened(t, filepath.Join(dir, "book"))
	d, _, err := f.Devices.Add(book.Owner)
	if err != nil {
		t.Fatal(err)
	}
	add(t, f, d.ID, 0, entries(1, 4, "kept "))
	other := opened(t, filepath.Join(dir, "other"))
	for name, test := range map[string]struct {
		text string
		left string
	}{
		"another book":          {saved(t, f, d.ID, nil, nil), "no mark of this book"},
		"an altered mark":       {saved(t, f, d.ID, nil, func(c map[string]any) { c["mac"] = strings.Repeat("0", 64) }), "no mark of this book"},
		"rows with a hole":      {saved(t, other, d.ID, entries(3, 4, "after a hole "), nil), "2 entries"},
		"other bytes, one name": {saved(t, f, d.ID, entries(2, 2, "something else "), nil), "two different entries"},
	} {
		into := other
		if strings.Contains(name, "bytes") {
			into = f
		}
		before := into.Store.Head(book.Workshop)
		got, err := Into(ctx, into, strings.NewReader(test.text), 9)
		if err != nil || len(got.Left) != 1 || !strings.Contains(got.Left[0], test.left) || into.Store.Head(book.Workshop) != before {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	aside := saved(t, f, d.ID, nil, nil) + `{"kept":"aside","key":["rows","A","workshop",3],"value":{"stream":"workshop","seq":3}}` + "\n"
	if got, err := Into(ctx, f, strings.NewReader(aside), 9); err != nil || len(got.Left) != 1 || !strings.Contains(got.Left[0], "put aside") {
		t.Errorf("put aside: %+v, %v", got, err)
	}
	for name, text := range map[string]string{"empty": "", "a web page": "<html>\n", "cut off": saved(t, f, d.ID, nil, nil)[:300], "another file": "{\"note\":\"\"}\n"} {
		var bad *Bad
		if _, err := Into(ctx, f, strings.NewReader(text), 9); !errors.As(err, &bad) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// F20: rows that a phone handed over under its earlier name, and that had not come back to it when the home store was lost.
func TestRowsThatWereHandedOverAreInTheFile(t *testing.T) {
	dir := t.TempDir()
	f := opened(t, filepath.Join(dir, "book"))
	was, _, _ := f.Devices.Add(book.Owner)
	now, _, _ := f.Devices.Add(book.Owner)
	add(t, f, was.ID, 0, entries(1, 2, "kept "))
	text := saved(t, f, now.ID, nil, nil)
	for n, raw := range entries(3, 5, "handed over ") {
		text += fmt.Sprintf(`{"kept":"aside","key":["handed",%q,"workshop",%d],"value":{"stream":"workshop","seq":%d,"device":%[1]q,"to":9,"epoch":"00","sum":%[4]q,"bytes":%[5]q}}`+"\n",
			was.ID.String(), n+3, n+3, sync.RowSum(raw), base64.StdEncoding.EncodeToString(raw))
	}
	for i, sent := range []int{3, 0} { // the same file twice
		got, err := Into(ctx, f, strings.NewReader(text), 9)
		if err != nil || got.Sent != sent || got.Held != 0 || len(got.Left) != 0 {
			t.Errorf("%d: %+v, %v", i, got, err)
		}
	}
	if h := f.Store.DeviceHead(book.Workshop, was.ID).Seq; h != 5 {
		t.Errorf("the earlier name's line ends at %d", h)
	}
	path := filepath.Join(dir, "phone.txt")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	made, err := Begin(ctx, filepath.Join(dir, "new"), []string{path}, "", time.Now(), folder.Options{Now: time.Now})
	if err != nil || made.Entries != 5 || made.Sent != 3 || made.Held != 3 {
		t.Errorf("a book of the file alone: %+v, %v", made, err)
	}
}
