package calc_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

// published reads a check table; a row without source, mark, expected or tolerance fails the test.
func published(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "published", name+".csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(all) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	var rows []map[string]string
	for n, cells := range all[1:] {
		row := map[string]string{}
		for i, cell := range cells {
			row[all[0][i]] = cell
		}
		for _, must := range []string{"check", "expected", "tolerance", "source", "mark"} {
			if row[must] == "" {
				t.Fatalf("%s row %d has no %s", name, n+2, must)
			}
		}
		if !strings.Contains(" R R~ M M+ M? C T CP own ", " "+row["mark"]+" ") {
			t.Fatalf("%s row %d: there is no mark %q", name, n+2, row["mark"])
		}
		rows = append(rows, row)
	}
	return rows
}

func near(t *testing.T, row map[string]string, got decimal.Decimal) {
	t.Helper()
	want, tolerance := decimal.RequireFromString(row["expected"]), decimal.RequireFromString(row["tolerance"])
	if got.Sub(want).Abs().GreaterThan(tolerance) {
		t.Errorf("check %s %v: got %s, want %s ± %s (%s)", row["check"], row, got, want, tolerance, row["source"])
	}
}

func TestPublishedConversions(t *testing.T) {
	for _, row := range published(t, "conversions") {
		got, err := calc.Convert(row["value"], row["to"], row["density"])
		if err != nil {
			t.Errorf("check %s: %v", row["check"], err)
			continue
		}
		near(t, row, got)
	}
}

func TestNetContentsAreNeverOverstated(t *testing.T) {
	for _, row := range published(t, "net-contents-down") {
		var got struct{ Down, Unit string }
		ask(t, "units", `{"value":"`+row["value"]+`","to":"`+row["to"]+`"}`, &got)
		near(t, row, decimal.RequireFromString(strings.TrimSuffix(got.Down, " "+got.Unit)))
	}
}

// blendBook knows two solutions, and bases preserved at some per cent.
func blendBook(t *testing.T, lines string) (calc.Formula, calc.Known) {
	t.Helper()
	k := calc.Given()
	cite := calc.Cite{Source: "made up for this check", Mark: "T"}
	solution := func(key, inci string, active calc.Percent) {
		k.Ingredients[key] = &calc.Ingredient{Key: key, Name: key, Composition: []calc.Share{
			{INCI: inci, Percent: active, Listed: "yes", Cite: cite}, {INCI: "Aqua", Percent: calc.Hundred - active, Listed: "yes", Cite: cite}}}
	}
	solution("betaine70", "Cocamidopropyl Betaine", 30*calc.OnePercent)
	solution("sles70", "Sodium Laureth Sulfate", 70*calc.OnePercent)
	solution("preservative", "Phenoxyethanol", calc.Hundred)
	var f calc.Formula
	for i, part := range strings.Split(lines, ";") {
		l := calc.Line{ID: strconv.Itoa(i)}
		if rest, ok := strings.CutPrefix(part, "base:"); ok {
			share, at, _ := strings.Cut(rest, "@")
			k.Bases["base"] = &calc.Formula{Key: "base", Name: "base", Lines: []calc.Line{{ID: "1", Ingredient: "water", QS: true}, {ID: "2", Ingredient: "preservative", Percent: percent(t, share)}}}
			l.Base, l.Percent = "base", percent(t, at)
		} else {
			key, p, _ := strings.Cut(part, "=")
			l.Ingredient, l.Percent = key, percent(t, p)
		}
		f.Lines = append(f.Lines, l)
	}
	return f, k
}

