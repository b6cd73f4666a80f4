package calc_test

import (
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"stillroom/calc"
	"stillroom/calc/matter"
)

// Every name and every common word of the list is taken to mean its own ingredient, and nothing else.
func TestEveryNameOfTheListIsUnderstood(t *testing.T) {
	k := calc.Given()
	for key, i := range k.Ingredients {
		for _, name := range append([]string{i.Name}, i.Also...) {
			for _, line := range []string{name + " 12.5 g", "12,5 g " + strings.ToUpper(name), name + ": 12.5g"} {
				p := calc.Notebook(line, k)
				if len(p.Lines) != 1 || p.Lines[0].Ingredient != key || !p.Lines[0].Sure || p.Lines[0].Grams != "12.5 g" {
					t.Errorf("%q: %+v, want %s", line, p.Lines, key)
				}
			}
		}
	}
}

// alone reads one line between two others, so that it cannot be a title and units are settled.
func alone(line string) calc.NotebookLine {
	p := calc.Notebook("beeswax 10 g\n"+line, calc.Given())
	return p.Lines[1]
}

func TestLinesAsTheyStandInNotebooks(t *testing.T) {
	for _, c := range []struct{ line, ingredient, amount, grams string }{
		{"distilled water 212 g", "water", "212 g", "212.0 g"},
		{"130 g betaine solution", "betaine-30", "130 g", "130.0 g"},
		{"stearic acid - 1,5 oz", "stearic-50", "1.5 oz", "42.524 g"},
		{"Stearic acid, 1.5 oz.", "stearic-50", "1.5 oz", "42.524 g"},
		{"glycerin 2 tbsp", "glycerin", "2 tbsp", "37.83 g"},
		{"2 Tablespoons of vegetable glycerine", "glycerin", "2 tbsp", "37.83 g"},
		{"1/2 tsp glycerin", "glycerin", "0.5 tsp", "3.153 g"},
		{"1 ½ tsp glycerin", "glycerin", "1.5 tsp", "9.458 g"},
		{"1½ oz shea", "shea", "1.5 oz", "42.524 g"},
		{"1 1/2 oz shea butter", "shea", "1.5 oz", "42.524 g"},
		{"1/4 lb sugar", "sucrose", "0.25 lb", "113.398 g"},
		{"2 lb 3 oz sugar", "sucrose", "2 lb 3 oz", "992.234 g"},
		{"SCI 25g", "sci-powder", "25 g", "25.0 g"},
		{"SCI (sodium cocoyl isethionate) 25 g", "sci-powder", "25 g", "25.0 g"},
		{"* capb – 80 gr", "betaine-30", "80 g", "80.0 g"},
		{"- 60 g coconut oil", "coconut-oil", "60 g", "60.0 g"},
		{"3. karité butter .... 40 g", "shea", "40 g", "40.0 g"},
		{"[x] jojoba = 12 g", "jojoba-oil", "12 g", "12.0 g"},
		{"Polysorbate 80 5 g", "polysorbate-80", "5 g", "5.0 g"},
		{"5 g polysorbate 20", "polysorbate-20", "5 g", "5.0 g"},
		{"polysorbate 80 - 5 g", "polysorbate-80", "5 g", "5.0 g"},
		{"lactic acid 80 % 3 g", "lactic-80", "3 g", "3.0 g"},
		{"PEG-40 hydrogenated castor oil 2 g", "peg-40-castor", "2 g", "2.0 g"},
		{"castor oil 2 g", "castor-oil", "2 g", "2.0 g"},
		{"sodium C14-16 olefin sulfonate 90 g", "olefin-sulfonate-40", "90 g", "90.0 g"},
		{"polyquaternium-7 6 g", "polyquaternium-7", "6 g", "6.0 g"},
		{"CI 77491 0.4 g", "iron-oxide-red", "0.4 g", "0.4 g"},
		{"vit. E 1 g", "tocopherol", "1 g", "1.0 g"},
		{"vitamin B3 10 g", "niacinamide", "10 g", "10.0 g"},
		{"organic sunflower oil, cold pressed 30 g", "sunflower-oil", "30 g", "30.0 g"},
		{"oil, sunflower 30 g", "sunflower-oil", "30 g", "30.0 g"},
		{"cocoa butter 0.02 kg", "cocoa-butter", "0.02 kg", "20.0 g"},
		{"allantoin 500 mg", "allantoin", "500 mg", "0.5 g"},
		{"sweet almond oil 100 ml", "almond-oil", "100 mL", "91.7 g"},
		{"4 fl oz olive oil", "olive-oil", "4 fl oz", "108.003 g"},
		{"water 7.5 oz (212 g)", "water", "7.5 oz", "212.621 g"},
		{"approx. 20 g kaolin", "kaolin", "20 g", "20.0 g"},
		{"xanthan gum 1.5 g (wet with the glycerin)", "xanthan", "1.5 g", "1.5 g"},
		{"baking soda 3 g", "sodium-bicarbonate", "3 g", "3.0 g"},
		{"fragrance oil 20 drops", "parfum", "20 drops", ""},
		{"Epsom salts 150 g", "epsom", "150 g", "150.0 g"},
		{"ground oats 15 g", "oat-powder", "15 g", "15.0 g"},
		{"water 212", "water", "212 g", "212.0 g"},
		{"phenoxyethanol blend 5 g", "phenoxyethanol-ehg", "5 g", "5.0 g"},
		{"phenoxyethanol 5 g", "phenoxyethanol-pure", "5 g", "5.0 g"},
	} {
		if l := alone(c.line); l.Ingredient != c.ingredient || !l.Sure || l.Amount != c.amount || l.Grams != c.grams {
			t.Errorf("%q: %+v", c.line, l)
		}
	}
}

