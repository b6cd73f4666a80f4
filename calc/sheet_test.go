package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"stillroom/calc"
)

// wash is a whipped wash as a maker would type it; change it before asking for its sheet.
func wash(change func(*calc.Draft)) calc.Draft {
	d := calc.Draft{Name: "plain whipped wash", Wash: "rinse-off", Site: "body", Age: "adults",
		Phases: []calc.DraftPhase{{Letter: "A", Treatment: calc.DraftTreatment{Do: "heat", To: "75 C", HoldMin: "20"}}, {Letter: "B", Treatment: calc.DraftTreatment{Do: "cool", To: "100 F"}}},
		Lines: []calc.DraftLine{
			{ID: "w", Phase: "A", Ingredient: "water", QS: true},
			{ID: "c", Phase: "A", Ingredient: "betaine-30", Percent: "30"},
			{ID: "s", Phase: "A", Ingredient: "stearic-50", Percent: "11"},
			{ID: "p", Phase: "B", Ingredient: "phenoxyethanol-ehg", Percent: "1,0"},
		},
		Plan: calc.Plan{Jars: "24", Fill: "120", Loss: "4", Step: "0.1"}}
	if change != nil {
		change(&d)
	}
	return d
}

func rulesOf(s calc.Sheet) string {
	var out []string
	for _, f := range s.Findings {
		out = append(out, string(f.Level)+":"+f.Rule+":"+f.Line)
	}
	return strings.Join(out, " ")
}

func TestTheSheetOfAWholeFormula(t *testing.T) {
	s := calc.SheetOf(wash(nil), calc.Given())
	if s.Mass.Text != "3,000.0 g" || s.Total.Text != "100.00 %" || s.Gap != "" || !s.CanSave || !s.CanMake || s.Because != "" {
		t.Errorf("%+v", s)
	}
	if l := s.Lines[0]; l.Percent.Text != "58.00 %" || l.Grams.Text != "1,740.0 g" || l.Percent.Sum != "q.s., what is left: 100 − 42 = 58" {
		t.Errorf("%+v", l)
	}
	if l := s.Lines[3]; l.Percent.Text != "1.00 %" || l.Grams.Text != "30.0 g" {
		t.Errorf("a comma is a decimal sign: %+v", l)
	}
	if len(s.Layers) != 2 || s.Layers[0].Share != 0.99 || s.Layers[1].Percent != "1.00 %" {
		t.Errorf("%+v", s.Layers)
	}
	if strings.Contains(rulesOf(s), "stop") {
		t.Error(rulesOf(s))
	}
}

func TestTheSheetFollowsEveryKeystroke(t *testing.T) {
	for _, c := range []struct {
		name             string
		change           func(*calc.Draft)
		gap, has, becaus string
		canSave, canMake bool
	}{
		{"air", func(d *calc.Draft) { d.Lines[0].QS, d.Lines[0].Percent = false, "54.8" }, "3.20 % of air under the rim", "stop:sum:", "air under the rim", false, false},
		{"over", func(d *calc.Draft) { d.Lines[0].QS, d.Lines[0].Percent = false, "59.4" }, "1.40 % over the rim", "stop:sum:", "over the rim", false, false},
		{"no preservative", func(d *calc.Draft) { d.Lines = d.Lines[:3] }, "", "stop:preservative:w", "", true, true},
		{"charge only warns", func(d *calc.Draft) {
			d.Lines = append(d.Lines, calc.DraftLine{ID: "x", Phase: "A", Ingredient: "btms", Percent: "2"}, calc.DraftLine{ID: "y", Phase: "A", Ingredient: "sci-powder", Percent: "5"})
		}, "", "stop:charge:x", "", true, true},
		{"minus", func(d *calc.Draft) { d.Lines[1].Percent = "-3" }, "", "", "line 2: -3 % is below nothing", false, false},
		{"word", func(d *calc.Draft) { d.Lines[1].Percent = "lots" }, "", "", "line 2: “lots” is not a number", false, false},
		{"absurd", func(d *calc.Draft) { d.Lines[1].Percent = "4000" }, "", "", "more than a full jar", false, false},
		{"nothing typed yet", func(d *calc.Draft) { d.Lines[1].Percent = "" }, "", "", "nothing is written", false, false},
		{"nothing chosen yet", func(d *calc.Draft) { d.Lines[1].Ingredient = "" }, "", "stop:nameless:c", "no ingredient is chosen", false, false},
		{"two q.s.", func(d *calc.Draft) { d.Lines[1].QS = true }, "", "stop:two-qs:c", "two lines are q.s.", false, false},
		{"too small for the scale", func(d *calc.Draft) { d.Plan.Jars, d.Plan.Fill, d.Lines[3].Percent = "1", "4", "1" }, "", "care:too-small-to-weigh:p", "", true, true},
		{"no plan", func(d *calc.Draft) { d.Plan = calc.Plan{} }, "", "", "say how many jars", true, false},
		{"plan in letters", func(d *calc.Draft) { d.Plan.Fill = "much" }, "", "", "fill: “much” is not a number", true, false},
		{"no name", func(d *calc.Draft) { d.Name = " " }, "", "", "no name", false, false},
		{"odd heat", func(d *calc.Draft) { d.Phases[0].Treatment.To = "hot" }, "", "care:treatment:", "temperature of phase A", false, false},
		{"too hot for the preservative", func(d *calc.Draft) { d.Phases[1].Treatment.To = "105 F" }, "", "care:added-hot:p", "", true, true},
		{"unknown base", func(d *calc.Draft) { d.Lines[1].Ingredient, d.Lines[1].Base = "", "gone" }, "", "stop:base:c", "not known", false, false},
	} {
		s := calc.SheetOf(wash(c.change), calc.Given())
		if s.Gap != c.gap || !strings.Contains(rulesOf(s), c.has) || !strings.Contains(s.Because, c.becaus) || (c.becaus == "") != (s.Because == "") || s.CanSave != c.canSave || s.CanMake != c.canMake {
			t.Errorf("%s: gap %q, findings %s, because %q, save %v, make %v", c.name, s.Gap, rulesOf(s), s.Because, s.CanSave, s.CanMake)
		}
		if _, err := calc.ReadDraft(wash(c.change), calc.Given()); (err == nil) != c.canSave {
			t.Errorf("%s: the sheet says save=%v, saving says %v", c.name, c.canSave, err)
		}
	}
}