func percent(t *testing.T, text string) calc.Percent {
	t.Helper()
	p, err := calc.ReadPercent(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPublishedBlends(t *testing.T) {
	for _, row := range published(t, "blends") {
		f, k := blendBook(t, row["lines"])
		a, err := calc.TakeApart(f, k)
		if err != nil {
			t.Errorf("check %s: %v", row["check"], err)
			continue
		}
		got := decimal.Decimal{}
		for _, p := range append(a.Substances, a.Supplied...) {
			for _, want := range strings.Split(row["substance"], "+") {
				if p.Key == want {
					got = got.Add(p.Percent)
				}
			}
		}
		near(t, row, got)
	}
}

func TestPublishedLimits(t *testing.T) {
	for _, row := range published(t, "limits") {
		k := calc.Given()
		k.Region = row["region"]
		f := calc.Formula{Wash: row["wash"], Site: row["site"], Age: row["age"]}
		for i, part := range strings.Split(row["substances"], ";") {
			inci, p, _ := strings.Cut(part, "=")
			k.Ingredients[inci] = &calc.Ingredient{Key: inci, Name: inci, Composition: []calc.Share{{INCI: inci, Percent: calc.Hundred, Listed: "yes"}}}
			f.Lines = append(f.Lines, calc.Line{ID: strconv.Itoa(i), Ingredient: inci, Percent: percent(t, p)})
		}
		f.Lines = append(f.Lines, calc.Line{ID: "rest", Ingredient: "sucrose", QS: true})
		failed := false
		for _, x := range calc.Findings(f, k, 0) {
			if x.Rule != "limit" || x.Level == calc.Care { // what a panel or an entry for another purpose holds right is no ban
				continue
			}
			if x.Level != calc.Stop {
				t.Errorf("check %s: level %s", row["check"], x.Level)
			}
			failed = true
			if row["figure"] != "" && x.Figure != row["figure"]+" %" {
				t.Errorf("check %s: figure %s, want %s", row["check"], x.Figure, row["figure"])
			}
			if x.Source == "" || x.Limit == "" {
				t.Errorf("check %s: limit or source is missing", row["check"])
			}
		}
		if failed != (row["expected"] == "fail") {
			t.Errorf("check %s: failed=%v, want %s (%s)", row["check"], failed, row["expected"], row["source"])
		}
	}
}

func TestPublishedUndissociatedShares(t *testing.T) {
	pKa := map[string]float64{"benzoic acid": 4.204, "sorbic acid": 4.76, "dehydroacetic acid": 5.27, "salicylic acid": 2.98, "levulinic acid": 4.64, "p-anisic acid": 4.47}
	for _, row := range published(t, "undissociated") {
		pH, err := strconv.ParseFloat(row["ph"], 64)
		if err != nil || pKa[row["acid"]] == 0 {
			t.Fatalf("row %v cannot be read", row)
		}
		near(t, row, calc.Undissociated(pH, pKa[row["acid"]]))
	}
}

func TestPublishedAcidFactors(t *testing.T) {
	for _, row := range published(t, "acid-factors") {
		near(t, row, calc.AsAcid(row["substance"], decimal.New(1, 0)))
	}
}

func TestPublishedCheckCharacters(t *testing.T) {
	for _, row := range published(t, "check-characters") {
		if got, ok := calc.CheckCharacter(row["body"]); !ok || string(got) != row["expected"] {
			t.Errorf("%s: got %c, want %s", row["body"], got, row["expected"])
		}
	}
}

func TestPublishedQRVersions(t *testing.T) {
	unit := map[string]string{"byte": "a", "alphanumeric": "A", "numeric": "7"}
	for _, row := range published(t, "qr-versions") {
		n, _ := strconv.Atoi(row["length"])
		modules, version, mm, err := calc.QR(strings.Repeat(unit[row["mode"]], n))
		if err != nil {
			t.Errorf("%v: %v", row, err)
			continue
		}
		if strconv.Itoa(version) != row["expected"] || len(modules) != 17+4*version || mm != row["mm"] {
			t.Errorf("%s %s: version %d, %d modules, %s mm; want %s, %s mm", row["mode"], row["length"], version, len(modules), mm, row["expected"], row["mm"])
		}
	}
}

func TestPublishedScale(t *testing.T) {
	for _, row := range published(t, "scale") {
		var lines []string
		for _, part := range strings.Split(row["lines"], ";") {
			id, p, _ := strings.Cut(part, "=")
			p, step, _ := strings.Cut(p, "@")
			p, most, _ := strings.Cut(p, "<")
			if p == "qs" {
				lines = append(lines, `{"id":"`+id+`","qs":true}`)
			} else {
				lines = append(lines, `{"id":"`+id+`","percent":"`+p+`","max":"`+most+`","step":"`+step+`"}`)
			}
		}
		request := `{"batch":"` + row["batch"] + `","jars":"` + row["jars"] + `","fill":"` + row["fill"] + `","loss":"` + row["loss"] + `","step":"` + row["step"] + `","lines":[` + strings.Join(lines, ",") + `]}`
		var got struct {
			Batch string
			Lines []struct{ ID, Grams, TruePercent string }
		}
		ask(t, "scale", request, &got)
		answers := map[string]string{"batch": got.Batch}
		for _, l := range got.Lines {
			answers[l.ID], answers["true "+l.ID] = l.Grams, l.TruePercent
		}
		text := strings.ReplaceAll(strings.TrimSuffix(answers[row["line"]], " g"), ",", "")
		near(t, row, decimal.RequireFromString(text))
	}
}
