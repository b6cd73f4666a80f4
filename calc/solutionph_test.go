package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func dissolved(t *testing.T, text string) (out []calc.Dissolved) {
	t.Helper()
	names, amounts := pairs(text)
	for i, n := range names {
		molar, err := calc.MolesPerLitre(n, amounts[i])
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, calc.Dissolved{What: n, Molar: molar})
	}
	return out
}

func TestPublishedSolutions(t *testing.T) {
	for _, row := range published(t, "solutionph") {
		got, err := calc.PHOfSolution(dissolved(t, row["parts"]), row["ideal"] == "yes")
		if err != nil {
			t.Errorf("check %s: %v", row["check"], err)
			continue
		}
		near(t, row, got.PH)
		if len(got.Findings) == 0 || !strings.Contains(got.Says+got.Findings[0].Says, "estimate") {
			t.Errorf("check %s does not say that it is an estimate", row["check"])
		}
	}
}

func TestWhatTheTableDoesNotKnowIsMeasured(t *testing.T) {
	for _, c := range []struct{ name, request, field, says string }{
		{"surfactant", `{"parts":[{"what":"sodium cocoyl isethionate","amount":"20 %"}]}`, "parts[0].what", "cannot be worked out"},
		{"no unit", `{"parts":[{"what":"citric acid","amount":"0.5"}]}`, "parts[0].amount", "of what"},
		{"below nothing", `{"parts":[{"what":"citric acid","amount":"-0.5 %"}]}`, "parts[0].amount", "below nothing"},
		{"too much", `{"parts":[{"what":"citric acid","amount":"6 M"}]}`, "parts[0].amount", "simple solution"},
	} {
		_, err := calc.Do("solutionph", []byte(c.request))
		f, ok := err.(*calc.FieldError)
		if !ok || f.Field != c.field || !strings.Contains(f.Says, c.says) || f.Want == "" {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	got, err := calc.PHOfSolution(dissolved(t, "sodium chloride=1 M"), false)
	if err != nil || len(got.Findings) != 2 || got.Findings[1].Level != calc.Care || got.PH.Sub(decimal.New(7, 0)).Abs().GreaterThan(decimal.New(3, -1)) {
		t.Errorf("too strong: %+v %v", got, err)
	}
	if got, err = calc.PHOfSolution(nil, true); err != nil || !got.PH.Equal(decimal.New(7, 0)) {
		t.Errorf("pure water: %+v %v", got, err)
	}
}

// TestMoreAcidIsNeverLessSour: order does not matter, more acid never raises the pH, more base never lowers it.
func TestMoreAcidIsNeverLessSour(t *testing.T) {
	acids := []string{"citric acid", "lactic acid", "acetic acid", "hydrochloric acid", "phosphoric acid"}
	salts := []string{"sodium benzoate", "potassium sorbate", "trisodium citrate", "disodium hydrogen phosphate", "sodium bicarbonate"}
	rapid.Check(t, func(t *rapid.T) {
		molar := func() decimal.Decimal { return decimal.New(rapid.Int64Range(1, 500).Draw(t, "mmol"), -4) }
		base := []calc.Dissolved{{What: rapid.SampledFrom(salts).Draw(t, "salt"), Molar: molar()}, {What: rapid.SampledFrom(acids).Draw(t, "acid"), Molar: molar()}}
		at := func(parts ...calc.Dissolved) decimal.Decimal {
			got, err := calc.PHOfSolution(parts, true)
			if err != nil {
				t.Fatal(err)
			}
			return got.PH
		}
		before := at(base...)
		if !before.Equal(at(base[1], base[0])) {
			t.Fatal("the order matters")
		}
		more := molar()
		if at(append(base, calc.Dissolved{What: rapid.SampledFrom(acids).Draw(t, "more"), Molar: more})...).GreaterThan(before) {
			t.Fatal("more acid raises the pH")
		}
		if at(append(base, calc.Dissolved{What: "sodium hydroxide", Molar: more})...).LessThan(before) {
			t.Fatal("more base lowers the pH")
		}
	})
}
