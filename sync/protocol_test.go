package sync

import (
	"encoding/hex"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Every worked example of PROTOCOL.md is a vector, and the numbers in its text are the package's.
func TestProtocolTextAgreesWithVectorsAndLimits(t *testing.T) {
	raw, err := os.ReadFile("PROTOCOL.md")
	if err != nil {
		t.Fatal(err)
	}
	text := string(raw)
	known := map[string]bool{}
	for name := range reencode {
		var f layoutFile
		readVectors(t, name, &f)
		for _, v := range f.Vectors {
			known[v.Bytes] = true
		}
	}
	blocks := strings.Split(text, "```hex\n")[1:]
	if len(blocks) < 8 {
		t.Fatalf("%d worked examples", len(blocks))
	}
	for _, b := range blocks {
		if b, _, _ = strings.Cut(b, "\n```"); !known[b] {
			t.Errorf("not a vector: %s", b)
		}
	}
	for i, section := range strings.Split(text, "\n## ")[1:] {
		if !strings.HasPrefix(section, strconv.Itoa(i+1)+". ") {
			t.Errorf("section %d is headed %.20q", i+1, section)
		}
	}
	var f hashFile
	readVectors(t, "hash.json", &f)
	for _, want := range []string{f.Chain[0].Hash, f.Chain[1].Hash, "32,768", "32,832", "65,536", "73,728", "1 to 500", "At most 8 batches", "10 s", "25 s", "for 6 s", "More than 16"} {
		if !strings.Contains(text, want) {
			t.Errorf("PROTOCOL.md does not say %s", want)
		}
	}
	for _, code := range []string{CodeMalformed, CodeLater, CodeOrder, CodeSilent, CodeStorage, CodeFull, CodeClosing, CodeSlow, CodeProtocol, CodeToken, CodeRevoked, CodeEpoch, CodeDamaged, CodeFork, CodeBehind} {
		if !strings.Contains(text, "| `"+code+"` |") {
			t.Errorf("PROTOCOL.md does not name %s", code)
		}
	}
	if MaxEntryBytes != 32_768 || MaxEnvelopeBytes != 32_832 || MaxBatchBytes != 65_536 || MaxMessageBytes != 73_728 ||
		MaxBatchEntries != 500 || Window != 8 || BeatEvery != 10_000 || DeadAfter != 25_000 || RetryAfter != 6_000 {
		t.Error("a limit is not what PROTOCOL.md says")
	}
}

// The vectors are a real conversation: a stranger who sends these bytes gets those.
func TestVectorsAreAConversation(t *testing.T) {
	var f layoutFile
	readVectors(t, "message.json", &f)
	say := map[string][]byte{}
	for _, v := range f.Vectors {
		say[v.Name] = unhex(v.Bytes)
	}
	e := newEnds(t, nil, vecDevice)
	e.store.epoch = vecEpoch
	e.connect()
	e.up = nil
	// The stand-in store of these tests knows one token, which is not the vector's.
	hello := Hello{Lo: 1, Hi: 1, Device: vecDevice, Token: []byte("token"), Clock: 1_790_000_060_500}.Append(nil)
	if m, err := ParseMessage(say["hello of a new phone"]); err != nil || m.(Hello).Device != vecDevice || string(m.(Hello).Token) != "a token" {
		t.Fatal(m, err)
	}
	e.atStore(e.link.Receive(e.now, hello))
	if len(e.down) != 1 || e.down[0][0] != typeWelcome {
		t.Fatalf("%x %v", e.down, e.refused)
	}
	e.down = nil
	e.atStore(e.link.Receive(e.now, say["batch up"]))
	if len(e.down) != 2 || hex.EncodeToString(e.down[0]) != hex.EncodeToString(say["ack"]) {
		t.Fatalf("%x %v", e.down, e.refused)
	}
	m, err := ParseMessage(e.down[1])
	if b, ok := m.(Batch); err != nil || !ok || b.Log != Down || b.Prev != 0 || len(b.Items) != 2 {
		t.Fatalf("%+v %v", m, err)
	}
	e.down = nil
	e.atStore(e.link.Receive(e.now, say["batch up"]))
	if len(e.down) != 2 || e.down[0][0] != typeHave || hex.EncodeToString(e.down[1]) != hex.EncodeToString(say["ack"]) {
		t.Fatalf("a duplicate is answered by have and ack: %x", e.down)
	}
}
