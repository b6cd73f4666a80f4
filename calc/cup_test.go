package calc_test

import (
	"testing"

	"stillroom/calc"
)

func TestCupDensity(t *testing.T) {
	for _, c := range []struct {
		full, empty calc.Mass
		microL      int64
		want        int64
		field       string
	}{
		{58600, 21400, 60000, 620, ""},
		{81400, 21400, 60000, 1000, ""},
		{21401, 21400, 1, 1000, ""},
		{21400, 21400, 60000, 0, "full"},
		{21400, 58600, 60000, 0, "full"},
		{58600, 21400, 0, 0, "volume"},
		{58600, 21400, 6, 0, "full"},
		{21401, 21400, 60000, 0, "full"},
	} {
		got, e := calc.CupDensity(c.full, c.empty, c.microL)
		if got != c.want || (e == nil) != (c.field == "") || e != nil && (e.Field != c.field || e.Want == "") {
			t.Errorf("full %d, empty %d in %d µL: %d, %v; want %d, %q", c.full, c.empty, c.microL, got, e, c.want, c.field)
		}
	}
}
