package sync

import (
	"encoding/hex"
	"os"
	"strings"
	"testing"
)

// The sum beside a row is that of PROTOCOL.md's example, and a single bit changes it.
func TestRowSum(t *testing.T) {
	entry, err := hex.DecodeString("010100000000000000000080d8c1a28c34080162616c6d")
	if err != nil {
		t.Fatal(err)
	}
	sum := RowSum(entry)
	text, err := os.ReadFile("PROTOCOL.md")
	if err != nil || !strings.Contains(string(text), "`"+sum+"` for that of section 3") {
		t.Errorf("%s is not in PROTOCOL.md (%v)", sum, err)
	}
	for i := range entry {
		entry[i] ^= 1
		if RowSum(entry) == sum {
			t.Errorf("byte %d changes nothing", i)
		}
		entry[i] ^= 1
	}
}
