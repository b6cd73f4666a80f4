package sync

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func readVectors(t *testing.T, name string, into any) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "testdata", "vectors", "sync", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, into); err != nil {
		t.Fatal(err)
	}
}

// reencode gives the bytes that the package writes for what it read.
var reencode = map[string]func([]byte) ([]byte, error){
	"entry.json": func(b []byte) ([]byte, error) {
		e, err := ParseEntry(b)
		return e.Append(nil), err
	},
	"envelope.json": func(b []byte) ([]byte, error) {
		v, err := ParseEnvelope(b)
		return v.Append(nil), err
	},
	"message.json": func(b []byte) ([]byte, error) {
		m, err := ParseMessage(b)
		if err != nil {
			return nil, err
		}
		return m.Append(nil), nil
	},
}

func TestVectorsReadAndWriteBack(t *testing.T) {
	for name, again := range reencode {
		var f layoutFile
		readVectors(t, name, &f)
		if len(f.Vectors) == 0 || len(f.Refused) == 0 {
			t.Fatalf("%s is empty", name)
		}
		for _, v := range f.Vectors {
			var parts []string
			for _, x := range v.Fields {
				parts = append(parts, x.Bytes)
			}
			if strings.Join(parts, "") != v.Bytes {
				t.Errorf("%s, %s: fields do not make up the bytes", name, v.Name)
			}
			got, err := again(unhex(v.Bytes))
			if err != nil || hex.EncodeToString(got) != v.Bytes {
				t.Errorf("%s, %s: %v\ngot  %x\nwant %s", name, v.Name, err, got, v.Bytes)
			}
		}
		for _, v := range f.Refused {
			if _, err := again(unhex(v.Bytes)); err == nil {
				t.Errorf("%s, %s: was taken", name, v.Name)
			}
		}
	}
}

// The entries' fields as values, read from the file.
func TestEntryVectorsMeanTheirFields(t *testing.T) {
	var f layoutFile
	readVectors(t, "entry.json", &f)
	for i, want := range vecEntries() {
		e, err := ParseEntry(unhex(f.Vectors[i].Bytes))
		if err != nil || e.Seq != want.Seq || e.Seen != want.Seen || e.At != want.At || e.Kind != want.Kind || e.V != want.V || string(e.Body) != string(want.Body) {
			t.Errorf("%s: %+v, %v", f.Vectors[i].Name, e, err)
		}
	}
	readVectors(t, "envelope.json", &f)
	for i, want := range vecEnvelopes() {
		v, err := ParseEnvelope(unhex(f.Vectors[i].Bytes))
		if err != nil || v.Seq != want.Seq || v.Device != want.Device || v.Held != want.Held || v.At != want.At || v.Offset != want.Offset || string(v.Entry) != string(want.Entry) {
			t.Errorf("%s: %+v, %v", f.Vectors[i].Name, v, err)
		}
	}
}

// Hashes and MAC, worked out here from PROTOCOL.md's words and not by the package.
func TestHashVectorsFollowTheProtocol(t *testing.T) {
	var f hashFile
	readVectors(t, "hash.json", &f)
	name := append(binary.AppendUvarint(nil, uint64(len(f.Stream))), f.Stream...)
	join := func(parts ...[]byte) (out []byte) {
		for _, p := range parts {
			out = append(out, p...)
		}
		return out
	}
	chain := sha256.Sum256(join([]byte("stillroom chain 1"), name, unhex(f.Device)))
	running := sha256.Sum256(join([]byte("stillroom running 1"), name))
	for i := range f.Chain {
		if i > 0 {
			chain = sha256.Sum256(join(chain[:], unhex(f.Chain[i].Item)))
			running = sha256.Sum256(join(running[:], unhex(f.Running[i].Item)))
		}
		mac := hmac.New(sha256.New, unhex(f.Key))
		mac.Write(join([]byte("stillroom head 1"), unhex(f.Epoch), name, binary.AppendUvarint(nil, f.Running[i].Number), running[:]))
		if got := hex.EncodeToString(chain[:]); got != f.Chain[i].Hash {
			t.Errorf("chain %d: %s", i, got)
		}
		if got := hex.EncodeToString(running[:]); got != f.Running[i].Hash {
			t.Errorf("running %d: %s", i, got)
		}
		if got := hex.EncodeToString(mac.Sum(nil)); got != f.Running[i].MAC {
			t.Errorf("mac %d: %s", i, got)
		}
	}
}

func TestDeviceVectors(t *testing.T) {
	var f deviceFile
	readVectors(t, "device.json", &f)
	for raw, text := range f.Devices {
		d, err := ParseDeviceID(text)
		if err != nil || hex.EncodeToString(d[:]) != raw || d.String() != text {
			t.Errorf("%s: %v, %v", text, d, err)
		}
	}
	for _, text := range f.Refused {
		if d, err := ParseDeviceID(text); err == nil {
			t.Errorf("%q was taken as %v", text, d)
		}
	}
}
