package book

import (
	"os"
	"slices"
	"strings"
	"testing"

	"stillroom/calc"
)

// The app offers every place of use that rules and cautions tell apart, and no other.
func TestEveryPlaceOfUseCanBeChosen(t *testing.T) {
	file, err := os.ReadFile("../../pwa/app/words.ts")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(file), "export const sites = [")
	list, _, _ := strings.Cut(rest, "]")
	if got := strings.Split(strings.ReplaceAll(list, "'", ""), ", "); !slices.Equal(got, calc.Sites()) {
		t.Errorf("the app offers %q, the rules know %q", got, calc.Sites())
	}
}

// The key pressed twice on one form brings so many containers once; the next delivery of as many comes in.
func TestContainersOfOnePressComeInOnce(t *testing.T) {
	w := newWorld(t)
	first := ownContainer{Name: "Low jar", Brimful: "150", Count: "48", Intent: "one"}
	key := w.do("container.define", first, "key")
	more := first
	more.Key = key
	for _, intent := range []string{"two", "two", "one", "three"} {
		more.Intent = intent
		w.do("container.define", more, "key")
	}
	rows := view[[]ContainerRow](w, "containers", nil)
	if len(rows) != 1 || !strings.HasPrefix(rows[0].OnHand, "144") {
		t.Fatalf("three deliveries of 48 are %+v", rows)
	}
}
