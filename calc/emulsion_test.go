package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func TestPublishedEmulsions(t *testing.T) {
	parts := func(text string) string {
		var out []string
		for _, p := range strings.Split(text, ";") {
			if amount, hlb, ok := strings.Cut(p, "@"); ok {
				out = append(out, `{"amount":"`+amount+`","hlb":"`+hlb+`"}`)
			}
		}
		return "[" + strings.Join(out, ",") + "]"
	}
	for _, row := range published(t, "emulsion") {
		var answer struct {
			Blend struct {
				RequiredHLB, HasHLB string
				Split               []struct{ Amount string }
			}
		}
		ask(t, "emulsion", `{"oils":`+parts(row["oils"])+`,"emulsifiers":`+parts(row["emulsifiers"])+`,"total":"`+row["total"]+`"}`, &answer)
		got := answer.Blend
		text := map[string]string{"required": got.RequiredHLB, "has": got.HasHLB}[row["figure"]]
		if len(got.Split) == 2 {
			switch row["figure"] {
			case "first":
				text = got.Split[0].Amount
			case "second":
				text = got.Split[1].Amount
			}
		}
		if text == "" {
			t.Errorf("check %s: no answer", row["check"])
			continue
		}
		near(t, row, decimal.RequireFromString(text))
	}
}

// TestASplitHasTheHLBThatWasWanted: whatever lies between two emulsifiers is reached by their split, and nothing else is offered.
func TestASplitHasTheHLBThatWasWanted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenth := func(name string) decimal.Decimal {
			return decimal.New(rapid.Int64Range(10, 200).Draw(t, name), -1)
		}
		wanted, a, b, total := tenth("wanted"), tenth("a"), tenth("b"), tenth("total")
		first, second, ok := calc.SplitHLB(wanted, a, b, total)
		between := !a.Equal(b) && wanted.Sub(a).Mul(wanted.Sub(b)).Sign() <= 0
		if ok != between {
			t.Fatalf("between %v, offered %v", between, ok)
		}
		if !ok {
			return
		}
		got, _ := calc.HLBOf([]calc.HLBShare{{Amount: first, HLB: a}, {Amount: second, HLB: b}})
		if !first.Add(second).Equal(total) || got.Sub(wanted).Abs().GreaterThan(decimal.New(1, -3)) {
			t.Fatalf("%s + %s of %s has %s, wanted %s", first, second, total, got, wanted)
		}
	})
}
