package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func TestPublishedAims(t *testing.T) {
	for _, row := range published(t, "aim") {
		var targets, fixed []string
		for _, text := range strings.Split(row["targets"], ";") {
			what, bound, side := "", "", "high"
			if a, b, ok := strings.Cut(text, "<="); ok {
				what, bound = a, b
			} else {
				what, bound, _ = strings.Cut(text, ">=")
				side = "low"
			}
			what, line, _ := strings.Cut(what, ":")
			targets = append(targets, `{"what":"`+what+`","line":"`+line+`","`+side+`":"`+bound+`"}`)
		}
		for _, id := range strings.Split(row["fixed"], ";") {
			if id != "" {
				fixed = append(fixed, strconv.Quote(id))
			}
		}
		var got struct {
			Targets []struct {
				Met      bool
				MissedBy string
			}
			Lines []struct{ Line, AfterPercent string }
		}
		ask(t, "aim", `{"formula":{"lines":[`+swapLines(row["lines"])+`]},"targets":[`+strings.Join(targets, ",")+`],"fixed":[`+strings.Join(fixed, ",")+`]}`, &got)
		text := ""
		for _, l := range got.Lines {
			if l.Line == row["figure"] {
				text = l.AfterPercent
			}
		}
		if row["figure"] == "missed" {
			text = got.Targets[len(got.Targets)-1].MissedBy
		}
		if text == "" {
			t.Errorf("check %s: no answer", row["check"])
			continue
		}
		near(t, row, decimal.RequireFromString(text))
	}
}

// TestAnAimKeepsItsWord: whatever is aimed at, the jar stays full, no line falls below nothing, fixed lines stay, the shelf is not passed, and a target that
// is called met is met by the exact figures.
func TestAnAimKeepsItsWord(t *testing.T) {
	k := calc.Given()
	keys := []string{"water", "betaine-30", "decyl-glucoside", "glycerin", "sunflower-oil"}
	rapid.Check(t, func(t *rapid.T) {
		f := calc.Formula{}
		left := 100
		for i, key := range keys[1:] {
			p := rapid.IntRange(0, left/2).Draw(t, key)
			left -= p
			f.Lines = append(f.Lines, calc.Line{ID: strconv.Itoa(i), Ingredient: key, Percent: calc.Percent(p) * calc.OnePercent})
		}
		f.Lines = append(f.Lines, calc.Line{ID: "w", Ingredient: "water", QS: true})
		var targets []calc.Target
		for range rapid.IntRange(1, 4).Draw(t, "targets") {
			d := decimal.New(rapid.Int64Range(0, 60).Draw(t, "bound"), 0)
			tg := calc.Target{What: rapid.SampledFrom([]string{"active matter", "water", "oil"}).Draw(t, "what"), Low: &d}
			if rapid.Bool().Draw(t, "high") {
				tg.Low, tg.High = nil, &d
			}
			targets = append(targets, tg)
		}
		shelf := map[string]calc.Percent{"1": calc.Percent(rapid.IntRange(10, 60).Draw(t, "shelf")) * calc.OnePercent}
		a, err := calc.Aim(f, k, targets, map[string]bool{"2": true}, nil, shelf)
		if err != nil {
			t.Fatal(err)
		}
		var sum calc.Percent
		for i, l := range a.After.Lines {
			sum += l.Percent
			switch {
			case l.Percent < 0,
				l.ID == "2" && l.Percent != a.Before.Lines[i].Percent,
				l.ID == "1" && l.Percent > shelf["1"]+10:
				t.Fatalf("line %s stands at %s", l.ID, l.Percent)
			}
		}
		if sum != calc.Hundred {
			t.Fatalf("the jar holds %s", sum)
		}
		for i, r := range a.Targets {
			met := (r.Low == nil || !r.Low.Sub(r.After).GreaterThan(decimal.New(1, -2))) && (r.High == nil || !r.After.Sub(*r.High).GreaterThan(decimal.New(1, -2)))
			if met == r.ShortBy.IsPositive() || i == 0 && r.ShortBy.IsPositive() && r.What == "oil" && r.High != nil {
				t.Fatalf("target %d: %+v", i, r)
			}
		}
	})
}

func TestWhichTargetFailsIsSaid(t *testing.T) {
	var got struct {
		Met      bool
		Findings []calc.Finding
	}
	ask(t, "aim", `{"formula":{"lines":[{"ingredient":"water","percent":"70"},{"ingredient":"betaine-30","percent":"30"}]},"targets":[{"what":"line","line":"2","high":"35"},{"what":"active matter","low":"12"}]}`, &got)
	f := got.Findings[0]
	if got.Met || f.Rule != "aim" || f.Level != calc.Care || !strings.Contains(f.Says, "active matter at least 12") || !strings.Contains(f.Says, "beside cocamidopropyl betaine solution 30 % at most 35") || !strings.Contains(f.Figure, "missed by 1.5") {
		t.Errorf("%+v", got)
	}
}

func TestAnAimThatCannotBeSaysWhy(t *testing.T) {
	for _, c := range []struct{ rest, field, says string }{
		{`"targets":[]`, "targets", "nothing to aim at"},
		{`"targets":[{"what":"water","low":"50"}],"fixed":["1","2"]`, "fixed", "nothing can change"},
		{`"targets":[{"what":"water"}]`, "targets[0].low", "no figure"},
		{`"targets":[{"what":"water","low":"5","high":"4"}]`, "targets[0].low", "upside down"},
		{`"targets":[{"what":"feel","low":"5"}]`, "targets[0].what", "feel"},
		{`"targets":[{"what":"cost","high":"5"}]`, "targets[0].what", "cost of water, distilled is missing"},
		{`"targets":[{"what":"hlb","high":"5"}]`, "targets[0].what", "no line is an emulsifier"},
		{`"targets":[{"what":"line","line":"9","high":"5"}]`, "targets[0].line", "no line"},
		{`"targets":[{"what":"water","low":"5"}],"shelf":[{"line":"1","percent":"10"},{"line":"2","percent":"10"}]`, "fixed", "no full jar"},
	} {
		_, err := calc.Do("aim", []byte(`{"formula":{"lines":[`+swapLines("water=qs;glycerin=5")+`]},`+c.rest+`}`))
		f, ok := err.(*calc.FieldError)
		if !ok || f.Field != c.field || !strings.Contains(f.Says, c.says) || f.Want == "" {
			t.Errorf("%s: %v", c.rest, err)
		}
	}
}
