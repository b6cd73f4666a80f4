package book

import (
	"testing"

	"stillroom/calc"
)

// A lot that went into hundreds of jars shows where all of them are and lists the first; who asks for all gets all.
func TestALotListsItsFirstJarsAndAllWhenAsked(t *testing.T) {
	w := &world{t: t, s: shelfOf(t, 260), ctx: Context{Device: device(1), Role: Owner, Now: noon}}
	first, all := view[LotView](w, "lot", m{"key": "LLLL0001"}), view[LotView](w, "lot", m{"key": "LLLL0001", "all": true})
	if len(first.Jars) != 200 || first.JarsCount != 260 || first.More != "and 60 jars more, not listed here" || len(first.Batches) != 13 {
		t.Errorf("listed %d of %d, %q", len(first.Jars), first.JarsCount, first.More)
	}
	if len(all.Jars) != 260 || all.JarsCount != 260 || all.More != "" || all.Says != first.Says {
		t.Errorf("asked for all: %d of %d, %q", len(all.Jars), all.JarsCount, all.More)
	}
	for i, j := range first.Jars {
		if j != all.Jars[i] {
			t.Fatalf("jar %d is %v and %v", i, j, all.Jars[i])
		}
	}
	n := 0
	for _, p := range first.Places {
		n += p.Count
	}
	if n == 0 || len(first.Places) != len(all.Places) {
		t.Errorf("places: %v and %v", first.Places, all.Places)
	}
}

// Counting a key's jars is naming them without writing the names.
func TestCountJarsIsTheLengthOfTheirNumbers(t *testing.T) {
	for _, key := range []string{"K0000", "7K3QX", "ZZZZZ", "00000", "not a key"} {
		for _, count := range []int{-1, 0, 1, 20, 867, 868, 869, 900, 1024, 5000} {
			for _, from := range []int{0, 1, 500, 1023, 2000} {
				if got, want := calc.CountJars(key, count, from), len(calc.JarNumbers(key, count, from)); got != want {
					t.Errorf("%s, %d from %d: %d, and %d are named", key, count, from, got, want)
				}
			}
		}
	}
}
