package given

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stillroom/calc/matter"
)

const soundEntry = "oil = an oil\n  inci Oleum\n  also oil\n  about a fat\n  is emollient\n  soluble oil\n"

func readOne(lines string) ([]matter.Ingredient, error) {
	list, _, err := readAll("practice | CP | common practice\nwhole | own | as named", "", []table{{"one.txt", soundEntry + lines}})
	return list, err
}

func TestEveryWordIsRead(t *testing.T) {
	list, err := readOne(`  grade 50
  counts nut, sunlight
  part 99.5 Oleum | practice
  part 0.5 Aqua, not listed | M+ a text
  holds 35 Linalool | practice
  usual 2 to 10 | practice
  maximum 1.1 | practice
  vanillin 0 to 2 | practice
  ph 4.5 to 6.25 10 % in water | practice
  keeps 5 to 8 | practice
  highest 100 F | practice
  flash 46 C | practice
  density 1.04 | practice
  sets 53 to 59.5 | practice
  hlb 14 to 16 | practice
  wants 12 | practice
  wants 9 | R~ another text
  flies it flies | practice
`)
	if err != nil {
		t.Fatal(err)
	}
	i := list[0]
	for what, is := range map[string]bool{
		"grade": i.Grade == "50", "counts": i.Counts("sunlight") && !i.Counts("milk"),
		"part":  len(i.Composition) == 2 && i.Composition[1] == matter.Share{INCI: "Aqua", Percent: 5000, Listed: "no", Cite: matter.Cite{Source: "a text", Mark: "M+"}},
		"holds": i.Holds[0].Percent == 35*matter.OnePercent, "usual": i.Usual.Low == 2*matter.OnePercent && i.Usual.High == 10*matter.OnePercent,
		"maximum": i.Maximum.Percent == 11_000, "vanillin": i.Vanillin.High == 2*matter.OnePercent,
		"ph": i.PHSupplied.Low == 450 && i.PHSupplied.High == 625 && i.PHSupplied.At == "10 % in water", "keeps": i.PHKeeps.High == 800,
		"highest": i.Highest.MilliC == 37_778 && i.Highest.Text == "100 F", "flash": i.FlashPoint.MilliC == 46_000, "density": i.Density.MgPerML == 1040,
		"sets": i.Melts.HighMilliC == 59_500, "hlb": i.HLB[0].Low == 140 && i.HLB[0].High == 160, "wants": len(i.WantsHLB) == 2 && i.WantsHLB[1].Low == 90,
		"flies": i.Hazards[0].Kind == "airborne powder" && i.Hazards[0].Wear != "",
	} {
		if !is {
			t.Errorf("%s was read wrongly: %+v", what, i)
		}
	}
}

// What is refused, and the line that is named: a figure without a source never comes in.
func TestWhatIsNotUnderstoodIsRefused(t *testing.T) {
	for lines, says := range map[string]string{
		"  usual 2 to 10":                                "one.txt:7: usual: a figure needs | and where it comes from",
		"  usual 2 to 10 | ":                             "neither a shared source nor a mark and a source",
		"  usual 2 to 10 | hearsay":                      "neither a shared source",
		"  usual 2 to 10 | Z a text":                     "neither a shared source",
		"  usual 10 to 2 | practice":                     "not a range",
		"  usual 2 to 10 % | practice":                   "left over",
		"  usual 2,5 to 10 | practice":                   "not a range",
		"  density 1.2345 | practice":                    "cannot be read",
		"  density -1 | practice":                        "cannot be read",
		"  density 9.9 | practice\n  density 1 | certs":  "neither",
		"  density 9 | practice\n  density 1 | practice": "one.txt:8: this stands twice",
		"  highest 100 K | practice":                     "cannot be read",
		"  inci Aqua":                                    "stands twice",
		"  grade 50 | practice":                          "takes no source",
		"  colour red | practice":                        "there is no word",
		"  part Aqua | practice":                         "cannot be read",
		"  about":                                        "says nothing",
		"second":                                         "an entry begins with key = name",
	} {
		if _, err := readOne(lines); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", lines, err, says)
		}
	}
	for row, says := range map[string]string{
		"Aqua | wet | water | text":                                                     "not a class of charge",
		"Aqua | none | water":                                                           "a substance is",
		"Aqua | none | water | ":                                                        "neither a shared source",
		"Aqua | none | water | text | maybe | text":                                     "keeping is",
		"Aqua | none | water | text | not counted | text":                               "keeping is",
		"Aqua | none | water | text\nAqua | none | water | text":                        "substances.txt:2: Aqua stands twice",
		"Benzyl Alcohol | none | preservative | text | preservative: it does so | text": "keeping is",
	} {
		if _, _, err := readAll("text | M+ | any text", row, nil); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", row, err, says)
		}
	}
}

func TestNoLineMakesTheReaderFail(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.SampledFrom(strings.Fields("inci also about is soluble grade counts part holds usual maximum vanillin ph keeps highest flash density sets hlb wants flies eye = |")).Draw(t, "word")
		list, err := readOne("  " + word + " " + rapid.StringMatching(`[0-9a-zA-Z .,|+-]{0,40}`).Draw(t, "rest"))
		if err == nil && len(list) != 1 {
			t.Fatalf("%d entries", len(list))
		}
	})
}

func TestNoSharedSourceIsLeftUnused(t *testing.T) {
	all := substancesText
	for _, file := range tables() {
		all += file.text
	}
	cited, err := readSources(sourcesText)
	if err != nil {
		t.Fatal(err)
	}
	for name := range cited {
		if name != "whole" && !strings.Contains(all, "| "+name+"\n") {
			t.Errorf("no figure comes from %s", name)
		}
	}
}

func BenchmarkReadingTheList(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := readAll(sourcesText, substancesText, tables()); err != nil {
			b.Fatal(err)
		}
	}
}
