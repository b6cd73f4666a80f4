package witness

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"stillroom/server/store"
	"stillroom/server/store/durable"
	"stillroom/sync"
)

func marks(seq uint64) Marks {
	return Marks{Epoch: sync.Epoch{7}, Heads: map[string]store.Head{"workshop": {Seq: seq, Hash: sync.Hash{byte(seq)}}, "shelf": {Seq: 1}}}
}

func mustMake(t *testing.T) (string, *File) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "witness")
	w, err := Make(path, nil, marks(1))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.Close() })
	return path, w
}

func says(t *testing.T, path string) uint64 {
	t.Helper()
	m, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	seq := m.Heads["workshop"].Seq
	if want := marks(seq); m.Epoch != want.Epoch || m.Heads["workshop"] != want.Heads["workshop"] || m.Heads["shelf"] != want.Heads["shelf"] {
		t.Fatalf("says %+v", m)
	}
	return seq
}

func TestTheNewestIsRead(t *testing.T) {
	path, w := mustMake(t)
	for seq := uint64(2); seq < 7; seq++ {
		if err := w.Write(marks(seq)); err != nil {
			t.Fatal(err)
		}
		if got := says(t, path); got != seq {
			t.Errorf("says %d, want %d", got, seq)
		}
	}
	again, err := Open(path, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if err := again.Write(marks(9)); err != nil || says(t, path) != 9 {
		t.Errorf("after opening again it says %d: %v", says(t, path), err)
	}
}

// F19: whatever happens to the place that was written last, the one before it stands; with both gone it is named.
func TestAnAlteredPlaceLeavesTheOther(t *testing.T) {
	path, w := mustMake(t)
	for seq := uint64(2); seq < 5; seq++ { // the newest stands in the second place
		if err := w.Write(marks(seq)); err != nil {
			t.Fatal(err)
		}
	}
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	flip := func(at int) []byte {
		data := append([]byte(nil), good...)
		data[at] ^= 4
		return data
	}
	tests := []struct {
		name string
		data []byte
		want uint64
	}{
		{"a bit of the newest", flip(place + 30), 3},
		{"a bit of its hash", flip(place + len(`{"count":4,`) + 250), 3},
		{"a bit of the older", flip(9), 4},
		{"the newest cut off", good[:place+20], 3},
		{"everything but the start of the older cut off", good[:11], 0},
		{"nothing left", nil, 0},
	}
	for _, test := range tests {
		if err := os.WriteFile(path, test.data, 0o600); err != nil {
			t.Fatal(err)
		}
		m, err := Read(path)
		var bad *Bad
		if test.want == 0 && !errors.As(err, &bad) || test.want > 0 && (err != nil || m.Heads["workshop"].Seq != test.want) {
			t.Errorf("%s: says %+v, %v; want %d", test.name, m.Heads["workshop"], err, test.want)
		}
	}
}

// F17: a write that fails at any step leaves what was said before it or what it says, whole.
func TestFailedWriteLeavesTheOneBefore(t *testing.T) {
	broken := errors.New("the disk says no")
	for n := 1; ; n++ {
		path, w := mustMake(t)
		left, failed := n, false
		w.disk = &durable.Disk{Step: func(string, string) error {
			if left--; left == 0 {
				failed = true
				return broken
			}
			return nil
		}}
		written := uint64(1)
		for seq := uint64(2); seq < 5; seq++ {
			if w.Write(marks(seq)) != nil {
				break
			}
			written = seq
		}
		if got := says(t, path); got != written && (!failed || got != written+1) {
			t.Errorf("step %d: says %d, and %d was the last to be said to be on disk", n, got, written)
		}
		if !failed {
			if n != 7 {
				t.Errorf("a run needed %d steps, want 6", n-1)
			}
			return
		}
	}
}
