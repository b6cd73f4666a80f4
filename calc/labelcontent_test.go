package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stillroom/calc"
)

func labelOf(t *testing.T, a calc.LabelAsk, f calc.Formula) calc.LabelContent {
	t.Helper()
	l, err := calc.LabelContentOf(a, f, calc.Given())
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestPublishedLabelContent(t *testing.T) {
	for _, row := range published(t, "label-content") {
		net, err := calc.ReadGrams(row["net"])
		if err != nil {
			t.Fatal(err)
		}
		a := calc.LabelAsk{Region: row["region"], Net: net}
		if row["made"] != "" {
			if a.Made, err = calc.ReadDate(row["made"]); err != nil {
				t.Fatal(err)
			}
		}
		a.LifeMonths, _ = strconv.Atoi(row["life"])
		panel, _ := strconv.Atoi(row["panel"])
		a.PanelMM2 = int64(panel)
		l := labelOf(t, a, calc.Formula{})
		got := map[string]string{"net": l.Net, "grams": l.Grams, "ounces": l.Ounces, "height": l.HeightMM, "best before": l.BestBefore,
			"needed": strings.TrimSpace(map[bool]string{true: "date"}[l.BestBeforeNeeded] + " " + map[bool]string{true: "PAO"}[l.PAONeeded])}[row["what"]]
		if got != row["expected"] {
			t.Errorf("%s %s: %q, want %q", row["check"], row["what"], got, row["expected"])
		}
	}
}

func TestNeitherGramsNorOuncesOverstate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		net := calc.Mass(rapid.Int64Range(100, 5_000_000).Draw(t, "mg"))
		l, err := calc.LabelContentOf(calc.LabelAsk{Region: "EU", Net: net}, calc.Formula{}, calc.Given())
		if err != nil {
			t.Fatal(err)
		}
		for _, printed := range []string{l.Grams, l.Ounces} {
			if strings.HasPrefix(printed, "0 ") {
				continue
			}
			m, err := calc.ReadGrams(printed)
			if err != nil || m > net+1 {
				t.Fatalf("%s g printed as %s: %v", net, printed, err)
			}
		}
	})
}

func TestALabelSaysWhatIsMissing(t *testing.T) {
	full := calc.LabelAsk{Region: "EU", Net: 120 * calc.Gram, Made: calc.Date{Year: 2026, Month: 3, Day: 10}, LifeMonths: 36, PAOMonths: 12, BatchCode: "B1", Person: "A maker, a street", Sale: true}
	for _, c := range []struct {
		name   string
		change func(*calc.LabelAsk)
		level  calc.Level
		says   string
	}{
		{"nothing", func(*calc.LabelAsk) {}, "", ""},
		{"no person, for sale", func(a *calc.LabelAsk) { a.Person = "" }, calc.Stop, "the responsible person is missing"},
		{"no person, a trial", func(a *calc.LabelAsk) { a.Person, a.Sale = "", false }, calc.Note, "responsible person"},
		{"no contact", func(a *calc.LabelAsk) { a.Person, a.Region, a.PanelMM2 = "", "US", 3000 }, calc.Stop, "the contact is missing"},
		{"no code", func(a *calc.LabelAsk) { a.BatchCode = "" }, calc.Stop, "batch code"},
		{"no PAO", func(a *calc.LabelAsk) { a.PAOMonths = 0 }, calc.Care, "period after opening"},
		{"no life", func(a *calc.LabelAsk) { a.LifeMonths = 0 }, calc.Unchecked, "stated life is missing"},
		{"no day", func(a *calc.LabelAsk) { a.Made = calc.Date{} }, calc.Unchecked, "day of making is missing"},
		{"no panel", func(a *calc.LabelAsk) { a.Region = "US" }, calc.Unchecked, "area of the panel is missing"},
		{"tiny", func(a *calc.LabelAsk) { a.Net = 4 * calc.Gram }, calc.Note, "under 5 g"},
	} {
		a := full
		c.change(&a)
		l := labelOf(t, a, calc.Formula{})
		if c.level == "" && len(l.Findings) != 0 || c.level != "" && (len(l.Findings) != 1 || l.Findings[0].Level != c.level || !strings.Contains(l.Findings[0].Says, c.says) || l.Findings[0].Source == "") {
			t.Errorf("%s: %+v", c.name, l.Findings)
		}
	}
}

func TestCautionsFollowWhatIsInIt(t *testing.T) {
	line := func(key string, p calc.Percent) calc.Line {
		return calc.Line{ID: key, Ingredient: key, Percent: p, QS: p == 0}
	}
	for _, c := range []struct {
		name     string
		f        calc.Formula
		has, not string
	}{
		{"scrub", calc.Formula{Wash: "rinse-off", Lines: []calc.Line{line("water", 0), line("betaine-30", 30*calc.OnePercent), line("sucrose", 46*calc.OnePercent)}}, "just-shaved", "Dry hands"},
		{"wash", calc.Formula{Wash: "rinse-off", Lines: []calc.Line{line("water", 0), line("betaine-30", 30*calc.OnePercent)}}, "Slippery", "just-shaved"},
		{"lotion", calc.Formula{Wash: "leave-on", Lines: []calc.Line{line("water", 0), line("sunflower-oil", 10*calc.OnePercent)}}, "Keep out of the eyes", "Slippery"},
		{"butter", calc.Formula{Wash: "leave-on", Lines: []calc.Line{line("shea", 0)}}, "Dry hands", "just-shaved"},
		{"mist", calc.Formula{Wash: "leave-on", Site: "spray or mist", Lines: []calc.Line{line("water", 0), line("glycerin", 3*calc.OnePercent)}}, "Do not breathe the mist in", "Keep out of the eyes"},
		{"dry mist", calc.Formula{Wash: "leave-on", Site: "spray or mist", Lines: []calc.Line{line("sunflower-oil", 0)}}, "Do not spray into the face", "Dry hands"},
		{"eye cream", calc.Formula{Wash: "leave-on", Site: "eye area", Lines: []calc.Line{line("water", 0), line("sunflower-oil", 10*calc.OnePercent)}}, "Around the eye, not in it", "Keep out of the eyes"},
		{"bath oil", calc.Formula{Wash: "leave-on", Site: "bath", Lines: []calc.Line{line("sunflower-oil", 0)}}, "Slippery", "just-shaved"},
		{"for a child of five", calc.Formula{Wash: "rinse-off", Age: "3 to 12", Lines: []calc.Line{line("water", 0)}}, "Not for children under 3", "Slippery"},
	} {
		all := ""
		for _, x := range labelOf(t, calc.LabelAsk{Region: "EU", Net: calc.Gram}, c.f).Cautions {
			all += x.Says
			if x.Why == "" || x.Source == "" {
				t.Errorf("%s: %+v", c.name, x)
			}
		}
		if !strings.Contains(all, c.has) || strings.Contains(all, c.not) {
			t.Errorf("%s: %s", c.name, all)
		}
	}
}

func TestDaysThatAreNoneAreRefused(t *testing.T) {
	for _, bad := range []string{"", "2026-3-10", "2026-02-29", "2026-13-01", "2026-04-31", "10.03.2026", "2026-03-00"} {
		if d, err := calc.ReadDate(bad); err == nil {
			t.Errorf("%q was read as %v", bad, d)
		}
	}
	if d, err := calc.ReadDate("2028-02-29"); err != nil || d.Day != 29 {
		t.Errorf("%v %v", d, err)
	}
}
