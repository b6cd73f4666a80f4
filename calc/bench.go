package calc

import (
	"github.com/shopspring/decimal"

	"stillroom/calc/matter"
)

// ShowOunces writes a mass in ounces avoirdupois (exactly 28.349523125 g, NIST HB 44 App. C, from memory), rounded to 0.01 oz, from 100 oz to 0.1.
func ShowOunces(m Mass) string {
	oz := decimal.New(int64(m), -3).DivRound(unitOZ.factor, quotientPlaces)
	if !oz.LessThan(decimal.New(100, 0)) {
		return matter.Decimals(oz.Shift(1).Round(0).IntPart(), 1, 1) + " oz"
	}
	return matter.Decimals(oz.Shift(2).Round(0).IntPart(), 2, 2) + " oz"
}

// overScale (M14) says which lines weigh more than the scale carries at once.
func overScale(f *Formula, b Bench, grams []Mass) []Finding {
	var out []Finding
	for i, m := range grams {
		if b.ScaleHolds > 0 && m > b.ScaleHolds {
			holds := b.ScaleHolds.On(Gram) + " g" + b.Beside(b.ScaleHolds)
			out = append(out, Finding{Rule: "scale", Level: Note, Subject: f.Lines[i].ID, Phase: f.Lines[i].Phase, Says: "your scale carries " + holds + " at once: weigh this line in parts",
				Figure: m.On(Gram/10) + " g" + b.Beside(m), Limit: holds, Source: "this book's own rule (M14)", Do: "weigh in parts, and count the vessel in"})
		}
	}
	return out
}
