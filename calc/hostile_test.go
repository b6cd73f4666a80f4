package calc_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"stillroom/calc"
)

// Requests that are well formed and mean harm: they must be answered or refused, and never cost more than their length deserves.
func TestHostileRequestsEnd(t *testing.T) {
	chain := func(n, fan int, share string) string {
		var b strings.Builder
		b.WriteString(`{"formula":{"lines":[{"base":"b0","percent":"100"}]},"bases":[`)
		for i := range n {
			fmt.Fprintf(&b, `{"key":"b%d","lines":[`, i)
			for range fan {
				if i == n-1 {
					fmt.Fprintf(&b, `{"ingredient":"betaine-30","percent":"%s"},`, share)
				} else {
					fmt.Fprintf(&b, `{"base":"b%d","percent":"%s"},`, i+1, share)
				}
			}
			b.WriteString(`{"ingredient":"water","qs":true}]},`)
		}
		return strings.TrimSuffix(b.String(), ",") + `]}`
	}
	times := func(n int, row string) string {
		rows := make([]string, n)
		for i := range rows {
			rows[i] = fmt.Sprintf(row, i)
		}
		return strings.Join(rows, ",")
	}
	many := strings.TrimSuffix(strings.Repeat(`{"id":"a","percent":"0.0001"},`, 10_000), ",")
	for _, c := range []struct {
		name, computation, request string
		refused                    bool
	}{
		{"each base twice, forty deep: 2^40 paths", "takeapart", chain(40, 2, "49.9999"), false},
		{"as deep as is taken", "takeapart", chain(199, 1, "99.9999"), false},
		{"deeper", "takeapart", chain(400, 1, "99.9999"), true},
		{"ten thousand lines", "scale", `{"batch":"1000000","step":"0.001","lines":[` + many + `,{"id":"q","qs":true}]}`, false},
		{"scales a million apart", "scale", `{"batch":"1000000","step":"0.001","lines":[{"percent":"50","step":"1000"},{"percent":"50"}]}`, false},
		{"long figure", "total", `{"lines":[{"name":"a","percent":"` + strings.Repeat("9", 100_000) + `"}]}`, true},
		{"deep brackets", "total", strings.Repeat("[", 100_000), true},
		{"deep unknown", "trace", `{"lots":` + strings.Repeat(`[{"key":`, 50_000), true},
		{"too long", "total", strings.Repeat(" ", 2<<20), true},
		{"a pot read without end", "cool", `{"limit":"40","readings":[` + times(5000, `{"minutes":"%d","temperature":"70"}`) + `]}`, true},
		{"a rescue of many lines, all over", "rescue", `{"batch":"1000","formula":{"phases":[{"letter":"A","treatment":{"do":"heat"}}],"lines":[` + times(2000, `{"id":"%d","phase":"A","ingredient":"sci-powder","percent":"0.05"}`) + `]},"went":[` + times(2000, `{"line":"%d","grams":"9"}`) + `]}`, false},
		{"a lot bought without end", "cost", `{"jarsMade":"1","items":[{"name":"a","moves":[` + times(5000, `{"in":"1%d","paid":"7"}`) + `]}]}`, true},
		{"ring of batches", "trace", `{"batches":[{"key":"a","parent":"b","lots":["l"]},{"key":"b","parent":"a"}],"lots":[{"key":"l","fromBatch":"a"}],"lot":"l"}`, false},
	} {
		out, err := calc.Do(c.computation, []byte(c.request))
		var f *calc.FieldError
		if (err != nil) != c.refused || err != nil && !errors.As(err, &f) {
			t.Errorf("%s: %d bytes, %.200v", c.name, len(out), err)
		}
		if f != nil && (len(f.Says) > 400 || len(f.Field) > 400) {
			t.Errorf("%s: the error is %d bytes long", c.name, len(f.Error()))
		}
	}
}
