package book

import (
	"strings"
	"testing"
)

// A card that was written at the filling is written anew at the release when the maker learned more in between; one that
// would say the same is not.
func TestAReleasePrintsWhatWasLearnedSinceTheFilling(t *testing.T) {
	for _, c := range []struct {
		name  string
		learn func(w *world)
		want  string
	}{
		{"nothing", func(*world) {}, ""},
		{"another contact", func(w *world) {
			w.do("workshop.name", m{"maker": "Saltmeadow", "address": "", "contact": "new@saltmeadow.example", "region": "EU"}, "")
		}, "new@saltmeadow.example"},
	} {
		w := newWorld(t)
		_, b := w.start()
		w.weighAll(b)
		w.do("batch.fill", m{"batch": b, "jars": "23", "place": "home"}, "")
		before := w.s.cards.get(b).from.ref
		c.learn(w)
		w.do("batch.look", m{"batch": b, "firm": "same"}, "")
		w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
		card := w.s.cards.get(b)
		if c.want == "" && card.from.ref != before {
			t.Errorf("%s learned: the card was written again all the same", c.name)
		}
		if !strings.Contains(card.body.Contact, c.want) {
			t.Errorf("%s learned: the card says %q", c.name, card.body.Contact)
		}
	}
}
