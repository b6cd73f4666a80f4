package calc

import (
	"maps"
	"strings"
	"testing"

	"stillroom/calc/matter"
)

// ruleBook is the given list with a few things that only these cases need.
func ruleBook() Known {
	k := Given()
	made := Cite{Source: "made up for this case", Mark: "T"}
	one := func(key, inci string, functions ...string) *Ingredient {
		i := &Ingredient{Key: key, Name: key, INCI: inci, Functions: functions, Composition: []Share{{INCI: inci, Percent: Hundred, Listed: "yes", Cite: made}}}
		k.Ingredients[key] = i
		return i
	}
	one("mi", "Methylisothiazolinone", "preservative")
	one("bronopol", "2-Bromo-2-Nitropropane-1,3-Diol", "preservative")
	one("quat", "Benzalkonium Chloride", "preservative")
	one("mystery", "Mysterium")
	one("own-keeper", "Benzyl Alcohol", "preservative").Own = true
	one("oat-dust", "Avena Sativa Kernel Flour").CountsAs = []string{"plant powder"}
	one("honey-water", "Mel").CountsAs = []string{"food for microbes"}
	one("nut-meal", "Corylus Avellana Seed Powder").CountsAs = []string{"nut"}
	one("glitter", "Polyethylene Terephthalate").CountsAs = []string{"plastic"}
	one("own-red", "Rubrum", "colour").Own = true
	juice := func(key, keeper string) {
		k.Ingredients[key] = &Ingredient{Key: key, Name: key, Functions: []string{"extract"}, Composition: []Share{{INCI: "Aqua", Percent: Hundred - OnePercent/2, Listed: "yes", Cite: made},
			{INCI: keeper, Percent: OnePercent / 2, Listed: "yes", Cite: made}}}
	}
	juice("kept-juice", "Phenoxyethanol")
	juice("odd-juice", "Benzethonium Chloride")
	one("vitamin-c", "Ascorbic Acid")
	one("benzyl", "Benzyl Alcohol", "solvent")
	one("sour", "Parfum").PHKeeps = &matter.PHRange{Low: 300, High: 450, Cite: made}
	one("alkaline", "Parfum").PHKeeps = &matter.PHRange{Low: 800, High: 1000, Cite: made}
	one("lye", "Sodium Hydroxide")
	fat := one("stearic-pure", "Stearic Acid", "structure")
	fat.Soluble = "oil"
	fat = one("strange-fat", "Mysterium Oil", "emollient")
	fat.Soluble = "oil"
	one("paraben", "Methylparaben", "preservative")
	one("tea", "Triethanolamine")
	one("bronopol", "2-Bromo-2-Nitropropane-1,3-Diol", "preservative")
	one("smelly", "Parfum", "scent")
	one("flashy", "Parfum", "scent").FlashPoint = &Temperature{MilliC: 50_000, Text: "50 C", Cite: made}
	certified := one("certified", "Parfum", "scent")
	certified.Certificate = &matter.Certificate{Scheme: "IFRA", Amendment: 51, Maxima: []matter.CategoryMax{{Category: "9", Percent: OnePercent}}, Cite: made}
	certified.Vanillin, certified.Holds = &matter.Range{Low: 5 * OnePercent, High: 5 * OnePercent, Cite: made}, []Share{{INCI: "Linalool", Percent: 20 * OnePercent, Cite: made}}
	other := one("certified-b", "Parfum", "scent")
	other.Certificate = &matter.Certificate{Scheme: "IFRA", Amendment: 51, Maxima: certified.Certificate.Maxima, Cite: made}
	old := one("certified-old", "Parfum", "scent")
	old.Certificate = &matter.Certificate{Scheme: "IFRA", Amendment: 48, Maxima: certified.Certificate.Maxima, Cite: made}
	one("urea", "Urea", "grit").Soluble = "water"
	one("sand", "Silica", "grit").Soluble = "neither"
	k.Ingredients["tap"] = &Ingredient{Key: "tap", Name: "water", INCI: "Aqua", Functions: []string{"water"}, Composition: k.Ingredients["water"].Composition}
	base := func(key, name string, lines ...Line) { k.Bases[key] = &Formula{Key: key, Name: name, Lines: lines} }
	base("ring", "ring", Line{Base: "ring", Percent: Hundred})
	base("airy", "airy", Line{Ingredient: "water", Percent: OnePercent})
	base("whip", "whipped base", Line{Ingredient: "water", QS: true}, Line{Ingredient: "betaine-30", Percent: 30 * OnePercent}, Line{Ingredient: "sci-powder", Percent: 20 * OnePercent})
	base("kept", "kept base", Line{Ingredient: "water", QS: true}, Line{Ingredient: "benzyl-dehydroacetic", Percent: OnePercent}, Line{Ingredient: "phenoxyethanol-ehg", Percent: OnePercent})
	return k
}

