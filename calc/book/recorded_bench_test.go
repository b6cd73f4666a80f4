package book

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
)

// A book from before pots stood side by side and lots stood in order: what was made stays made, and what was begun goes
// on where it was left.
func TestRecordedBenchesStillShow(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/books/v1/book.json")
	if err != nil {
		t.Fatal(err)
	}
	r := &recorded{}
	if err := json.Unmarshal(raw, r); err != nil {
		t.Fatal(err)
	}
	w := &world{t: t, s: r.fold(t, -1), ctx: Context{Device: device(9), Letter: "D", Now: noon}}
	seen := map[string]bool{}
	for _, row := range view[[]BatchRow](w, "batches", nil) {
		v := view[BenchView](w, "bench", m{"key": row.Key})
		text := pretty(v)
		if strings.Contains(text, ": null") || len(v.Steps) == 0 || len(v.Rows) == 0 {
			t.Errorf("the bench of %s: %s", row.Code, text)
		}
		weighed := false
		for _, s := range v.Steps {
			weighed = weighed || s.What == "weigh" && s.Done
			seen[s.What] = true
		}
		if !weighed {
			t.Errorf("%s forgot what was weighed", row.Code)
		}
		filled := w.s.batches.get(row.Key).filling() != nil
		switch {
		case filled && (v.Now != len(v.Steps) || len(v.Pots) != 0):
			t.Errorf("%s is filled, and its bench goes on at step %d with %d pots", row.Code, v.Now, len(v.Pots))
		case !filled && (v.Now == len(v.Steps) || v.Steps[v.Now].Done):
			t.Errorf("%s is not filled, and its bench is at its end", row.Code)
		}
	}
	if !seen["weigh"] || !seen["fill"] {
		t.Fatalf("the recorded book shows %v", seen)
	}
}
