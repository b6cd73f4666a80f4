package calc_test

import (
	"strings"
	"testing"

	"stillroom/calc"
)

// soft is one formula as spreadsheets of several makers and countries would write it; all of them mean the same.
var soft = []struct{ name, file string }{
	{"comma and point", "Phase,Ingredient,%\nA,Distilled water,64\nA,Glycerin,5.5\nB,Decyl Glucoside,30.5\n"},
	{"byte order mark, CRLF, no end of line", "\uFEFFPhase;Zutat;Anteil %\r\nA;Distilled water;64\r\nA;Glycerin;5,5\r\nB;Decyl Glucoside;30,5"},
	{"any order, any case, tabs", "PROZENT\tINCI\tphase\n64 %\tAqua\ta\n5,5 %\tGlycerin\ta\n30,5 %\tDecyl Glucoside\tb\n"},
	{"decimal comma in quotes", "ingredient,percentage,phase\nDistilled water,64,A\n\"Glycerin\",\"5,5\",A\nDecyl Glucoside,\"30,5\",B\n"},
	{"accents and a title above", "Gel douche doux;;\n\nMatière première;Quantité (%);Phase\nDistilled water;64;A\nGlycerin;5,5;A\nDecyl Glucoside;30,5;B\nTotal;100;\n"},
	{"q.s. and a number for the phase", "Fase;Ingrediente;Percentuale\n1;Distilled water;q.s. ad 100\n1;Glycerin;5,5\n2;Decyl Glucoside;30,5\n"},
	{"grams", "phase|material|g\nA|Distilled water|128\nA|Glycerin|11\nB|Decyl Glucoside|61\nSum||200\n"},
	{"grams in two units", "phase;ingredient;weight (g)\nA;Distilled water;0.128 kg\nA;Glycerin;11\nB;Decyl Glucoside;61\n"},
	{"amounts that sum to 100", "phase;ingredient;amount\nA;Distilled water;64\nA;Glycerin;5.5\nB;Decyl Glucoside;30.5\n"},
	{"per cent beside grams, prices and stock, which are not read", "phase;ingredient;%;g for 500;price per kg;supplier\nA;Distilled water;64;320;0,10;the tap\nA;Glycerin;5,5;27,5;3,20;Shop\nB;Decyl Glucoside;30,5;152,5;9;Shop\n"},
	{"zero rows", "phase;ingredient;%\nA;Distilled water;64\nA;Shea butter;0,00\nA;Glycerin;5,5\nB;Decyl Glucoside;30,5\n"},
	{"phases as rows of their own", "ingredient;%\nPhase A;\nDistilled water;64\nGlycerin;5,5\nPhase B;\nDecyl Glucoside;30,5\n"},
	{"phases with names", "phase;ingredient;%\nWater;Distilled water;64\nWater;Glycerin;5,5\nLast;Decyl Glucoside;30,5\n"},
}

func TestASpreadsheetIsReadHoweverItIsWritten(t *testing.T) {
	for _, c := range soft {
		got := calc.FormulasFromCSV(c.file, "soft wash", calc.Given())
		if !got.Ready || len(got.Formulas) != 1 {
			t.Errorf("%s: %d formulas, %+v", c.name, len(got.Formulas), got.Troubles)
			continue
		}
		f, err := calc.ReadDraft(got.Formulas[0].Draft, calc.Given())
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		for i, want := range []calc.Line{{Phase: "A", Ingredient: "water", Percent: 640000}, {Phase: "A", Ingredient: "glycerin", Percent: 55000}, {Phase: "B", Ingredient: "decyl-glucoside", Percent: 305000}} {
			if l := f.Lines[i]; l.Phase != want.Phase || l.Ingredient != want.Ingredient || l.Percent != want.Percent {
				t.Errorf("%s: line %d is %+v", c.name, i+1, l)
			}
		}
	}
}

func TestSeveralFormulasInOneFile(t *testing.T) {
	for name, file := range map[string]string{
		"a column of names, mixed rows": "recipe;ingredient;%\nOne;water;60\nTwo;water;10\nOne;glycerin;40\nTwo;glycerin;90\n",
		"merged cells":                  "Name;ingredient;%\nOne;water;60\n;glycerin;40\nTwo;water;10\n;glycerin;90\n",
		"blank lines and titles":        "ingredient;%\nOne;\nwater;60\nglycerin;40\n;\nTwo\nwater;10\nglycerin;90\n",
		"headings of their own":         "One\ningredient;%\nwater;60\nglycerin;40\n\nTwo\ng;ingredient\n1;water\n9;glycerin\n",
	} {
		got := calc.FormulasFromCSV(file, "file", calc.Given())
		if !got.Ready || len(got.Formulas) != 2 || got.Formulas[0].Name != "One" || got.Formulas[1].Name != "Two" || got.Formulas[1].Lines[1].Percent != "90.00" {
			t.Errorf("%s: %+v", name, got)
		}
	}
	got := calc.FormulasFromCSV("ingredient;%\nwater;60\nglycerin;40\n\nwater;10\nglycerin;90\n", "soap", calc.Given())
	if len(got.Formulas) != 2 || got.Formulas[0].Name != "soap" || got.Formulas[1].Name != "soap 2" || !got.Ready {
		t.Errorf("without names: %+v", got)
	}
}

