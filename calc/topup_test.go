package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

// pouredLines reads "water=114*;stearic=33": a star was in the poured vessel.
func pouredLines(t *testing.T, text string) (out []calc.PouredLine) {
	t.Helper()
	keys, masses := pairs(text)
	for i, k := range keys {
		m, poured := strings.CutSuffix(masses[i], "*")
		out = append(out, calc.PouredLine{ID: k, Mass: grams(t, m), Poured: poured})
	}
	return out
}

func TestPublishedTopUp(t *testing.T) {
	mass := func(text string) calc.Mass {
		if text == "" {
			return 0
		}
		return grams(t, text)
	}
	for _, row := range published(t, "topup") {
		if row["lines"] != "" {
			r, err := calc.ResidueLeft(calc.ResidueAsk{Tare: mass(row["tare"]), After: mass(row["after"]), Step: 100, Lines: pouredLines(t, row["lines"])})
			if err != nil {
				t.Fatalf("check %s: %v", row["check"], err)
			}
			if row["what"] == "residue" {
				near(t, row, r.Share)
			}
			for i, l := range pouredLines(t, row["lines"]) {
				if l.ID == row["line"] {
					near(t, row, decimal.New(int64(r.True[i]), -4))
				}
			}
			continue
		}
		got, err := calc.TopUp(calc.TopUpAsk{Tare: mass(row["tare"]), Before: mass(row["before"]), After: mass(row["after"]), Step: 100, Covered: true})
		if err != nil {
			t.Fatalf("check %s: %v", row["check"], err)
		}
		near(t, row, map[string]decimal.Decimal{"put back": inMg(got.PutBack), "lost": inMg(got.Lost), "lost percent": got.Share}[row["what"]])
	}
}

func TestAVesselThatGrewHeavierTookWaterIn(t *testing.T) {
	for _, c := range []struct {
		after   calc.Mass
		covered bool
		found   bool
		do      string
	}{
		{514_000, true, true, "its cover"},
		{514_000, false, true, "dry its outside"},
		{512_500, true, false, ""},
		{512_400, true, false, ""},
		{503_100, true, false, ""},
	} {
		got, err := calc.TopUp(calc.TopUpAsk{Tare: 212_400, Before: 512_400, After: c.after, Step: 100, Covered: c.covered})
		if err != nil || (len(got.Findings) == 1) != c.found {
			t.Fatalf("%+v: %+v %v", c, got, err)
		}
		if c.found && (got.Findings[0].Level != calc.Care || got.PutBack != 0 || !strings.Contains(got.Findings[0].Do, c.do)) {
			t.Errorf("%+v: %+v", c, got)
		}
	}
}

func TestResidueIsANoteFromOnePerCentAndCareFromThree(t *testing.T) {
	for _, c := range []struct {
		left  calc.Mass
		level calc.Level
	}{{0, ""}, {999, ""}, {1000, calc.Note}, {2999, calc.Note}, {3000, calc.Care}} {
		r, err := calc.ResidueLeft(calc.ResidueAsk{Tare: 50_000, After: 50_000 + c.left, Step: 1, Lines: []calc.PouredLine{{ID: "a", Mass: 100_000, Poured: true}}})
		level := calc.Level("")
		if len(r.Findings) > 0 {
			level = r.Findings[0].Level
		}
		if err != nil || level != c.level {
			t.Errorf("%s g of 100: %q %v", c.left, level, err)
		}
	}
}

// TestResidueTakesOnlyFromWhatWasPoured: the shares sum to 100, nothing poured gains, nothing else loses.
func TestResidueTakesOnlyFromWhatWasPoured(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "lines")
		ask := calc.ResidueAsk{Tare: 100_000, Step: 100}
		var poured, all calc.Mass
		for i := range n {
			l := calc.PouredLine{ID: strconv.Itoa(i), Mass: calc.Mass(rapid.Int64Range(1, 500_000).Draw(t, "mass")), Poured: i == 0 || rapid.Bool().Draw(t, "poured")}
			ask.Lines = append(ask.Lines, l)
			all += l.Mass
			if l.Poured {
				poured += l.Mass
			}
		}
		ask.After = ask.Tare + calc.Mass(rapid.Int64Range(0, int64(poured)-1).Draw(t, "left"))
		r, err := calc.ResidueLeft(ask)
		if err != nil {
			t.Fatal(err)
		}
		var sum calc.Percent
		for i, l := range ask.Lines {
			sum += r.True[i]
			before := calc.Percent(int64(l.Mass) * int64(calc.Hundred) / int64(all))
			if l.Poured && r.True[i] > before+2 || !l.Poured && r.True[i] < before-1 {
				t.Fatalf("%+v: %s from %s", l, r.True[i], before)
			}
		}
		if sum != calc.Hundred {
			t.Fatalf("sum %s", sum)
		}
	})
}