// What cannot be relied on is told in words, and no figure is made up.
func TestWhatIsNotUnderstoodSaysSo(t *testing.T) {
	for _, c := range []struct{ line, kind, ingredient, says, trouble string }{
		{"glycerin 2 tbsp", "ingredient", "glycerin", "inexact", ""},
		{"glycerin 20 ml", "ingredient", "glycerin", "1.26 g/mL", ""},
		{"sugar 2 cups", "ingredient", "sucrose", "", "weigh it"},
		{"shea butter 2 tbsp", "ingredient", "shea", "", "firm"},
		{"parfum 20 drops", "ingredient", "parfum", "", "density"},
		{"glyserin 20 g", "ingredient", "glycerin", "not sure", ""},
		{"moon dust 5 g", "ingredient", "", "", "not among the ingredients"},
		{"oil 40 g", "ingredient", "", "", "choose one"},
		{"polysorbate 4 g", "ingredient", "", "", "choose one"},
		{"42 g", "ingredient", "", "", "without a name"},
		{"glycerin", "ingredient", "glycerin", "", "no amount"},
		{"polysorbate 80", "ingredient", "polysorbate-80", "", "no amount"},
		{"glycerin 10-12 g", "ingredient", "glycerin", "", "range"},
		{"glycerin 2,084.2 g", "ingredient", "glycerin", "", "more than one decimal sign"},
		{"water 2 084.2 g", "ingredient", "water", "", "two figures"},
		{"sugar 1,000 g", "ingredient", "sucrose", "for thousands write 1000 g", ""},
		{"glycerin: -5 g", "ingredient", "glycerin", "", "below nothing"},
		{"glycerin 0 g", "ingredient", "glycerin", "", "less than a milligram"},
		{"glycerin 4000 kg", "ingredient", "glycerin", "", "tonne"},
		{"glycerin 20 g shea 30 g", "ingredient", "", "", "two amounts"},
		{"water q.s.", "ingredient", "water", "", "needs the total"},
		{"parfum 0.5 %", "ingredient", "parfum", "", "in per cent, while 1 other line is by mass"},
		{"whip until it holds a peak", "unread", "", "", "not read"},
		{"cook 20 minutes", "unread", "", "", "not read"},
		{"# last time too firm", "remark", "", "remark", ""},
		{"note: 20 g was too much", "remark", "", "remark", ""},
		{"Phase B: melt, 165 F", "phase", "", "melt, 165 °F", ""},
		{"B", "phase", "", "phase B", ""},
		{"Oil phase", "phase", "", "phase B", ""},
		{"Cool down (below 100 °F):", "phase", "", "cool, 100 °F", ""},
		{"total 500 g", "total", "", "held against", ""},
		{"24 jars of 120 g", "plan", "", "filled", ""},
	} {
		l := alone(c.line)
		if l.Kind != c.kind || l.Ingredient != c.ingredient || !strings.Contains(l.Says, c.says) || !strings.Contains(l.Trouble, c.trouble) || (c.trouble == "") != (l.Trouble == "") {
			t.Errorf("%q: %+v", c.line, l)
		}
		if len(l.Choices) > 4 || l.Sure && len(l.Choices) > 0 {
			t.Errorf("%q: %d choices", c.line, len(l.Choices))
		}
	}
}

