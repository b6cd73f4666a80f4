package calc_test

import (
	"encoding/csv"
	"io"
	"strings"
	"testing"
	"unicode/utf16"

	"stillroom/calc"
)

// Files as they come out of real spreadsheets: all of them are two rows of 60 and 40 %.
func TestAWildSpreadsheetIsTamed(t *testing.T) {
	for name, file := range map[string]string{
		"a line that names the separator":     "sep=;\ningredient;%\nwater;60\nglycerin;40\n",
		"and in capitals behind a mark":       "\uFEFFSEP=,\r\ningredient,%\r\nwater,60\r\nglycerin,40\r\n",
		"the heading anew on the second page": "ingredient;%\nwater;60\nIngredient;%\nglycerin;40\n",
		"subtotals and a total":               "phase;ingredient;%\nA;water;60\n;Subtotal;60\nA;glycerin;40\n;Grand total;100\n",
		"sums of phases":                      "phase;ingredient;%\nA;water;60\nTotal phase A;;60\nA;glycerin;40\nSumme;;100\n",
		"a total without a word":              "ingredient;%\nwater;60\nglycerin;40\n;100\n",
		"the unit in a second row":            "ingredient;amount\n;%\nwater;60\nglycerin;40\n",
		"empty columns all around":            ";;ingredient;;%;;\n;;water;;60;;\n;;glycerin;;40;;\n",
		"empty rows above":                    ";;\n;;\n;ingredient;%\n;water;60\n;glycerin;40\n",
		"a dash for nothing":                  "ingredient;%\nwater;60\nshea butter; - \nglycerin;40\nbeeswax;—\n",
		"both decimal signs in per cent":      "ingredient;%\nwater;60,00\nglycerin;40.00\n",
		"per cent signs":                      "ingredient;%\nwater;60%\nglycerin;40 %\n",
		"old line ends":                       "ingredient;%\rwater;60\rglycerin;40\r",
		"NUL":                                 "ingre\x00dient;%\n\x00water;60\nglycerin;40\x00\n",
		"quotes everywhere":                   "\"ingredient\";\"%\"\n\"water\";\"60\"\n\"glycerin\";\"40\"\n",
		"curly quotes":                        "ingredient;%\n“water”;60\n‘glycerin’;40\n",
		"a text that looks like a sum":        "ingredient;%;note\nwater;60;'=1+1\nglycerin;40;'-soft\n",
	} {
		got := calc.FormulasFromCSV(file, "f", calc.Given())
		if !got.Ready || len(got.Formulas) != 1 || len(got.Formulas[0].Lines) != 2 || got.Formulas[0].Name != "f" {
			t.Errorf("%s: %+v", name, got)
			continue
		}
		if l := got.Formulas[0].Lines; l[0].Ingredient != "water" || l[0].Percent != "60.00" || l[1].Ingredient != "glycerin" || l[1].Percent != "40.00" {
			t.Errorf("%s: %+v", name, l)
		}
	}
	for _, words := range []string{"q.s.", "Q.S. to 100%", "to 100", "ad100", "q.s. 100", "qsp 100", "ad 100 %", "rest", "add to 100", "bis 100"} {
		got := calc.FormulasFromCSV("ingredient;%\nwater;"+words+"\nglycerin;40\n", "f", calc.Given())
		if !got.Ready || !got.Formulas[0].Lines[0].QS {
			t.Errorf("%s: %+v", words, got.Troubles)
		}
	}
	got := calc.FormulasFromCSV("ingredient;%\nwater;60\nglycerin;40\ncitric acid;q.s.\n", "f", calc.Given())
	if !got.Ready || !strings.Contains(got.Formulas[0].Lines[2].Says, "nothing is left for it") {
		t.Errorf("a q.s. that gets nothing must be told: %+v", got)
	}
}

func TestAWildFigureIsRefusedInWords(t *testing.T) {
	for figure, says := range map[string]string{
		"1 084,5": "between its thousands", "1'084.5": "between its thousands", "1’084,5": "between its thousands", "1.084,5": "more than one decimal sign", "=60": "how a figure is worked out",
		"=SUM(B2:B9)": "how a figure is worked out", "#REF!": "could not work the figure out", "٦٠": "not a number", "６０": "not a number", "~60": "not a number", "as needed": "not a number", "50-60": "not a share", "6e1": "not a share",
		"NaN": "not a number", "Infinity": "not a number", "\u202e60": "not a number",
	} {
		got := calc.FormulasFromCSV("ingredient;%\nwater;"+figure+"\nglycerin;40\n", "f", calc.Given())
		if got.Ready || len(got.Troubles) == 0 || got.Troubles[0].Line != 2 || !strings.Contains(got.Troubles[0].Says, says) || got.Troubles[0].Do == "" {
			t.Errorf("%s: %+v", figure, got.Troubles)
		}
	}
}

