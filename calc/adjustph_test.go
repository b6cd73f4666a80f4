package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func trial(t *testing.T, text string) (out []calc.TrialPoint) {
	t.Helper()
	added, pHs := pairs(text)
	for i := range added {
		p := calc.TrialPoint{PH: pH(t, pHs[i])}
		if added[i] != "0" {
			p.Added = grams(t, added[i])
		}
		out = append(out, p)
	}
	return out
}

func pH(t *testing.T, text string) int {
	t.Helper()
	v, err := calc.ReadPH(text)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestPublishedAdjustments(t *testing.T) {
	for _, row := range published(t, "adjustph") {
		ask := calc.AdjustAsk{Solution: "acid", Strength: percent(t, row["strength"]), Sample: grams(t, row["sample"]), Batch: grams(t, row["batch"]), Step: grams(t, row["step"]),
			Points: trial(t, row["points"]), Low: pH(t, row["low"]), High: pH(t, row["high"])}
		if row["then"] != "" {
			ask.Then = &trial(t, row["then"])[0]
		}
		got, err := calc.AdjustPH(ask)
		if err != nil {
			t.Errorf("check %s: %v", row["check"], err)
			continue
		}
		near(t, row, map[string]decimal.Decimal{"all": inMg(got.All), "first": inMg(got.First), "rest": inMg(got.Rest), "pure": got.Pure}[row["what"]])
	}
}

func TestATrialIsNeverReadPastItsEnd(t *testing.T) {
	for _, c := range []struct {
		name, points, then string
		low, high, reads   int
		says               string
		level              calc.Level
	}{
		{"not reached", "0=6.4;0.5=5.9;1=5.5", "", 500, 520, 0, "did not reach 5.2", calc.Unchecked},
		{"the wrong way", "0=6.4;0.5=6.9", "", 500, 520, 0, "other way", calc.Unchecked},
		{"there already", "0=5.1;0.5=4.9", "", 500, 520, 0, "add nothing", ""},
		{"reached", "0=6.4;0.5=5.9;1=5", "", 500, 520, 0, "80 %", calc.Note},
		{"a strip", "0=6.5;0.5=6;1=5", "", 520, 560, 50, "80 %", calc.Note},
		{"went past", "0=6.4;0.5=5.9;1=5", "9=4.8", 500, 520, 0, "add no more of this", calc.Care},
		{"done", "0=6.4;0.5=5.9;1=5", "9=5.1", 500, 520, 0, "add no more", calc.Note},
		{"nearly done", "0=6.4;0.5=5.9;1=5", "9=5.11", 510, 510, 0, "less is missing than the scale shows", calc.Note},
		{"outside the trial", "0=6.4;0.5=5.9;1=5", "9=6.9", 500, 520, 0, "new trial", calc.Unchecked},
	} {
		ask := calc.AdjustAsk{Solution: "acid", Strength: calc.Hundred, Sample: 50_000, Batch: 500_000, Step: 100, Points: trial(t, c.points), Low: c.low, High: c.high, Reads: c.reads}
		if c.then != "" {
			ask.Then = &trial(t, c.then)[0]
		}
		got, err := calc.AdjustPH(ask)
		level := calc.Level("")
		if len(got.Findings) > 0 {
			level = got.Findings[0].Level
		}
		if err != nil || !strings.Contains(got.Says, c.says) || level != c.level {
			t.Errorf("%s: %+v %v", c.name, got, err)
		}
		if (c.reads > 20) != (len(got.Findings) > 1 && got.Findings[1].Rule == "adjust-strip") {
			t.Errorf("%s: a coarse strip is said: %+v", c.name, got.Findings)
		}
	}
	for name, points := range map[string]string{"turns back": "0=6.4;0.5=5.9;1=6.1;1.5=5", "one point": "0=6.4", "begins in the middle": "0.5=6;1=5", "not growing": "0=6;1=5.5;1=5"} {
		if _, err := calc.AdjustPH(calc.AdjustAsk{Sample: 50_000, Batch: 500_000, Step: 100, Points: trial(t, points), Low: 500, High: 520}); err == nil || err.Want == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestMoreBatchTakesMoreAndNeverTooMuch: the answer lies between the points around it, grows with the batch, and the first part is less.
func TestMoreBatchTakesMoreAndNeverTooMuch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ask := calc.AdjustAsk{Solution: "acid", Strength: calc.Hundred, Sample: calc.Mass(rapid.Int64Range(10, 200).Draw(t, "sample")) * calc.Gram, Step: rapid.SampledFrom([]calc.Mass{10, 100}).Draw(t, "step")}
		p := calc.TrialPoint{PH: rapid.IntRange(600, 900).Draw(t, "start")}
		for range rapid.IntRange(2, 6).Draw(t, "points") {
			ask.Points = append(ask.Points, p)
			p.Added += calc.Mass(rapid.Int64Range(50, 2000).Draw(t, "more"))
			p.PH -= rapid.IntRange(1, 80).Draw(t, "fall")
		}
		end := ask.Points[len(ask.Points)-1]
		ask.Low = rapid.IntRange(end.PH, ask.Points[0].PH-1).Draw(t, "aim")
		ask.High = ask.Low
		var before calc.Mass
		for batch := ask.Sample; batch <= 8*ask.Sample; batch *= 2 {
			ask.Batch = batch
			got, err := calc.AdjustPH(ask)
			if err != nil {
				t.Fatal(err)
			}
			times := batch / ask.Sample
			if got.All < before || got.All > times*end.Added || got.First > got.All || got.Least > got.All || got.Most < got.All || got.All%ask.Step != 0 {
				t.Fatalf("%+v", got)
			}
			before = got.All
		}
	})
}
