package calc_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

func TestPublishedAlkali(t *testing.T) {
	for _, row := range published(t, "alkali") {
		a, b, c, d, from, ok := calc.AlkaliTaken(row["inci"], decimal.RequireFromString(row["grams"]))
		if !ok || from.Source == "" || from.Mark == "" {
			t.Fatalf("check %s: not known, or without a source", row["check"])
		}
		near(t, row, map[string]decimal.Decimal{"koh low": a, "koh high": b, "naoh low": c, "naoh high": d}[row["what"]])
	}
	if _, _, _, _, _, ok := calc.AlkaliTaken("Mysterium Oil", decimal.New(1, 0)); ok {
		t.Error("a fat without a value was worked out")
	}
}
