package calc_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func jarsOf(t *testing.T, text string) (out []calc.Mass) {
	t.Helper()
	for _, j := range strings.Fields(text) {
		out = append(out, grams(t, j))
	}
	return out
}

func TestPublishedFills(t *testing.T) {
	for _, row := range published(t, "fillcheck") {
		switch n, _ := strconv.Atoi(row["nominal"]); row["what"] {
		case "tne":
			near(t, row, inMg(calc.TolerableError(grams(t, row["nominal"]))))
			continue
		case "k":
			near(t, row, decimal.NewFromFloat(calc.StudentT(0.99, n-1)/math.Sqrt(float64(n))))
			continue
		case "scf":
			near(t, row, decimal.NewFromFloat(calc.StudentT(0.95, n-1)/math.Sqrt(float64(n))))
			continue
		}
		got, err := calc.FillCheck(calc.FillAsk{Nominal: grams(t, row["nominal"]), Jars: jarsOf(t, row["jars"]), System: row["system"]})
		if err != nil {
			t.Errorf("check %s: %v", row["check"], err)
			continue
		}
		pass := decimal.Decimal{}
		if got.Pass && got.Judged {
			pass = decimal.New(1, 0)
		}
		near(t, row, map[string]decimal.Decimal{"t1": inMg(got.T1), "t2": inMg(got.T2), "mean": got.Mean, "s": got.S, "sel": got.SEL, "mav": inMg(got.MAV), "pass": pass,
			"belowT1": decimal.New(int64(got.BelowT1), 0), "belowT2": decimal.New(int64(got.BelowT2), 0)}[row["what"]])
	}
}

func TestAFillIsJudgedByItsSystem(t *testing.T) {
	many := func(n int, mass string) string { return strings.TrimSpace(strings.Repeat(mass+" ", n)) }
	for _, c := range []struct {
		name, jars, system string
		batch              int
		judged, pass       bool
		says               string
	}{
		{"exactly the label", many(12, "120"), "average", 0, true, true, ""},
		{"one of twelve far below", many(11, "121.5") + " 114.5", "average", 0, true, false, "jar 12 (5.5 g)"},
		{"one of forty is 2.5 %", many(39, "120.5") + " 114.5", "average", 0, true, true, ""},
		{"one below twice the error", many(39, "121") + " 109.1", "average", 0, true, false, "twice"},
		{"small batch not weighed whole", many(12, "121"), "average", 24, false, true, "judged whole"},
		{"small batch, what was weighed is far off", many(12, "121") + " 100", "average", 24, false, false, "twice"},
		{"sample too small", many(20, "121"), "average", 200, false, true, "10 more"},
		{"sample a little light with scatter", many(15, "118.9") + " " + many(15, "121"), "average", 200, true, true, ""},
		{"sample light without scatter", many(30, "119.9"), "average", 200, true, false, "on average a jar lacks 0.1 g"},
		{"minimum system", many(11, "121") + " 119.9", "minimum", 0, true, false, "jar 12 (0.1 g)"},
		{"minimum system met", many(12, "120"), "minimum", 0, true, true, ""},
		{"minimum system, half weighed", many(12, "121"), "minimum", 24, false, true, "none may be short"},
		{"US, one unreasonably short", many(11, "121.5") + " 110.9", "US", 200, true, false, "jar 12 (9.1 g)"},
		{"US, too few", many(11, "121"), "US", 200, false, true, "weigh 1 more"},
	} {
		got, err := calc.FillCheck(calc.FillAsk{Nominal: 120 * calc.Gram, Jars: jarsOf(t, c.jars), System: c.system, Batch: c.batch})
		says := ""
		for _, f := range got.Findings {
			says += f.Says + "; " + f.Do + "; "
			if f.Source == "" || f.Do == "" {
				t.Errorf("%s: %+v", c.name, f)
			}
		}
		if err != nil || got.Judged != c.judged || got.Pass != c.pass || !strings.Contains(says, c.says) {
			t.Errorf("%s: %+v %v", c.name, got, err)
		}
	}
	coarse, err := calc.FillCheck(calc.FillAsk{Nominal: 15 * calc.Gram, Jars: jarsOf(t, "15 15"), Step: calc.Gram})
	if err != nil || len(coarse.Findings) != 1 || coarse.Findings[0].Rule != "fill-scale" {
		t.Errorf("a coarse scale is said: %+v %v", coarse, err)
	}
	for name, ask := range map[string]calc.FillAsk{"one jar": {Nominal: 120_000, Jars: []calc.Mass{1}}, "no label": {Jars: []calc.Mass{1, 2}}, "batch too small": {Nominal: 120_000, Batch: 1, Jars: []calc.Mass{1, 2}}, "system": {Nominal: 120_000, System: "x", Jars: []calc.Mass{1, 2}}} {
		if _, err := calc.FillCheck(ask); err == nil || err.Want == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestMoreInTheJarNeverFails: adding the same to every jar never turns a pass into a fail, and the tolerable error grows with the label.
func TestMoreInTheJarNeverFails(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nominal := calc.Mass(rapid.Int64Range(5_000, 900_000).Draw(t, "nominal"))
		ask := calc.FillAsk{Nominal: nominal, System: rapid.SampledFrom([]string{"average", "minimum", "US"}).Draw(t, "system")}
		for range rapid.IntRange(2, 40).Draw(t, "jars") {
			ask.Jars = append(ask.Jars, nominal+calc.Mass(rapid.Int64Range(-int64(nominal)/12, int64(nominal)/12).Draw(t, "off")))
		}
		before, err := calc.FillCheck(ask)
		if err != nil {
			t.Fatal(err)
		}
		more := calc.Mass(rapid.Int64Range(1, int64(nominal)/5).Draw(t, "more"))
		for i := range ask.Jars {
			ask.Jars[i] += more
		}
		after, err := calc.FillCheck(ask)
		if err != nil || before.Pass && !after.Pass {
			t.Fatalf("%+v then %+v %v", before, after, err)
		}
		if calc.TolerableError(nominal) > calc.TolerableError(nominal+1) {
			t.Fatalf("the tolerable error falls at %s", nominal)
		}
	})
}
