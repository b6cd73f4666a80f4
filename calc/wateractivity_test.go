package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func TestPublishedWaterActivities(t *testing.T) {
	for _, row := range published(t, "water-activity") {
		var parts []string
		for _, p := range strings.Split(row["solutes"], ";") {
			inci, amount, _ := strings.Cut(p, "=")
			parts = append(parts, `{"inci":"`+inci+`","amount":"`+amount+`"}`)
		}
		var got struct{ WaterActivity string }
		ask(t, "wateractivity", `{"water":"`+row["water"]+`","solutes":[`+strings.Join(parts, ",")+`]}`, &got)
		near(t, row, decimal.RequireFromString(got.WaterActivity))
	}
}

// TestSugarAndSaltNeverPassAsLowRisk: however much is heaped into the water, the mark stays unmet, also where both are saturated together.
func TestSugarAndSaltNeverPassAsLowRisk(t *testing.T) {
	for _, c := range []struct{ name, lines, met, level string }{
		{"sugar", `{"ingredient":"sucrose","percent":"80"},{"ingredient":"water","qs":true}`, "no", "care"},
		{"salt", `{"ingredient":"salt","percent":"60"},{"ingredient":"water","qs":true}`, "no", "care"},
		{"both", `{"ingredient":"sucrose","percent":"60"},{"ingredient":"salt","percent":"30"},{"ingredient":"water","qs":true}`, "no", "care"},
		{"glycerin 70", `{"ingredient":"glycerin","percent":"70"},{"ingredient":"water","qs":true}`, "yes", "note"},
		{"glycerin 58, within the error", `{"ingredient":"glycerin","percent":"58"},{"ingredient":"water","qs":true}`, "not known", "note"},
		{"water", `{"ingredient":"water","qs":true}`, "no", "note"},
	} {
		var got struct {
			Markers  []struct{ Says, Met string }
			Findings []calc.Finding
		}
		ask(t, "wateractivity", `{"formula":{"lines":[`+c.lines+`]}}`, &got)
		met := ""
		for _, m := range got.Markers {
			if strings.HasPrefix(m.Says, "water activity") {
				met = m.Met
			}
		}
		if met != c.met || string(got.Findings[0].Level) != c.level {
			t.Errorf("%s: met %q, %+v", c.name, met, got.Findings)
		}
	}
}

func TestMoreSoluteNeverRaisesTheWaterActivity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		amounts := map[string]decimal.Decimal{}
		for _, inci := range []string{"Sucrose", "Glycerin", "Sodium Chloride", "Sorbitol"} {
			amounts[inci] = decimal.New(rapid.Int64Range(0, 3000).Draw(t, inci), -1)
		}
		water := decimal.New(100, 0)
		before := calc.WaterActivityOf(water, amounts).AW
		more := rapid.SampledFrom([]string{"Sucrose", "Glycerin", "Sodium Chloride", "Sorbitol"}).Draw(t, "more")
		amounts[more] = amounts[more].Add(decimal.New(rapid.Int64Range(1, 500).Draw(t, "by"), -1))
		after := calc.WaterActivityOf(water, amounts).AW
		if after.GreaterThan(before) || !after.IsPositive() || before.GreaterThan(decimal.New(1, 0)) {
			t.Fatalf("%s after %s of %s", after, before, more)
		}
	})
}