const wholePage = `Lemon whipped scrub
# from the blue book
A: heat to 165 F, hold 20 min
distilled water 212 g, betaine solution 130 g
42 g glycerin
SCI 90 g

Phase B
stearic acid 46 g (melt in the whipping bowl)

C: cool to 100 F
phenoxyethanol blend 5 g; parfum 2.5 g
D
sugar 472.5 g
whip well
total 1000 g
24 jars of 40 g`

func TestAWholePageBecomesAFormula(t *testing.T) {
	p := calc.Notebook(wholePage, calc.Given())
	if p.Title != "Lemon whipped scrub" || p.Total != "1,000.0 g" || p.TotalSays != "the lines weigh the 1000 g that the page gives" {
		t.Errorf("%q, %q, %q", p.Title, p.Total, p.TotalSays)
	}
	if len(p.Unread) != 1 || p.Unread[0] != "whip well" {
		t.Errorf("unread: %q", p.Unread)
	}
	d := p.Draft
	if d.Plan.Jars != "24" || d.Plan.Fill != "40 g" || len(d.Phases) != 4 || d.Phases[0].Treatment != (calc.DraftTreatment{Do: "heat", To: "165 °F", HoldMin: "20"}) || d.Phases[2].Treatment.To != "100 °F" {
		t.Errorf("%+v %+v", d.Plan, d.Phases)
	}
	f, err := calc.ReadDraft(d, calc.Given())
	if err != nil {
		t.Fatal(err)
	}
	want := []struct{ phase, ingredient, percent string }{{"A", "water", "21.20"}, {"A", "betaine-30", "13.00"}, {"A", "glycerin", "4.20"}, {"A", "sci-powder", "9.00"}, {"B", "stearic-50", "4.60"},
		{"C", "phenoxyethanol-ehg", "0.50"}, {"C", "parfum", "0.25"}, {"D", "sucrose", "47.25"}}
	for i, l := range f.Lines {
		if w := want[i]; l.Phase != w.phase || l.Ingredient != w.ingredient || l.Percent.String() != w.percent {
			t.Errorf("line %d: %+v, want %+v", i, l, w)
		}
	}
	if d.Lines[4].Note != "melt in the whipping bowl" {
		t.Errorf("note %q", d.Lines[4].Note)
	}
}

