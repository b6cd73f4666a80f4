package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

func TestPublishedYield(t *testing.T) {
	number := func(text string) decimal.Decimal {
		if text == "" {
			return decimal.Decimal{}
		}
		return decimal.RequireFromString(text)
	}
	for _, row := range published(t, "yield") {
		a, b := number(row["a"]), number(row["b"])
		switch row["what"] {
		case "overrun by volume":
			near(t, row, calc.OverrunByVolume(a, b))
		case "overrun by weight":
			near(t, row, calc.OverrunByWeight(a, b))
		case "holds":
			near(t, row, decimal.New(int64(calc.Fits(calc.Gram, a.IntPart(), calc.Container{BrimMicroL: b.IntPart() * 1000}).Holds), -3))
		case "needs":
			near(t, row, decimal.New(calc.Fits(calc.Mass(b.IntPart())*calc.Gram, a.IntPart(), calc.Container{BrimMicroL: 1}).NeedsMicroL, -3))
		case "density at overrun":
			near(t, row, decimal.New(calc.DensityAt(a.IntPart(), b), 0))
		default:
			t.Errorf("there is no computation %q", row["what"])
		}
	}
}

func TestAFillFitsItsJarOrSaysSo(t *testing.T) {
	for _, c := range []struct {
		name            string
		fill            calc.Mass
		density, brimML int64
		level           calc.Level
		says, do        string
	}{
		{"over the rim", 110 * calc.Gram, 860, 120, calc.Stop, "110 g at 0.86 g/mL needs 127.9 mL; this jar holds 120 mL, 103 g.", "98 g"},
		{"at the rim", 103_200, 860, 120, calc.Care, "needs 120 mL", "nearly at the rim"},
		{"just above 0.95", 98_041, 860, 120, calc.Care, "", "98 g"},
		{"at 0.95", 98_040, 860, 120, "", "needs 114 mL", ""},
		{"density not known", 110 * calc.Gram, 0, 120, calc.Unchecked, "not checked: whether it fits; the density is missing", ""},
		{"jar not known", 110 * calc.Gram, 860, 0, calc.Unchecked, "brimful volume is missing", ""},
	} {
		fit := calc.Fits(c.fill, c.density, calc.Container{BrimMicroL: c.brimML * 1000})
		level, do := calc.Level(""), ""
		if len(fit.Findings) > 0 {
			level, do = fit.Findings[0].Level, fit.Findings[0].Do
			if fit.Findings[0].Source == "" {
				t.Errorf("%s: no source", c.name)
			}
		}
		if level != c.level || !strings.Contains(fit.Says, c.says) || !strings.Contains(do, c.do) {
			t.Errorf("%s: %q, %q, %q", c.name, level, fit.Says, do)
		}
	}
}

func TestTheNextBatchIsForecastByTheMedian(t *testing.T) {
	made := func(filled ...int) (out []calc.BatchMade) {
		for i, f := range filled {
			out = append(out, calc.BatchMade{Code: strconv.Itoa(i), Made: 1000 * calc.Gram, Filled: calc.Mass(f) * calc.Gram})
		}
		return out
	}
	for _, c := range []struct {
		name    string
		earlier []calc.BatchMade
		says    string
	}{
		{"none", nil, "loss not known, density not known"},
		{"one", made(960), "loss 4 % (median of 1), density not known"},
		{"three", made(960, 900, 970), "loss 4 % (median of 3), density not known"},
		{"even", made(960, 950), "loss 4.5 % (median of 2), density not known"},
		{"an impossible one is left out", made(960, 1200), "loss 4 % (median of 1), density not known"},
		{"density with grit is left out", []calc.BatchMade{{MgPerML: 860}, {MgPerML: 1100, GritIn: true}}, "loss not known, density 0.86 g/mL (median of 1)"},
	} {
		if got := calc.ForecastOf(c.earlier); got.Says != c.says {
			t.Errorf("%s: %q", c.name, got.Says)
		}
	}
}

func TestWhatABatchYieldedIsSaid(t *testing.T) {
	y := calc.YieldOf(calc.BatchMade{Made: 3000 * calc.Gram, Filled: 2870 * calc.Gram, JarsExpected: 24, JarsMade: 23, MgPerML: 560, MgPerMLBefore: 1090})
	if y.Says != "23 of 24 jars, loss 4.33 %, overrun 94.6 %" || len(y.Findings) != 0 {
		t.Errorf("%+v", y)
	}
	if y = calc.YieldOf(calc.BatchMade{Made: 10, Filled: 20}); len(y.Findings) != 1 || y.Findings[0].Level != calc.Care {
		t.Errorf("more out than in: %+v", y)
	}
	if y = calc.YieldOf(calc.BatchMade{MgPerML: 560, MgPerMLBefore: 1090, GritIn: true}); y.OverrunKnown || len(y.Findings) != 1 || y.Findings[0].Level != calc.Unchecked {
		t.Errorf("grit carries no air: %+v", y)
	}
}