func caseFormula(t *testing.T, c ruleCase) Formula {
	t.Helper()
	d := Draft{Name: c.name, Wash: c.wash, Age: c.age, Site: c.site}
	for _, p := range strings.Split(c.phases, ";") {
		if word := strings.SplitN(strings.TrimLeft(p, " "), " ", 3); len(word) == 3 {
			d.Phases = append(d.Phases, DraftPhase{Letter: word[0], Treatment: DraftTreatment{Do: word[1], To: word[2]}})
		}
	}
	f, _, wrong := readDraft(&d, Known{})
	if len(wrong) > 0 {
		t.Fatal(wrong)
	}
	for i, text := range strings.Split(c.lines, ",") {
		text, marked := strings.CutSuffix(strings.TrimSpace(text), "!")
		key, share, _ := strings.Cut(text, " ")
		l := Line{ID: string(rune('1' + i)), Compatible: marked, QS: share == "qs"}
		if phase, rest, found := strings.Cut(key, ":"); found {
			l.Phase, key = phase, rest
		}
		if base, found := strings.CutPrefix(key, "="); found {
			l.Base = base
		} else {
			l.Ingredient = key
		}
		if !l.QS {
			p, err := ReadPercent(share)
			if err != nil {
				t.Fatal(err)
			}
			l.Percent = p
		}
		f.Lines = append(f.Lines, l)
	}
	return f
}

func TestEveryRuleFiresAndKeepsQuiet(t *testing.T) {
	maps.Copy(ruleCases, lawCases)
	k := ruleBook()
	for _, r := range rules {
		fires, quiet := false, false
		for _, c := range ruleCases[r.name] {
			f := caseFormula(t, c)
			f.Lines = Total(f.Lines).Lines
			var got *Finding
			k.Region = c.region
			for _, x := range judge(&f, k, c.pH, weighed{batch: c.batch, step: c.step}) {
				if x.Rule == r.name && (got == nil || c.says != "" && !strings.Contains(got.Says, c.says)) {
					got = &x
				}
			}
			switch {
			case c.level == "":
				quiet = true
				if got != nil {
					t.Errorf("%s, %s: must say nothing, says %+v", r.name, c.name, *got)
				}
				continue
			case got == nil:
				t.Errorf("%s, %s: says nothing", r.name, c.name)
				continue
			}
			fires = true
			if got.Level != c.level || c.line != "" && got.Subject != c.line || !strings.Contains(got.Says, c.says) {
				t.Errorf("%s, %s: got %+v", r.name, c.name, *got)
			}
			if got.Level == Wear && (len([]rune(got.Says)) > 60 || got.Do == "") {
				t.Errorf("%s, %s: what to wear must fit on a phone, the rest stands in do: %+v", r.name, c.name, *got)
			}
			if got.Source == "" {
				t.Errorf("%s, %s: a finding without a source", r.name, c.name)
			}
			if got.Level == Unchecked && !strings.HasPrefix(got.Says, "not checked: ") {
				t.Errorf("%s, %s: what is not checked must say so: %s", r.name, c.name, got.Says)
			}
		}
		if !fires || !quiet {
			t.Errorf("rule %s: a case that fires it: %v, a case that does not: %v", r.name, fires, quiet)
		}
	}
	if len(ruleCases) != len(rules) {
		t.Errorf("there are %d rules and cases for %d", len(rules), len(ruleCases))
	}
}
