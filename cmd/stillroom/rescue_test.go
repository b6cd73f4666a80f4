package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stillroom/calc/book"
	"stillroom/server/servertest"
	"stillroom/sync"
)

// savedBy writes the file that a phone's rescue page saves: its copy of the log in one chunk, and what it wrote after.
func savedBy(t *testing.T, p *servertest.Phone, path string) {
	t.Helper()
	p.Mu.Lock()
	defer p.Mu.Unlock()
	proof := sha256.Sum256([]byte(p.Me.Token))
	var out bytes.Buffer
	lines := json.NewEncoder(&out)
	write := func(row map[string]any) {
		if err := lines.Encode(row); err != nil {
			t.Fatal(err)
		}
	}
	write(map[string]any{"stillroom": "rescue 1", "device": p.Me.Device, "saved": "2026-11-27T10:00:00.000Z"})
	write(map[string]any{"kept": "meta", "key": "device", "value": map[string]any{"device": p.Me.Device, "letter": p.Me.Letter, "role": p.Me.Role, "proof": hex.EncodeToString(proof[:])}})
	for _, stream := range servertest.Streams {
		var packed []byte
		hash, log := sync.RunningSeed(stream), p.Log(stream, sync.Down).Items
		for _, raw := range log {
			packed = append(binary.LittleEndian.AppendUint32(packed, uint32(len(raw))), raw...)
			hash = hash.Next(raw)
		}
		if len(log) > 0 {
			write(map[string]any{"kept": "chunks", "key": []any{stream, 1}, "value": map[string]any{"stream": stream, "epoch": "", "from": 1, "to": len(log),
				"hash": hex.EncodeToString(hash[:]), "mac": "", "bytes": base64.StdEncoding.EncodeToString(packed)}})
		}
		for i, raw := range p.Log(stream, sync.Up).Items {
			if seq := uint64(i + 1); seq > p.Acked[stream] {
				write(map[string]any{"kept": "pending", "key": []any{stream, seq}, "value": map[string]any{"stream": stream, "seq": seq, "bytes": base64.StdEncoding.EncodeToString(raw)}})
			}
		}
	}
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
}

// F20: the disk of the home store is lost with its key, and there is no backup. A book is made of the files of two phones;
// those phones go on from it under their names and tokens, with what they wrote since their files were saved, and all hold
// the same bytes in the end.
func TestPhonesGoOnFromABookOfTheirFiles(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	p := served(t, dir, "-book", "lost")
	a, b, gone := servertest.New(t, p.url), servertest.New(t, p.url), servertest.New(t, p.url)
	for _, phone := range []*servertest.Phone{a, b, gone} {
		phone.Connect()
		phone.Write("workshop", book.KindBatchNoted, 30)
		phone.Write("shelf", book.KindPlaceNamed, 3)
	}
	b.UntilHas("workshop", 90)
	b.UntilHas("shelf", 9)
	b.Cut()
	a.Write("workshop", book.KindBatchNoted, 10)
	a.UntilHas("workshop", 100)
	a.UntilHas("shelf", 9)
	a.UntilAcked("workshop", 40)
	a.Cut()
	gone.Cut()
	p.kill()
	if err := os.RemoveAll(in("lost")); err != nil {
		t.Fatal(err)
	}
	b.Write("workshop", book.KindBatchNoted, 5)
	savedBy(t, a, in("a.txt"))
	savedBy(t, b, in("b.txt"))
	out, code := asked(t, "rescue", "-book", in("new"), "-new", in("b.txt"), in("a.txt"))
	if code != exitOK || !strings.Contains(out, "what 2 phones had: 114 entries, 5 of those not sent before") || !strings.Contains(out, "Not proved") || !strings.Contains(out, "99 of the entries are the same") {
		t.Fatalf("%d %s", code, out)
	}
	if out, code := asked(t, "verify", "-book", in("new")); code != exitOK {
		t.Error(out)
	}
	b.Write("workshop", book.KindBatchNoted, 2) // after its file was saved
	p = served(t, dir, "-book", "new")
	fresh := servertest.New(t, p.url)
	fresh.Connect()
	for _, phone := range []*servertest.Phone{a, b} {
		phone.URL = p.url
		phone.Heal()
		phone.UntilAcked("workshop", uint64(phone.Own("workshop")))
	}
	for _, phone := range []*servertest.Phone{a, b, fresh} {
		phone.UntilHas("workshop", 107)
		phone.UntilHas("shelf", 9)
	}
	if !servertest.SameDown(a, b, "workshop") || !servertest.SameDown(a, fresh, "workshop") || !servertest.SameDown(a, fresh, "shelf") {
		t.Error("the phones hold different bytes")
	}
	if len(a.Stops)+len(b.Stops) > 0 || fresh.Me.Letter == a.Me.Letter || fresh.Me.Letter == b.Me.Letter || fresh.Me.Letter == gone.Me.Letter {
		t.Errorf("stops %v %v, letters %s %s %s %s", a.Stops, b.Stops, a.Me.Letter, b.Me.Letter, gone.Me.Letter, fresh.Me.Letter)
	}
}
