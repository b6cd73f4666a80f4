package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func formulaOf(t *testing.T, lines string) calc.Formula {
	t.Helper()
	var f calc.Formula
	keys, shares := pairs(lines)
	for i, k := range keys {
		f.Lines = append(f.Lines, calc.Line{ID: k, Ingredient: k, Percent: percent(t, shares[i])})
	}
	return f
}

func TestPublishedRuler(t *testing.T) {
	for _, row := range published(t, "phruler") {
		r := calc.PHRulerOf(formulaOf(t, row["lines"]), calc.Given(), pH(t, row["cursor"]), nil)
		figure := func(text string) decimal.Decimal { return decimal.RequireFromString(strings.TrimSuffix(text, " %")) }
		switch row["what"] {
		case "share":
			near(t, row, figure(r.Cursor.Shares[0].Text))
		case "active":
			near(t, row, figure(r.Cursor.Shares[0].Active))
		case "at":
			near(t, row, decimal.NewFromFloat(r.Cursor.At))
		case "overlap":
			near(t, row, decimal.NewFromFloat(r.Overlap.From))
			near(t, row, decimal.NewFromFloat(r.Overlap.To))
		}
	}
}

func TestTheRulerShowsBarsOverlapAndReadings(t *testing.T) {
	for _, c := range []struct {
		name, lines string
		readings    []calc.PHReading
		bars        int
		open        bool
		says        string
		cursor      string
		level       calc.Level
	}{
		{"oil only", "sunflower-oil=100", nil, 0, false, "No line here says", "5.5", ""},
		{"in the window", "water=79.5;sci-powder=20;phenoxyethanol-ehg=0.5", []calc.PHReading{{PH: 560, Method: "meter"}}, 3, true, "keeps from pH 5.0 to 6.5", "5.6", ""},
		{"not measured", "water=79.5;sci-powder=20;phenoxyethanol-ehg=0.5", nil, 3, true, "keeps from pH 5.0 to 6.5", "5.75", calc.Unchecked},
		{"too sour", "water=79.5;sci-powder=20;phenoxyethanol-ehg=0.5", []calc.PHReading{{PH: 560}, {PH: 250, Method: "strip"}}, 3, true, "", "3.0", calc.Care},
	} {
		r := calc.PHRulerOf(formulaOf(t, c.lines), calc.Given(), 0, c.readings)
		level := calc.Level("")
		if len(r.Findings) > 0 {
			level = r.Findings[0].Level
		}
		if len(r.Bars) != c.bars || r.Overlap.Open != c.open || !strings.Contains(r.Overlap.Says, c.says) || r.Cursor.Text != c.cursor || level != c.level {
			t.Errorf("%s: %d bars, %+v, cursor %s, %+v", c.name, len(r.Bars), r.Overlap, r.Cursor.Text, r.Findings)
		}
		if len(r.Notches) != len(c.readings) {
			t.Errorf("%s: every reading is a notch", c.name)
		}
		for i, n := range r.Notches {
			if n.Off != (c.readings[i].PH < 300) || n.Method != c.readings[i].Method {
				t.Errorf("%s: %+v", c.name, n)
			}
		}
		if len(r.Ticks) != 8 || len(r.Stops) != 71 || r.Ticks[7].Text != "10" {
			t.Errorf("%s: ticks %+v, %d stops", c.name, r.Ticks, len(r.Stops))
		}
	}
}

// TestTheRulerNeverTurnsBack: positions and working shares move one way, and what is inside lies between the overlap's ends.
func TestTheRulerNeverTurnsBack(t *testing.T) {
	keys := []string{"sci-powder", "sodium-benzoate", "potassium-sorbate", "phenoxyethanol-ehg", "benzyl-dehydroacetic", "betaine-30"}
	rapid.Check(t, func(t *rapid.T) {
		f := calc.Formula{Lines: []calc.Line{{ID: "w", Ingredient: "water", QS: true}}}
		for _, k := range keys {
			if rapid.Bool().Draw(t, k) {
				f.Lines = append(f.Lines, calc.Line{ID: k, Ingredient: k, Percent: calc.Percent(rapid.Int64Range(1, 100_000).Draw(t, "share"))})
			}
		}
		r := calc.PHRulerOf(f, calc.Given(), rapid.IntRange(0, 1400).Draw(t, "cursor"), nil)
		for _, b := range r.Bars {
			if b.From < 0 || b.To > 1 || b.From > b.To || b.Source == "" || r.Overlap.Open && (b.From > r.Overlap.From || b.To < r.Overlap.To) {
				t.Fatalf("%+v of %+v", b, r.Overlap)
			}
		}
		for i := 1; i < len(r.Stops); i++ {
			p, q := r.Stops[i-1], r.Stops[i]
			if q.At <= p.At || q.Inside && (q.At < r.Overlap.From || q.At > r.Overlap.To) {
				t.Fatalf("%+v then %+v", p, q)
			}
			for j := range q.Shares {
				if q.Shares[j].Part > p.Shares[j].Part {
					t.Fatalf("more works at a higher pH: %+v %+v", p, q)
				}
			}
		}
	})
}