func TestARefusedLineNamesTheFieldThatIsWrong(t *testing.T) {
	for _, c := range []struct {
		name, field string
		line        calc.DraftLine
	}{
		{"unknown ingredient", "lines[1].ingredient", calc.DraftLine{Ingredient: "moon dust", Percent: "3"}},
		{"unknown ingredient, nothing typed", "lines[1].ingredient", calc.DraftLine{Ingredient: "moon dust"}},
		{"nothing chosen", "lines[1].ingredient", calc.DraftLine{Percent: "3"}},
		{"unknown base", "lines[1].base", calc.DraftLine{Base: "gone", Percent: "3"}},
		{"both", "lines[1].base", calc.DraftLine{Base: "gone", Ingredient: "water", Percent: "3"}},
		{"word", "lines[1].percent", calc.DraftLine{Ingredient: "glycerin", Percent: "lots"}},
		{"word and unknown", "lines[1].percent", calc.DraftLine{Ingredient: "moon dust", Percent: "lots"}},
		{"nothing typed", "lines[1].percent", calc.DraftLine{Ingredient: "glycerin"}},
	} {
		_, err := calc.ReadDraft(wash(func(d *calc.Draft) { d.Lines[1] = c.line }), calc.Given())
		if err == nil || err.Field != c.field {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

func TestTheScaleSaysItsQuietError(t *testing.T) {
	s := calc.SheetOf(wash(func(d *calc.Draft) { d.Plan = calc.Plan{Jars: "1", Fill: "100"} }), calc.Given())
	if !strings.HasSuffix(s.Lines[3].Grams.Sum, "on your scale 1.0, ± 5.0 %") {
		t.Errorf("%q", s.Lines[3].Grams.Sum)
	}
	coarse := calc.SheetOf(wash(func(d *calc.Draft) { d.Plan = calc.Plan{Jars: "1", Fill: "100", Step: "1"} }), calc.Given())
	if !strings.Contains(rulesOf(coarse), "care:smallest:p") {
		t.Errorf("1 g ± 0.5 g passes the maximum: %s", rulesOf(coarse))
	}
}

func TestABaseMayNotHoldTheFormulaThatHoldsIt(t *testing.T) {
	k := calc.Given()
	k.Bases["f"] = &calc.Formula{Key: "f", Name: "first", Lines: []calc.Line{{ID: "1", Ingredient: "water", QS: true}}}
	k.Bases["g"] = &calc.Formula{Key: "g", Name: "second", Lines: []calc.Line{{ID: "1", Base: "f", Percent: calc.Hundred}}}
	d := wash(func(d *calc.Draft) { d.Key, d.Name = "f", "first"; d.Lines[1].Ingredient, d.Lines[1].Base = "", "g" })
	s := calc.SheetOf(d, k)
	if s.CanSave || !strings.Contains(s.Because, "first → second → first") || !strings.Contains(rulesOf(s), "stop:base:c") {
		t.Errorf("because %q, %s", s.Because, rulesOf(s))
	}
}

func TestWhatIsNotWrittenYetIsNoFault(t *testing.T) {
	for name, lines := range map[string][]calc.DraftLine{"empty": nil, "one empty line": {{ID: "a", Phase: "A"}}} {
		s := calc.SheetOf(calc.Draft{Lines: lines}, calc.Given())
		if len(s.Findings) != 0 || s.CanSave || s.Because == "" {
			t.Errorf("%s: %s, because %q", name, rulesOf(s), s.Because)
		}
	}
	s := calc.SheetOf(wash(func(d *calc.Draft) { d.Lines = append(d.Lines, calc.DraftLine{ID: "new", Phase: "A"}) }), calc.Given())
	if strings.Contains(rulesOf(s), "nameless") || s.CanSave || s.Lines[4].Trouble == "" {
		t.Errorf("%s, save %v, %q", rulesOf(s), s.CanSave, s.Lines[4].Trouble)
	}
}

func TestSharesThatNoLineCanHaveAreStops(t *testing.T) {
	for _, c := range []struct {
		share calc.Percent
		rule  string
	}{{-1, "below-nothing"}, {calc.Hundred + 1, "above-full"}, {1 << 60, "above-full"}, {calc.Hundred, ""}} {
		got := ""
		if f := calc.Total([]calc.Line{{ID: "1", Ingredient: "water", Percent: c.share}}).Findings; len(f) > 0 {
			got = f[0].Rule
		}
		if got != c.rule {
			t.Errorf("%d: %q, want %q", c.share, got, c.rule)
		}
	}
}

func TestTheSumIsShown(t *testing.T) {
	f := calc.ShowPercentOf(11*calc.OnePercent, 2_084_200, 229_300, 100)
	if f.Text != "229.3 g" || f.Sum != "11.00 % of 2,084.2 g: 11 ÷ 100 × 2,084.2 = 229.262, on your scale 229.3" {
		t.Errorf("%+v", f)
	}
}

func TestTemperaturesStayAsEntered(t *testing.T) {
	for _, c := range []struct {
		text, unit, shown string
		milliC            int64
	}{
		{"100", "F", "100 °F (37.8 °C)", 37_778},
		{"100 °F", "C", "100 °F (37.8 °C)", 37_778},
		{"167F", "", "167 °F (75 °C)", 75_000},
		{"75 C", "F", "75 °C", 75_000},
		{"1,5", "", "1.5 °C", 1_500},
		{"-4", "F", "−4 °F (−20 °C)", -20_000},
	} {
		d, err := calc.ReadDegrees(c.text, c.unit)
		if err != nil || d.MilliC != c.milliC || d.Show() != c.shown {
			t.Errorf("%q %q: %d, %q, %v", c.text, c.unit, d.MilliC, d.Show(), err)
		}
	}
	for _, bad := range []string{"", "warm", "75 K", "1000 C", "1.2.3", "75 80"} {
		if d, err := calc.ReadDegrees(bad, ""); err == nil {
			t.Errorf("%q was read as %s", bad, d.Show())
		}
	}
}

func TestCodesAreReadWithHelpAndSaidSo(t *testing.T) {
	numbers := calc.JarNumbers("7K0Q1", 40, 1)
	for i := 1; i < len(numbers); i++ {
		if numbers[i] <= numbers[i-1] {
			t.Fatal("numbers must rise")
		}
	}
	if len(numbers) != 40 || len(calc.JarNumbers("7K0Q1", 5000, 0)) > 1024 {
		t.Fatalf("%d numbers", len(numbers))
	}
	code, err := calc.JarCode("7K0Q1", numbers[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ text, how string }{
		{code, ""},
		{calc.ShowJarCode(code), ""},
		{" " + strings.ToLower(code[:3]) + " " + code[3:] + "\n", ""},
		{"https://example.org/j/" + code, ""},
		{"HTTPS://EXAMPLE.ORG/J/" + code + "/?x=1#y", ""},
		{strings.Replace(code, "0", "O", 1), "O was read as 0"},
		{strings.Replace(code, "1", "l", 1), "L was read as 1"},
	} {
		got, how, err := calc.ReadJarCode(c.text)
		if err != nil || got != code || !strings.HasPrefix(how, c.how) || (how == "") != (c.how == "") {
			t.Errorf("%q: %s, %q, %v", c.text, got, how, err)
		}
	}
	for _, bad := range []string{"", "7K3", code + "0", "https://example.org/j/", "7K3QXU4M", "ÄÖÜäöü12"} {
		if got, _, err := calc.ReadJarCode(bad); err == nil {
			t.Errorf("%q was read as %s", bad, got)
		}
	}
	if got := calc.BatchCode(2026, 11, 25, "B", 2); got != "261125-B2" {
		t.Error(got)
	}
}

func TestScaleSaysWhatItCouldNotDo(t *testing.T) {
	small, err := calc.Scale([]calc.ScaleLine{{ID: "a", Percent: 400}, {ID: "b", Percent: calc.Hundred - 400}}, 50*calc.Gram, 100)
	if err != nil || len(small.Findings) != 1 || small.Findings[0].Rule != "too-small-to-weigh" || small.Findings[0].Subject != "a" {
		t.Errorf("%+v %v", small, err)
	}
	moved, err := calc.Scale([]calc.ScaleLine{{ID: "a", Percent: calc.Hundred}}, 33_333, 100)
	if err != nil || moved.Batch != 33_300 || len(moved.Findings) != 1 || moved.Findings[0].Rule != "batch-moved" {
		t.Errorf("%+v %v", moved, err)
	}
	fine, err := calc.Scale([]calc.ScaleLine{{ID: "a", Percent: calc.Hundred}}, 33_300, 100)
	if err != nil || len(fine.Findings) != 0 {
		t.Errorf("%+v %v", fine, err)
	}
}

func TestALimitedLineOfTheSheetIsRoundedDown(t *testing.T) {
	d := wash(func(d *calc.Draft) { d.Lines[3].Percent, d.Plan = "1.1", calc.Plan{Jars: "1", Fill: "337"} })
	s := calc.SheetOf(d, calc.Given())
	if s.Lines[3].Grams.Text != "3.7 g" || !strings.Contains(s.Lines[3].Grams.Sum, "3.707") {
		t.Errorf("%+v", s.Lines[3])
	}
	d.Plan.Fill = "341" // 3.751 g would round to 3.8 g, which is 1.114 %
	if s = calc.SheetOf(d, calc.Given()); s.Lines[3].Grams.Text != "3.7 g" || !strings.Contains(s.Lines[3].Grams.Sum, "no maximum is passed") {
		t.Errorf("%+v", s.Lines[3])
	}
}

func TestWearStandsBeforeItsOwnStep(t *testing.T) {
	f, err := calc.ReadDraft(wash(nil), calc.Given())
	if err != nil {
		t.Fatal(err)
	}
	hot := calc.WearBefore(f, calc.Given(), "A", "")
	if len(hot) != 2 || hot[0].Rule != "wear-eyes" && hot[1].Rule != "wear-eyes" {
		t.Errorf("%+v", hot)
	}
	if one := calc.WearBefore(f, calc.Given(), "B", "p"); len(one) != 1 || one[0].Subject != "p" {
		t.Errorf("%+v", one)
	}
	if none := calc.WearBefore(f, calc.Given(), "A", "s"); len(none) != 0 {
		t.Errorf("%+v", none)
	}
}

// fortyLines is a long formula with a base inside.
func fortyLines() (calc.Draft, calc.Known) {
	k := calc.Given()
	k.Bases["whip"] = &calc.Formula{Key: "whip", Name: "whipped base", Lines: []calc.Line{{ID: "1", Ingredient: "water", QS: true}, {ID: "2", Ingredient: "betaine-30", Percent: 30 * calc.OnePercent}}}
	d := wash(nil)
	d.Lines = append(d.Lines, calc.DraftLine{ID: "base", Phase: "A", Base: "whip", Percent: "10"})
	keys := []string{"glycerin", "sci-powder", "shea", "coconut-oil", "sucrose", "kaolin", "citric-acid", "parfum"}
	for i := len(d.Lines); i < 40; i++ {
		d.Lines = append(d.Lines, calc.DraftLine{ID: "x" + strconv.Itoa(i), Phase: string(rune('A' + i%4)), Ingredient: keys[i%len(keys)], Percent: "0.7"})
	}
	return d, k
}

func BenchmarkSheetOfFortyLines(b *testing.B) {
	d, k := fortyLines()
	if s := calc.SheetOf(d, k); !s.CanSave || len(s.Lines) != 40 {
		b.Fatal(s.Because)
	}
	b.ReportAllocs()
	for b.Loop() {
		calc.SheetOf(d, k)
	}
}

func BenchmarkSheetThroughTheDoor(b *testing.B) {
	request, err := calc.Example("sheet")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := calc.Do("sheet", request); err != nil {
			b.Fatal(err)
		}
	}
}
