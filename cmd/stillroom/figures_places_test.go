package main

import (
	"testing"

	"stillroom/calc/book"
)

// standing is how many jars of a batch are at a place.
type standing struct{ batch, place string }

// jarsByPlace walks the shelf in the order in which it was written: one device wrote it all, so a count simply replaces.
// lost is what counts did not find, by batch.
func jarsByPlace(t *testing.T, lines []said) (at map[standing]int64, lost map[string]int64) {
	t.Helper()
	at, lost = map[standing]int64{}, map[string]int64{}
	struck := map[string]bool{}
	for _, l := range lines {
		if l.Kind == "shelf.corrected" {
			struck[l.Body.Of] = true // the demo only undoes, and what is undone counts as nothing
			if l.Body.Body.Count != 0 {
				t.Errorf("%s corrects a row to something else, which this test does not work out", l.ref())
			}
		}
	}
	for _, l := range lines {
		b := l.Body
		if struck[l.ref()] && l.Stream == book.Shelf {
			continue
		}
		switch l.Kind {
		case "jars.minted":
			for _, k := range b.Keys {
				at[standing{b.Batch, b.Place}] += k.Count
			}
		case "jar.moved":
			at[standing{b.Batch, b.From}] -= b.Count
			at[standing{b.Batch, b.To}] += b.Count
		case "sold":
			if b.Batch == "" {
				t.Errorf("%s names no batch, and in the demo every sale can be told", l.ref())
			}
			to := "sold"
			if b.Given {
				to = "given"
			}
			at[standing{b.Batch, b.Place}] -= b.Count
			at[standing{b.Batch, to}] += b.Count
		case "jar.counted":
			lost[b.Batch] += at[standing{b.Batch, b.Place}] - b.Count
			at[standing{b.Batch, b.Place}] = b.Count
		}
	}
	return at, lost
}

func TestPlacesOfTheDemoWorkedOutAgain(t *testing.T) {
	lines, state := exported(t)
	at, lost := jarsByPlace(t, lines)
	view := looked[book.PlacesView](t, state, "places", struct{}{})
	places := map[string]int64{}
	for _, row := range view.Standings {
		k := standing{row.Batch, row.Place}
		if at[k] != int64(row.Count) || row.Count <= 0 {
			t.Errorf("%s, %s: %d at %s, worked out %d", row.Code, row.Product, row.Count, row.PlaceName, at[k])
		}
		places[row.Place] += int64(row.Count)
		delete(at, k)
	}
	for k, n := range at {
		if n != 0 {
			t.Errorf("%d jars of %s at %s stand on no screen", n, k.batch, k.place)
		}
	}
	all := int64(0)
	for _, p := range view.Places {
		if int64(p.Jars) != places[p.Key] {
			t.Errorf("%s: %d jars, and its rows sum to %d", p.Name, p.Jars, places[p.Key])
		}
		all += int64(p.Jars)
	}
	minted := int64(0)
	for _, l := range lines {
		if l.Kind == "jars.minted" {
			for _, k := range l.Body.Keys {
				minted += k.Count
			}
		}
	}
	missing := int64(0)
	for _, n := range lost {
		missing += n
	}
	if all+missing != minted || len(places) < 6 || missing == 0 {
		t.Errorf("%d jars at %d places and %d not accounted for, of %d", all, len(places), missing, minted)
	}
}
