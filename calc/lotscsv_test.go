package calc_test

import (
	"strings"
	"testing"

	"stillroom/calc"
)

// The same delivery as several makers and countries would write it.
func TestAListOfLotsIsReadHoweverItIsWritten(t *testing.T) {
	for name, file := range map[string]string{
		"plain":                         "ingredient;g;supplier;lot;expiry;cost;code\nGlycerin;1500;Dune;77-A;2027-11-30;12.50;G7\n",
		"kilograms, commas, money":      "Rohstoff;Menge (kg);Lieferant;Chargennummer;MHD;Preis;Kürzel\nGlycerin;1,5;Dune;77-A;2027-11-30;12.50 €;G7\n",
		"tabs and another order":        "EXP. DATE\tVendor\tSupplier's lot\tCode\tQuantity g\tINCI\tPrice EUR\n2027-11-30\tDune\t77-A\tG7\t1500\tGlycerin\t€ 12.50\n",
		"the unit in the cell":          "what,qty,supplier,lot no.,best before,cost,tub\n\"Glycerin\",\"1.5 kg\",Dune,77-A,2027-11-30,12.50,G7\nTotal,1.5 kg,,,,12.50,\n",
		"a title above, a price per kg": "My shelf;;;;;;;\n\nZutat;Bestand g;Preis/kg;Lieferant;Charge;MHD;Preis;Code\nGlycerin;1500;8,33;Dune;77-A;2027-11-30;12.50;G7\n",
	} {
		got := calc.LotsFromCSV(file, calc.Given())
		if len(got.Troubles) != 0 || len(got.Lots) != 1 {
			t.Errorf("%s: %+v", name, got)
			continue
		}
		if l := got.Lots[0]; l.Ingredient != "glycerin" || l.Grams != "1500" || l.Supplier != "Dune" || l.SupplierLot != "77-A" || l.Expiry != "2027-11-30" || l.Cost != "12.50" || l.Code != "G7" {
			t.Errorf("%s: %+v", name, l)
		}
	}
}

func TestWhatStandsInTheWayOfALotHasItsPlace(t *testing.T) {
	for _, c := range []struct {
		name, file   string
		line         int
		column, says string
	}{
		{"nothing", "", 1, "", "no heading"},
		{"a formula", "ingredient;%\nwater;100\n", 1, "", "no heading"},
		{"only a heading", "ingredient;g\n", 1, "", "no row under it"},
		{"unknown", "ingredient;g\nmoon dust;5\n", 2, "A, ingredient", "moon dust"},
		{"no name", "ingredient;g\n;5\n", 2, "A, ingredient", "which ingredient"},
		{"no amount", "ingredient;g\nglycerin;\n", 2, "B, g", "how much came"},
		{"no unit", "ingredient;amount\nglycerin;5\n", 2, "B, amount", "grams or kilograms"},
		{"below nothing", "ingredient;g\nglycerin;-5\n", 2, "B, g", "below nothing"},
		{"spoons", "ingredient;g\nglycerin;2 tbsp\n", 2, "B, g", "guess"},
		{"comma without quotes", "ingredient,kg\nglycerin,1,5\n", 2, "C", "more cells"},
		{"open quote", "ingredient;g\n\"glycerin;5\n", 2, "", "never closes"},
		{"less than a milligram", "ingredient;g\nglycerin;0.0001\n", 2, "B, g", "less than a milligram"},
	} {
		got := calc.LotsFromCSV(c.file, calc.Given())
		found := false
		for _, x := range got.Troubles {
			found = found || x.Line == c.line && strings.Contains(x.Column, c.column) && strings.Contains(x.Says, c.says) && x.Do != ""
		}
		if !found {
			t.Errorf("%s: %+v", c.name, got.Troubles)
		}
	}
	got := calc.FormulasFromCSV("Zutat;g;Lieferant;MHD\nGlycerin;5;Dune;2027-05\n", "shelf", calc.Given())
	if got.Ready || !strings.Contains(got.Troubles[0].Says, "list of what came in") {
		t.Errorf("a list of lots must not become a formula: %+v", got)
	}
}

// A sign of money goes, the point of a figure stays: what is left is judged where money is read, and refused there by its row.
func TestTheSignOfAMoneyGoesAndItsPointStays(t *testing.T) {
	for _, c := range []struct{ typed, want string }{
		{"12.50", "12.50"}, {"€ 12,50", "12,50"}, {"12.50 EUR", "12.50"}, {"US$12.50", "12.50"}, {"£12", "12"},
		{"Fr. 12.50", "12.50"}, {"12.50 Fr.", "12.50"}, {"sFr. 75", "75"}, {"CHF 75", "75"}, {"Fr.12.50", "12.50"}, {"Fr.12,50", "12,50"},
		{".75", ".75"}, {"$.75", ".75"}, {"$ .75", ".75"}, {".75 €", ".75"}, {".75 Fr.", ".75"}, {"Fr. .75", ".75"},
		{"Fr.75", "Fr.75"}, {"CHF.75", "CHF.75"}, {"75.", "75."}, {".", "."}, {"€", ""}, {"", ""}, {"Fr.", ""},
	} {
		got := calc.LotsFromCSV("ingredient;g;cost\nglycerin;5;"+c.typed+"\n", calc.Given())
		if len(got.Lots) != 1 || got.Lots[0].Cost != c.want {
			t.Errorf("%q: %+v", c.typed, got)
		}
	}
}

// FuzzLotsFromCSV: whatever stands in a file, reading ends, and every trouble has words and a place.
func FuzzLotsFromCSV(f *testing.F) {
	f.Add("ingredient;g;supplier;lot;expiry;cost;code\nGlycerin;1500;Dune;77-A;2027-11-30;12.50;G7\n")
	f.Add("a\x00,g,kg,lot\n,,,\n\xff;=1+1\n\"")
	known := calc.Given()
	f.Fuzz(func(t *testing.T, text string) {
		got := calc.LotsFromCSV(text, known)
		lines := strings.Count(strings.ReplaceAll(text, "\r", "\n"), "\n") + 1
		for _, x := range got.Troubles {
			if x.Says == "" || x.Do == "" || x.Line < 1 || x.Line > lines {
				t.Fatalf("%q: %+v", text, x)
			}
		}
		for _, l := range got.Lots {
			if _, err := calc.ReadGrams(l.Grams); l.Trouble == "" && err != nil {
				t.Fatalf("%q: %+v %v", text, l, err)
			}
		}
	})
}
