package calc

import (
	"strings"
	"testing"
)

// Each rule of ISO/IEC 18004 alone, on modules that break no other.
func TestFaultsOfACode(t *testing.T) {
	line := func(s string) []bool {
		out := make([]bool, len(s))
		for i, c := range s {
			out[i] = c == '#'
		}
		return out
	}
	for s, want := range map[string]int{"#.#.#.": 0, "#####.": 3, ".######": 4, "....#.###.#": 40, "#.###.#.#.": 40, "#..#.###.#.#": 0} {
		if got := faultsOfLine(line(s)); got != want {
			t.Errorf("%s: %d faults, want %d", s, got, want)
		}
	}
	if got := faultsOf([][]bool{line("##"), line("##")}); got != 3+100 {
		t.Errorf("a dark block: %d faults, want 3 for the block and 100 for the shade", got)
	}
	if got := faultsOf([][]bool{line("#."), line(".#")}); got != 0 {
		t.Errorf("even: %d faults", got)
	}
}

// No mask may be worse than the one that was taken, and every code has its three corners.
func TestACodeHasItsCornersAndNoNeedlessFault(t *testing.T) {
	for _, payload := range []string{"https://scrub.example/j/7K3QX04M", "7K3QX04M", "12345678", strings.Repeat("a", 500)} {
		m, version, _, err := QR(payload)
		if err != nil || len(m) != 17+4*version {
			t.Fatalf("%q: version %d, %d modules, %v", payload, version, len(m), err)
		}
		for _, at := range [][2]int{{0, 0}, {0, len(m) - 7}, {len(m) - 7, 0}} {
			for i := range 7 {
				if !m[at[0]][at[1]+i] || !m[at[0]+i][at[1]] || m[at[0]+1][at[1]+1] || !m[at[0]+3][at[1]+3] {
					t.Fatalf("%q has no corner at %v", payload, at)
				}
			}
		}
	}
}
