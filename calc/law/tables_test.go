package law

import (
	"regexp"
	"testing"
)

// What a table says of itself must be true of its rows, or nobody could judge how far to lean on it.
func TestEveryTableTellsItsDayAndHowItsRowsWereComeBy(t *testing.T) {
	lengths := map[string]int{"limits": len(Limits), "exclusions": len(Exclusions), "colours": len(Colours), "allergens": len(Allergens)}
	for _, x := range Tables() {
		if !regexp.MustCompile(`^20\d\d-\d\d-\d\d$`).MatchString(x.AsOf) || x.AsOf != TableDate(x.Key) {
			t.Errorf("%s: as of %q", x.Key, x.AsOf)
		}
		if x.Rows != lengths[x.Key] || x.Rows == 0 || x.Read+x.Second+x.Memory != x.Rows {
			t.Errorf("%s: %d rows, of which %d read, %d second hand, %d from memory; the table has %d", x.Key, x.Rows, x.Read, x.Second, x.Memory, lengths[x.Key])
		}
		if x.Name == "" || x.Covers == "" || x.Instrument == "" || len(x.Not) == 0 || len(x.Regions) == 0 {
			t.Errorf("%s says too little: %+v", x.Key, x)
		}
	}
	if TableDate("moon") != "" {
		t.Error("a table that is not there has a day")
	}
}