func TestTotalsAndMixedPages(t *testing.T) {
	for _, c := range []struct{ name, page, total, says, percents string }{
		{"per cent", "water 60 %\nglycerin 40,0%", "100.00 %", "fill the jar exactly", "60.00 % 40.00 %"},
		{"per cent, q.s.", "water qs\nglycerin 5 %\nparfum 0.5 %", "100.00 %", "q.s. fills it up", "94.50 % 5.00 % 0.50 %"},
		{"to 100", "glycerin 5 %\nwater to 100 %", "100.00 %", "q.s. fills it up", "5.00 % 95.00 %"},
		{"no units, sum 100", "water 60\nglycerin 40", "100.00 %", "exactly", "60.00 % 40.00 %"},
		{"no units, sum not 100", "water 60\nglycerin 50", "0.00 %", "2 lines have no amount", " "},
		{"air", "water 60 %\nglycerin 30 %", "90.00 %", "10.00 % of air", "60.00 % 30.00 %"},
		{"grams less than said", "water 60 g\nglycerin 30 g\ntotal 100 g", "90.0 g", "10.0 g less", "66.6667 % 33.3333 % "},
		{"grams more than said", "water 60 g\nglycerin 60 g\nmakes 100 g", "120.0 g", "20.0 g more", "50.00 % 50.00 % "},
		{"grams, q.s.", "glycerin 5 g\nwater q.s. to 100 g", "100.0 g", "q.s. fills it up to the 100 g", "5.00 % 95.00 %"},
		{"q.s. below nothing", "glycerin 150 g\nwater q.s. to 100 g", "150.0 g", "50.0 g more; 1 line has no amount", "100.00 % "},
		{"mixed", "water 60 g\nglycerin 5 %\nshea 5 g", "", "nothing was added up", "  "},
		{"one missing", "water 60 g\nglycerin", "60.0 g", "will still change", "100.00 % "},
		{"nothing", "", "", "nothing on the page", ""},
	} {
		p := calc.Notebook(c.page, calc.Given())
		var got []string
		for _, l := range p.Lines {
			got = append(got, l.Percent)
		}
		if p.Total != c.total || !strings.Contains(p.TotalSays, c.says) || strings.Join(got, " ") != c.percents {
			t.Errorf("%s: %q, %q, %q", c.name, p.Total, p.TotalSays, strings.Join(got, " "))
		}
	}
}

func TestOwnIngredientsAndBasesAreUnderstood(t *testing.T) {
	k := calc.Given()
	k.Ingredients["plum"] = &calc.Ingredient{Key: "plum", Name: "plum kernel oil"}
	k.Bases["whip"] = &calc.Formula{Key: "whip", Name: "whipped base"}
	if again := calc.Notebook("Whipped Base\nPlum kernel oil 50 g", k); again.Title != "Whipped Base" || len(again.Draft.Lines) != 1 {
		t.Errorf("a formula that is written down anew: title %q, lines %+v", again.Title, again.Draft.Lines)
	}
	p := calc.Notebook("Whipped Base 50 g\nPlum kernel oil 50 g", k)
	if p.Lines[0].Base != "whip" || p.Draft.Lines[0].Base != "whip" || p.Lines[1].Ingredient != "plum" {
		t.Fatalf("%+v", p.Lines)
	}
}

// A page written from a known formula, in grams or per cent and any order of words, reads back to the same percentages.
func TestAPageReadsBackToItsFormula(t *testing.T) {
	k := calc.Given()
	var keys []string
	for key := range k.Ingredients {
		keys = append(keys, key)
	}
	rapid.Check(t, func(t *rapid.T) {
		chosen := rapid.SliceOfNDistinct(rapid.SampledFrom(keys), 1, 12, rapid.ID[string]).Draw(t, "ingredients")
		inGrams := rapid.Bool().Draw(t, "grams")
		left := calc.Hundred
		var page strings.Builder
		want := make([]calc.Percent, len(chosen))
		for i, key := range chosen {
			p := left
			if i < len(chosen)-1 {
				p = calc.Percent(rapid.Int64Range(1, int64(left)-int64(len(chosen)-i-1)).Draw(t, "share"))
			}
			left -= p
			want[i] = p
			name := k.Ingredients[key].Name
			figure := strings.ReplaceAll(matter.Decimals(int64(p), 4, 0), ",", "") + " %"
			if inGrams { // 1 kg: one gram is 0.1 %, so that 0.0001 % is a milligram
				figure = strings.ReplaceAll(matter.Decimals(int64(p), 3, 0), ",", "") + " g"
			}
			if rapid.Bool().Draw(t, "comma") {
				figure = strings.ReplaceAll(figure, ".", ",")
			}
			switch rapid.IntRange(0, 2).Draw(t, "order") {
			case 0:
				page.WriteString(name + " " + figure + "\n")
			case 1:
				page.WriteString(figure + " " + name + "\n")
			case 2:
				page.WriteString("- " + strings.ToUpper(name) + ": " + figure + "\n\n")
			}
		}
		got := calc.Notebook(page.String(), k)
		if len(got.Draft.Lines) != len(chosen) || len(got.Unread) != 0 {
			t.Fatalf("%s\n%+v", page.String(), got.Lines)
		}
		f, err := calc.ReadDraft(func() calc.Draft { d := got.Draft; d.Name = "x"; return d }(), k)
		if err != nil {
			t.Fatalf("%s\n%v\n%+v", page.String(), err, got.Lines)
		}
		for i, l := range f.Lines {
			if l.Ingredient != chosen[i] || l.Percent != want[i] {
				t.Fatalf("%s\nline %d: %+v, want %s %s", page.String(), i, l, chosen[i], want[i])
			}
		}
	})
}