// Whatever stands in the way is told with its line and column, and the file as a whole is not ready.
func TestWhatStandsInTheWayHasItsPlace(t *testing.T) {
	for _, c := range []struct {
		name, file   string
		line         int
		column, says string
	}{
		{"nothing", "", 1, "", "no heading"},
		{"no heading", "water;60\nglycerin;40\n", 1, "", "no heading"},
		{"only a heading", "ingredient;%\n", 1, "", "no row under it"},
		{"unknown", "phase;ingredient;%\nA;water;60\nA;moon dust;40\n", 3, "B, ingredient", "moon dust"},
		{"no figure", "ingredient;%\nwater;sixty\nglycerin;40\n", 2, "B, %", "not a number"},
		{"no amount", "ingredient;%\nwater;60\nglycerin;\n", 3, "B, %", "no amount"},
		{"no name", "ingredient;%\nwater;60\n;40\n", 3, "A, ingredient", "which ingredient"},
		{"below nothing", "ingredient;g\nwater;60\nglycerin;-40\n", 3, "B, g", "below nothing"},
		{"too fine", "ingredient;%\nwater;60\nglycerin;40.00001\n", 3, "B, %", "finer"},
		{"thousands", "ingredient;g\nwater;1,084.5\nglycerin;40\n", 2, "B, g", "more than one decimal sign"},
		{"both signs", "ingredient;g\nwater;1,084\nglycerin;40.5\n", 3, "B, g", "different decimal signs"},
		{"comma without quotes", "ingredient,%,note\nwater,60,5,hm\nglycerin,39,5\n", 2, "D", "more cells"},
		{"does not sum", "ingredient;%\nwater;60\nglycerin;39\n", 2, "", "1.00 % of air"},
		{"over", "ingredient;%\nwater;q.s.\nglycerin;70\nshea butter;40\n", 2, "", "less than nothing"},
		{"shares of one", "ingredient;%\nwater;0.6\nglycerin;0.4\n", 2, "B, %", "sum to 1"},
		{"mixed", "ingredient;amount\nwater;60 %\nglycerin;40 g\n", 2, "B, amount", "some by mass"},
		{"no unit", "ingredient;amount\nwater;60\nglycerin;41\n", 2, "B, amount", "per cent or grams"},
		{"q.s. of grams", "ingredient;g\nwater;q.s.\nglycerin;41\n", 2, "B, g", "q.s. needs per cent"},
		{"total differs", "ingredient;g\nwater;60\nglycerin;41\ntotal;141\n", 4, "B, g", "141"},
		{"two columns", "ingredient;%;pct\nwater;60;1\nglycerin;40;1\n", 1, "C, pct", "two columns"},
		{"open quote", "ingredient;%\nwater;60\n\"glycerin;40\n", 3, "", "never closes"},
		{"same name twice", "One\ningredient;%\nwater;100\n\nOne\nwater;100\n", 6, "", "two formulas"},
		{"lost", "ingredient;g\nwater;999999\nglycerin;0.1\n", 3, "B, g", "0.0001"},
	} {
		got := calc.FormulasFromCSV(c.file, "file", calc.Given())
		found := false
		for _, x := range got.Troubles {
			if x.Says == "" || x.Do == "" || x.Line < 1 {
				t.Errorf("%s: a trouble without words or place: %+v", c.name, x)
			}
			found = found || x.Line == c.line && strings.Contains(x.Column, c.column) && strings.Contains(x.Says, c.says)
		}
		if !found || got.Ready {
			t.Errorf("%s: ready %v, %+v", c.name, got.Ready, got.Troubles)
		}
	}
}

func TestWhatIsNotReadIsSaid(t *testing.T) {
	got := calc.FormulasFromCSV(soft[9].file, "soft", calc.Given())
	all := strings.Join(got.Notes, "\n")
	for _, want := range []string{"column D (g for 500)", "column E (price per kg) is not read", "column F (supplier) is not read"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not among\n%s", want, all)
		}
	}
}

func TestTheTextOfATable(t *testing.T) {
	want := "matière;%\n"
	for name, b := range map[string]string{
		"UTF-8": "\uFEFFmatière;%\n", "western": "mati\xE8re;%\n",
		"UTF-16": "\xFF\xFEm\x00a\x00t\x00i\x00\xE8\x00r\x00e\x00;\x00%\x00\n\x00", "UTF-16, the other way": "\xFE\xFF\x00m\x00a\x00t\x00i\x00\xE8\x00r\x00e\x00;\x00%\x00\n",
	} {
		if got := calc.TableText([]byte(b)); got != want {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// FuzzFormulasFromCSV: whatever stands in a file, reading ends, every trouble has words and a place, and what is called ready can be kept.
func FuzzFormulasFromCSV(f *testing.F) {
	for _, c := range soft {
		f.Add(c.file)
	}
	f.Add("ingredient;%\n\"\";\"\"\"\n;;;;\n\"a\nb\";1e9\nwater;100%%")
	f.Add("a\x00,%,g,g,g\n,,,\n\xff;=1+1")
	known := calc.Given()
	f.Fuzz(func(t *testing.T, text string) {
		got := calc.FormulasFromCSV(text, "file", known)
		if got.Ready != (len(got.Troubles) == 0) {
			t.Fatalf("ready with troubles: %+v", got)
		}
		lines := strings.Count(strings.ReplaceAll(text, "\r", "\n"), "\n") + 1
		for _, x := range got.Troubles {
			if x.Says == "" || x.Do == "" || x.Line < 1 || x.Line > lines {
				t.Fatalf("%q: %+v", text, x)
			}
		}
		for _, formula := range got.Formulas {
			if _, err := calc.ReadDraft(formula.Draft, known); err != nil && got.Ready {
				t.Fatalf("%q is ready and %v", text, err)
			}
		}
	})
}