// A file may be as large and as broken as it likes: reading ends, in words.
func TestAHostileFileEndsInWords(t *testing.T) {
	heading := "ingredient;%\n"
	for name, file := range map[string]string{
		"one line of ten megabytes":   heading + strings.Repeat("w", 10<<20),
		"a line just below the limit": heading + strings.Repeat("w", 1<<20-len(heading)-1),
		"a million separators":        heading + strings.Repeat(";", 1<<20-len(heading)-1),
		"a million quotes":            heading + strings.Repeat("\"", 1<<20-len(heading)-1),
		"half a million rows":         heading + strings.Repeat("\n", 1<<19),
		"many rows":                   heading + strings.Repeat("w;1\n", 6000),
		"many headings":               strings.Repeat(heading+"water;100\n\n", 300),
		"invalid letters":             heading + "\xff\xfe\xfd;60\nglycerin;40\n",
	} {
		got := calc.FormulasFromCSV(file, "f", calc.Given())
		if got.Ready || len(got.Troubles) == 0 {
			t.Errorf("%s: ready", name)
		}
		for _, x := range got.Troubles {
			if x.Says == "" || x.Do == "" || len(x.Says) > 500 || len(x.Do) > 500 {
				t.Errorf("%s: %.200s, %.200s", name, x.Says, x.Do)
				break
			}
		}
	}
}

// Wide letters with and without their mark, in both orders, cut in the middle.
func TestTheLettersOfATable(t *testing.T) {
	want := "Öl;%\nmatière;60\n"
	wide := utf16.Encode([]rune(want))
	little, big := []byte{}, []byte{}
	for _, u := range wide {
		little, big = append(little, byte(u), byte(u>>8)), append(big, byte(u>>8), byte(u))
	}
	for name, b := range map[string][]byte{
		"little": append([]byte{0xFF, 0xFE}, little...), "big": append([]byte{0xFE, 0xFF}, big...), "cut": append(append([]byte{0xFF, 0xFE}, little...), 0x41),
	} {
		if got := calc.TableText(b); got != want {
			t.Errorf("%s: %q", name, got)
		}
	}
	table := utf16.Encode([]rune("Zutat;%\nwater;60\nglycerin;40\n"))
	bare := []byte{}
	for _, u := range table {
		bare = append(bare, byte(u), byte(u>>8))
	}
	if got := calc.FormulasFromCSV(calc.TableText(bare), "f", calc.Given()); !got.Ready {
		t.Errorf("wide letters without their mark: %+v", got.Troubles)
	}
}

// FuzzCSVCell: a reader that we did not write gives back a cell that no spreadsheet works out, and ours gives back what was written.
func FuzzCSVCell(f *testing.F) {
	for _, s := range []string{"=1+1", "+1", "-soft", "@SUM(A1)", "\t=1", "\r=1", "'=1", "''=1", "a;b", "a,b", `say "mild"`, "two\nlines", "", "'", "plain", "=cmd|'/C calc'!A0", "ö=1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, sep := range []string{";", ",", "\t"} {
			r := csv.NewReader(strings.NewReader(calc.CSVCell(text, sep) + sep + "end\r\n"))
			r.Comma = rune(sep[0])
			row, err := r.Read()
			if strings.ContainsRune(text, '\r') || strings.ContainsRune(text, '\uFEFF') {
				continue // that reader rewrites the ends of lines
			}
			if err != nil || len(row) != 2 {
				t.Fatalf("%q: %q %v", text, row, err)
			}
			if c := strings.TrimLeft(row[0], "'"); c == row[0] && c != "" && strings.ContainsRune("=+-@\t\r", rune(c[0])) {
				t.Fatalf("%q is written as %q", text, row[0])
			}
			if _, err := r.Read(); err != io.EOF {
				t.Fatalf("%q makes more rows", text)
			}
		}
	})
}
