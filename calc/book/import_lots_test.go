package book

import (
	"strings"
	"testing"
)

// A price of less than one, or one that may be read in two ways, is never taken for another: its row is refused by name, and nothing is kept.
func TestAPriceThatMayMeanTwoThingsIsRefusedByItsRow(t *testing.T) {
	for _, c := range []struct {
		cost string
		want int64 // minor units, 0 for a refusal
	}{{"$0.75", 75}, {"Fr. 75", 7500}, {".75", 0}, {"$.75", 0}, {"Fr.75", 0}} {
		w := newWorld(t)
		drafts, v := w.s.ImportLots(w.ctx, "ingredient;g;cost\nglycerin;500;12.50\nglycerin;900;"+c.cost+"\n")
		if c.want == 0 {
			if v.Ready || len(drafts) != 0 || len(v.Troubles) != 1 || !strings.Contains(pretty(v.Troubles[0]), "line 3, column C, cost") || !strings.Contains(v.Lots[1].Trouble, strings.TrimPrefix(c.cost, "$")) {
				t.Errorf("%q: %s", c.cost, pretty(v))
			}
			continue
		}
		body, err := open(KindLotReceived, 1, drafts[len(drafts)-1].Body)
		if err != nil || !v.Ready || body.(*LotReceived).Cost != c.want {
			t.Errorf("%q: %s %+v", c.cost, pretty(v), body)
		}
	}
}
