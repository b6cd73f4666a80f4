package backup

import (
	"os"
	"path/filepath"
	"testing"
)

// Two folders of one disk are told, and what cannot be told is not claimed.
func TestSameDisk(t *testing.T) {
	one := t.TempDir()
	other := filepath.Join(one, "beside")
	if err := os.Mkdir(other, 0o700); err != nil {
		t.Fatal(err)
	}
	for to, want := range map[string]bool{other: true, "/proc": false, filepath.Join(one, "nowhere"): false} {
		if got := SameDisk(one, to); got != want {
			t.Errorf("%s: %v", to, got)
		}
	}
}
