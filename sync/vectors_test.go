package sync

import (
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write testdata/vectors anew; a diff there is a change of the wire")

// field is one field of a layout, encoded by this file alone, so that the vectors are a second opinion on the codecs.
type field struct {
	Field string `json:"field"`
	Type  string `json:"type"`
	Value string `json:"value"`
	Bytes string `json:"bytes"`
}

type vector struct {
	Name   string  `json:"name"`
	Bytes  string  `json:"bytes"`
	Fields []field `json:"fields"`
}

type refusedVector struct {
	Name  string `json:"name"`
	Bytes string `json:"bytes"`
}

type layoutFile struct {
	About   string          `json:"about"`
	Vectors []vector        `json:"vectors"`
	Refused []refusedVector `json:"refused"`
}

type layout []field

func (l *layout) add(name, kind, value string, b []byte) *layout {
	*l = append(*l, field{name, kind, value, hex.EncodeToString(b)})
	return l
}

func (l *layout) uv(name string, n uint64) *layout {
	return l.add(name, "uvarint", fmt.Sprint(n), binary.AppendUvarint(nil, n))
}

func (l *layout) zz(name string, n int64) *layout {
	return l.add(name, "varint", fmt.Sprint(n), binary.AppendUvarint(nil, uint64(n)<<1^uint64(n>>63)))
}

func (l *layout) fix(name string, b []byte) *layout {
	return l.add(name, fmt.Sprintf("%d bytes", len(b)), hex.EncodeToString(b), b)
}

func (l *layout) rest(name string, b []byte) *layout {
	return l.add(name, "rest", hex.EncodeToString(b), b)
}

func (l *layout) text(name, s string) *layout {
	return l.add(name, "text", s, append(binary.AppendUvarint(nil, uint64(len(s))), s...))
}

func (l *layout) item(name string, b []byte) *layout {
	return l.add(name, "bytes", hex.EncodeToString(b), append(binary.AppendUvarint(nil, uint64(len(b))), b...))
}

func (l *layout) head(name string, h Head) *layout {
	return l.uv(name+" number", h.Seq).fix(name+" hash", h.Hash[:])
}

func (l layout) vector(name string) vector {
	v := vector{Name: name, Fields: l}
	for _, f := range l {
		v.Bytes += f.Bytes
	}
	return v
}

func unhex(s string) []byte {
	b, err := hex.DecodeString(s)
	if err != nil {
		panic(err)
	}
	return b
}

// The workshop of the vectors: one device, one store, three entries.
var (
	vecDevice = DeviceID{0x01, 0x23, 0x45, 0x67, 0x89, 0xAB, 0xCD, 0xEF}
	vecEpoch  = Epoch{0xE0, 0xE1, 0xE2, 0xE3, 0xE4, 0xE5, 0xE6, 0xE7}
	vecKey    = []byte("a key of thirty-two bytes, really")[:32]
)

const vecStream = "workshop"

func vecEntryLayout(e Entry) layout {
	var l layout
	l.fix("layout", []byte{1}).uv("number", e.Seq).fix("seen epoch", e.Seen.Epoch[:]).uv("seen number", e.Seen.Seq)
	l.uv("device's clock, ms", uint64(e.At)).uv("kind", uint64(e.Kind)).uv("version", uint64(e.V)).rest("body", e.Body)
	return l
}

func vecEntries() []Entry {
	return []Entry{
		{Seq: 1, At: 1_790_000_000_000, Kind: 8, V: 1, Body: []byte("balm")},
		{Seq: 2, Seen: Seen{vecEpoch, 1}, At: 1_790_000_060_000, Kind: 17, V: 1, Body: []byte{0xB4, 0xCA, 0x02}},
		{Seq: 3, Seen: Seen{vecEpoch, 300}, At: 0, Kind: 4_000_000_000, V: 7},
	}
}

func vecEnvelopeLayout(v Envelope) layout {
	var l layout
	flags := byte(0)
	if v.Held {
		flags = 1
	}
	l.uv("number", v.Seq).fix("device", v.Device[:]).fix("flags (01 = held)", []byte{flags}).uv("store's clock, ms", uint64(v.At))
	l.zz("device's clock minus store's, ms", v.Offset).rest("entry", v.Entry)
	return l
}

func vecEnvelopes() (out []Envelope) {
	for i, e := range vecEntries() {
		out = append(out, Envelope{Seq: uint64(i + 1), Device: vecDevice, Held: i == 2, At: 1_790_000_061_000 + int64(i), Offset: []int64{0, -1_500, 3_600_000}[i], Entry: e.Append(nil)})
	}
	return out
}

// vecHeads are the own chain and the running hash after 0, 1, 2 and 3 items.
func vecHeads() (up, down []Head) {
	up, down = []Head{{0, ChainSeed(vecStream, vecDevice)}}, []Head{{0, RunningSeed(vecStream)}}
	for i, v := range vecEnvelopes() {
		up = append(up, Head{v.Seq, up[i].Hash.Next(v.Entry)})
		down = append(down, Head{v.Seq, down[i].Hash.Next(v.Append(nil))})
	}
	return up, down
}

func vecMAC(h Head) []byte {
	m := HeadMAC(vecKey, vecEpoch, vecStream, h.Seq, h.Hash)
	return m[:]
}

// vecCheckpoint is any 32 bytes.
func vecCheckpoint() []byte {
	h := RunningSeed("a checkpoint")
	return h[:]
}

func vecMessages() []vector {
	up, down := vecHeads()
	v := vecEnvelopes()
	var fresh, known, welcome, upBatch, downBatch, ack, have, beat, refuse, back, ask, renumber layout
	fresh.fix("type", []byte{typeHello}).uv("lowest protocol", 1).uv("highest protocol", 1).uv("schema", 0).fix("device", vecDevice[:])
	fresh.text("token", "a token").uv("phone's clock, ms", 1_790_000_060_500).uv("streams", 0)
	known.fix("type", []byte{typeHello}).uv("lowest protocol", 1).uv("highest protocol", 2).uv("schema", 3).fix("device", vecDevice[:])
	known.text("token", "a token").uv("phone's clock, ms", 1_790_000_060_500).uv("streams", 2)
	known.text("stream", "shelf").fix("epoch", make([]byte, 8)).head("down", Head{0, RunningSeed("shelf")}).head("up", Head{0, ChainSeed("shelf", vecDevice)})
	known.text("stream", vecStream).fix("epoch", vecEpoch[:]).head("down", down[1]).head("up", up[3])
	known.fix("MAC of shelf's down, none", make([]byte, 32)).fix("MAC of workshop's down", vecMAC(down[1]))
	known.rest("fields of a later protocol", []byte{0xAA, 0xBB})
	welcome.fix("type", []byte{typeWelcome}).uv("protocol", 1).uv("schema", 3).text("store", "Book").text("role", "maker").text("letter", "B")
	welcome.uv("store's clock, ms", 1_790_000_061_000).uv("streams", 1)
	welcome.text("stream", vecStream).fix("epoch", vecEpoch[:]).head("down", down[2]).fix("MAC of down", vecMAC(down[2])).head("up", up[2])
	upBatch.fix("type", []byte{typeBatch}).text("stream", vecStream).fix("log (01 = up)", []byte{1}).uv("prev", 0).uv("items", 2)
	upBatch.item("item 1", v[0].Entry).item("item 2", v[1].Entry).fix("hash after the last", up[2].Hash[:])
	downBatch.fix("type", []byte{typeBatch}).text("stream", vecStream).fix("log (02 = down)", []byte{2}).uv("prev", 1).uv("items", 2)
	downBatch.item("item 2", v[1].Append(nil)).item("item 3", v[2].Append(nil)).fix("hash after the last", down[3].Hash[:]).fix("MAC of that head", vecMAC(down[3]))
	ack.fix("type", []byte{typeAck}).text("stream", vecStream).fix("log (01 = up)", []byte{1}).uv("number", 2)
	have.fix("type", []byte{typeHave}).text("stream", vecStream).fix("log (02 = down)", []byte{2}).head("head", down[1])
	beat.fix("type", []byte{typeBeat})
	refuse.fix("type", []byte{typeRefuse}).text("code", CodeEpoch).text("says", "The home store was made anew.").text("hint", "Keep this phone as it is.")
	back.fix("type", []byte{typeBatch}).text("stream", vecStream).fix("log (03 = back)", []byte{3}).uv("prev", 1).uv("items", 1)
	back.item("item 2", v[1].Append(nil)).fix("hash after the last", down[2].Hash[:])
	ask.fix("type", []byte{typeReturn}).text("stream", vecStream).uv("every", StepEvery).uv("checkpoints", 1).fix("hash after 1024", vecCheckpoint())
	renumber.fix("type", []byte{typeRenumber}).text("stream", vecStream).fix("epoch", vecEpoch[:]).uv("keep", 1).head("through", down[3])
	renumber.fix("MAC of through", vecMAC(down[3])).head("up", up[3])
	return []vector{fresh.vector("hello of a new phone"), known.vector("hello with two streams and later fields"), welcome.vector("welcome"),
		upBatch.vector("batch up"), downBatch.vector("batch down"), ack.vector("ack"), have.vector("have"), beat.vector("beat"), refuse.vector("refuse"),
		back.vector("batch back"), ask.vector("return"), renumber.vector("renumber")}
}

func vecFiles() map[string]any {
	entries := layoutFile{About: "The bytes of entries. Every field in order; their bytes put together are the entry."}
	for i, e := range vecEntries() {
		entries.Vectors = append(entries.Vectors, vecEntryLayout(e).vector([]string{"of a new phone", "with what was seen", "unknown kind, empty body"}[i]))
	}
	entries.Refused = []refusedVector{{"empty", ""}, {"another layout", "02" + entries.Vectors[0].Bytes[2:]}, {"number 0", "0100" + entries.Vectors[0].Bytes[4:]},
		{"number 1 in two bytes", "018100" + entries.Vectors[0].Bytes[4:]}, {"cut off in the epoch", entries.Vectors[0].Bytes[:12]},
		{"kind above 32 bits", "0101" + strings.Repeat("00", 8) + "0000" + "8080808010" + "01"}}
	envelopes := layoutFile{About: "The bytes of envelopes. Every field in order; their bytes put together are the envelope."}
	for i, v := range vecEnvelopes() {
		envelopes.Vectors = append(envelopes.Vectors, vecEnvelopeLayout(v).vector([]string{"offset unknown", "clock behind", "held, clock ahead"}[i]))
	}
	first := envelopes.Vectors[0].Bytes
	envelopes.Refused = []refusedVector{{"empty", ""}, {"number 0", "00" + first[2:]}, {"unknown flag", first[:18] + "02" + first[20:]}, {"no entry", first[:34]}}
	messages := layoutFile{About: "The bytes of messages. Every field in order; their bytes put together are the message.", Vectors: vecMessages()}
	messages.Refused = []refusedVector{{"empty", ""}, {"a web page", hex.EncodeToString([]byte("<html>"))}, {"type 0", "00"}, {"reserved for a snapshot", "21"},
		{"beat with a byte too many", "0600"}, {"batch without items", "0308" + hex.EncodeToString([]byte(vecStream)) + "010000" + strings.Repeat("00", 32)},
		{"ack of log 4", "0408" + hex.EncodeToString([]byte(vecStream)) + "0402"}, {"return at every 1000", "1008" + hex.EncodeToString([]byte(vecStream)) + "e80700"},
		{"renumber that keeps more than there is", "1208" + hex.EncodeToString([]byte(vecStream)) + "e0e1e2e3e4e5e6e7" + "05" + "03" + strings.Repeat("00", 32+32) + "00" + strings.Repeat("00", 32)}, {"stream without a name", "04000102"}}
	return map[string]any{"entry.json": entries, "envelope.json": envelopes, "message.json": messages, "hash.json": vecHashes(), "device.json": vecDevices()}
}

type hashStep struct {
	Number uint64 `json:"number"`
	Item   string `json:"item"`
	Hash   string `json:"hash"`
	MAC    string `json:"mac,omitempty"`
}

type hashFile struct {
	About   string     `json:"about"`
	Stream  string     `json:"stream"`
	Device  string     `json:"device"`
	Epoch   string     `json:"epoch"`
	Key     string     `json:"key"`
	Chain   []hashStep `json:"chain"`
	Running []hashStep `json:"running"`
}

func vecHashes() hashFile {
	f := hashFile{About: "Number 0 is the seed. Each later hash is SHA-256 over the hash before it and the item. The MAC is of that head of the running hash.",
		Stream: vecStream, Device: hex.EncodeToString(vecDevice[:]), Epoch: hex.EncodeToString(vecEpoch[:]), Key: hex.EncodeToString(vecKey)}
	up, down := vecHeads()
	v := vecEnvelopes()
	for i := range up {
		c, r := hashStep{Number: up[i].Seq, Hash: hex.EncodeToString(up[i].Hash[:])}, hashStep{Number: down[i].Seq, Hash: hex.EncodeToString(down[i].Hash[:]), MAC: hex.EncodeToString(vecMAC(down[i]))}
		if i > 0 {
			c.Item, r.Item = hex.EncodeToString(v[i-1].Entry), hex.EncodeToString(v[i-1].Append(nil))
		}
		f.Chain, f.Running = append(f.Chain, c), append(f.Running, r)
	}
	return f
}

type deviceFile struct {
	About   string            `json:"about"`
	Devices map[string]string `json:"devices"`
	Refused []string          `json:"refused"`
}

func vecDevices() deviceFile {
	f := deviceFile{About: "Device ids as 8 bytes in hexadecimal and as people see them.", Devices: map[string]string{},
		Refused: []string{"", "0", "G000000000000", "000000000000U", "000000000000-", "00000000000000"}}
	for _, d := range []DeviceID{{}, {7: 1}, vecDevice, {0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF}} {
		f.Devices[hex.EncodeToString(d[:])] = d.String()
	}
	return f
}

// The files are data for strangers, and this package must write them to the byte.
func TestVectorsAreWhatThisPackageWrites(t *testing.T) {
	for name, content := range vecFiles() {
		var b strings.Builder
		enc := json.NewEncoder(&b)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		if err := enc.Encode(content); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join("..", "testdata", "vectors", "sync", name)
		if *update {
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if string(got) != b.String() {
			t.Errorf("%s differs from what this package writes: the wire changed", path)
		}
	}
}
