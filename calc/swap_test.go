package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func swapLines(text string) string {
	var out []string
	for _, p := range strings.Split(text, ";") {
		key, share, _ := strings.Cut(p, "=")
		if share == "qs" {
			out = append(out, `{"ingredient":"`+key+`","qs":true}`)
		} else {
			out = append(out, `{"ingredient":"`+key+`","percent":"`+share+`"}`)
		}
	}
	return strings.Join(out, ",")
}

func TestPublishedSwaps(t *testing.T) {
	for _, row := range published(t, "swap") {
		var got struct {
			Lines                 []struct{ Line, AfterPercent string }
			HeldBefore, HeldAfter string
		}
		ask(t, "swap", `{"formula":{"lines":[`+swapLines(row["lines"])+`]},"line":"`+row["line"]+`","by":"`+row["by"]+`","hold":"`+row["hold"]+`"}`, &got)
		for _, l := range got.Lines {
			if l.Line == row["line"] {
				near(t, row, decimal.RequireFromString(l.AfterPercent))
			}
		}
	}
}

func TestWhatASwapHoldsIsEqualAndTheJarStaysFull(t *testing.T) {
	k := calc.Given()
	keys := []string{"betaine-30", "decyl-glucoside", "sarcosinate-30", "sci-powder", "olefin-sulfonate-40"}
	rapid.Check(t, func(t *rapid.T) {
		f := calc.Formula{Lines: []calc.Line{
			{ID: "w", Ingredient: "water", QS: true},
			{ID: "s", Ingredient: rapid.SampledFrom(keys).Draw(t, "from"), Percent: calc.Percent(rapid.IntRange(1, 300_000).Draw(t, "share"))},
			{ID: "g", Ingredient: "glycerin", Percent: 5 * calc.OnePercent},
		}}
		s, err := calc.Swap(f, k, "s", rapid.SampledFrom(keys).Draw(t, "into"), "active matter")
		if err != nil {
			return // no room, which is said
		}
		if s.HeldBefore.Sub(s.HeldAfter).Abs().GreaterThan(decimal.New(1, -4)) {
			t.Fatalf("%s before, %s after", s.HeldBefore, s.HeldAfter)
		}
		var sum calc.Percent
		for _, l := range s.After.Lines {
			sum += l.Percent
		}
		if sum != calc.Hundred {
			t.Fatalf("the jar holds %s %%", sum)
		}
	})
}

func TestASwapThatCannotBeSaysWhy(t *testing.T) {
	for i, c := range []struct{ lines, line, by, hold, field, says string }{
		{"water=qs;glycerin=5", "9", "glycerin", "mass", "line", "no line"},
		{"water=qs;glycerin=5", "1", "glycerin", "mass", "line", "q.s."},
		{"water=qs;glycerin=5", "2", "moondust", "mass", "by", "moondust"},
		{"water=qs;glycerin=5", "2", "sunflower-oil", "active matter", "hold", "holds no active matter"},
		{"sunflower-oil=50;sci-powder=50", "2", "betaine-30", "active matter", "by", "more than a full jar"},
		{"sunflower-oil=90;sci-powder=10", "2", "betaine-30", "active matter", "formula.lines", "takes the difference"},
		{"water=5;sunflower-oil=85;sci-powder=10", "3", "betaine-30", "active matter", "by", "more room"},
	} {
		_, err := calc.Do("swap", []byte(`{"formula":{"lines":[`+swapLines(c.lines)+`]},"line":"`+c.line+`","by":"`+c.by+`","hold":"`+c.hold+`"}`))
		f, ok := err.(*calc.FieldError)
		if !ok || f.Field != c.field || !strings.Contains(f.Says, c.says) || f.Want == "" {
			t.Errorf("case %s: %v", strconv.Itoa(i), err)
		}
	}
}