// Pages that mean harm end, and lose nothing.
func TestHostilePagesEnd(t *testing.T) {
	k := calc.Given()
	for name, page := range map[string]string{
		"lines":  strings.Repeat("glycerin 5 g\n", 80_000),
		"commas": strings.Repeat("glycerin 5 g, ", 70_000),
		"ranges": strings.Repeat("1-", 500_000) + "1 g",
		"words":  strings.Repeat(strings.Repeat("oil acid ", 40)+"5 g\n", 600),
		"slips":  strings.Repeat("phenoxyethanoll and ethylhexylglycerinn 5 g\n", 600),
		"deep":   strings.Repeat("(", 1_000_000),
	} {
		p := calc.Notebook(page, k)
		var all strings.Builder
		for _, l := range p.Lines {
			all.WriteString(l.Typed)
		}
		if len(p.Lines) > 1200 || letters(all.String()) != letters(page) {
			t.Errorf("%s: %d lines", name, len(p.Lines))
		}
	}
}

func BenchmarkNotebook(b *testing.B) {
	k := calc.Given()
	for b.Loop() {
		calc.Notebook(wholePage, k)
	}
}

// letters are what must never be dropped: everything but the marks between things.
func letters(s string) string {
	return strings.Map(func(c rune) rune {
		if unicode.IsLetter(c) || unicode.IsDigit(c) {
			return c
		}
		return -1
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

// FuzzNotebook: whatever is pasted, nothing panics, every letter and digit stands in the result in its order, and the draft can be read.
func FuzzNotebook(f *testing.F) {
	for _, s := range []string{wholePage, "water qs\nq.s.\nq s", "1/0 oz x", "½½½ g", "1-1-1-1-1 g", "A: B: C: 5 g", "((((", "5 g, 5 g, , ;", "\xff 5 g", "0,0,0 %", "title: # \n#", "- − – : -5 g", "99999999999999999999999999999999999 kg water", "2 lb 3 oz", "drops 5 cups", "a. 1 g", "%", "to 100 % to 100 %"} {
		f.Add(s)
	}
	k := calc.Given()
	f.Fuzz(func(t *testing.T, text string) {
		p := calc.Notebook(text, k)
		var all strings.Builder
		for _, l := range p.Lines {
			all.WriteString(l.Typed)
			if l.Kind == "" || l.Kind == "unread" && l.Trouble == "" {
				t.Fatalf("%q: %+v", text, l)
			}
			if l.Kind == "ingredient" && l.Trouble == "" && l.Percent == "" && strings.Contains(p.TotalSays, "together") {
				t.Fatalf("%q: a line without figure and without a word: %+v", text, l)
			}
		}
		if got, want := letters(all.String()), letters(text); got != want {
			t.Fatalf("%q: %q of %q", text, got, want)
		}
		for _, l := range p.Draft.Lines {
			if l.Percent != "" {
				if _, err := calc.ReadPercent(l.Percent); err != nil {
					t.Fatalf("%q: %+v %v", text, l, err)
				}
			}
		}
		calc.SheetOf(p.Draft, k)
	})
}
