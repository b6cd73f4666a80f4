package calc

import (
	"testing"

	"stillroom/calc/law"
)

// lawCases are the cases of the rules that answer for a region; TestEveryRuleFiresAndKeepsQuiet plays them with the others.
var lawCases = map[string][]ruleCase{
	"limit": {
		{name: "too much phenoxyethanol", lines: "water qs, phenoxyethanol-ehg 1.2", level: Stop, line: "2", says: "phenoxyethanol"},
		{name: "met exactly", lines: "water qs, sodium-benzoate 0.59", wash: "leave-on"},
		{name: "just over", lines: "water qs, sodium-benzoate 0.591", wash: "leave-on", level: Stop, line: "2"},
		{name: "rinsed off bears more", lines: "water qs, sodium-benzoate 0.8", wash: "rinse-off"},
		{name: "not said which", lines: "water qs, sodium-benzoate 0.8", level: Unchecked, line: "2", says: "rinsed off or left on"},
		{name: "summed over a base", lines: "=kept 50, phenoxyethanol-ehg 0.7, water qs", level: Stop, line: "1"},
		{name: "inside a blend and beside it", lines: "water qs, benzoate-sorbate 1.5, sodium-benzoate 0.15", wash: "leave-on", level: Stop, line: "2", says: "benzoic acid"},
		{name: "the law of another place", lines: "water qs, phenoxyethanol-ehg 1.2", region: "US"},
		{name: "a panel, not a law", lines: "water qs, sci-powder 22, betaine-30 1", wash: "leave-on", region: "US", level: Care, line: "2", says: "experts hold right"},
		{name: "by site", lines: "water qs, retinyl-palmitate 0.3", wash: "leave-on", site: "whole body", level: Stop, line: "2", says: "retinol"},
		{name: "the same on the face", lines: "water qs, retinyl-palmitate 0.3", wash: "leave-on", site: "face"},
		{name: "site not said", lines: "water qs, retinyl-palmitate 0.3", wash: "leave-on", level: Unchecked, line: "2", says: "where it is used is missing"},
		{name: "banned for the age", lines: "water qs, salicylic-acid 0.2", wash: "rinse-off", site: "body", age: "under 3", level: Stop, line: "2", says: "not allowed"},
		{name: "left on", lines: "water qs, isothiazolinones 0.05", wash: "leave-on", level: Stop, line: "2", says: "not allowed"},
		{name: "held by a scent", lines: "water qs, rose-oil 0.1", wash: "leave-on", level: Stop, line: "2", says: "methyl eugenol"},
	},
	"print": {
		{name: "vitamin A", lines: "water qs, retinyl-palmitate 0.1", wash: "leave-on", site: "face", level: Note, line: "2", says: "vitamin A"},
		{name: "gives off formaldehyde", lines: "water qs, dmdm-55 0.4", level: Note, line: "2", says: "releases formaldehyde"},
		{name: "elsewhere", lines: "water qs, dmdm-55 0.4", region: "US"},
		{name: "nothing to print", lines: "water qs, phenoxyethanol-ehg 1"},
	},
	"together": {
		{name: "one alone beside the mixture", lines: "water qs, isothiazolinones 0.05, mi 0.001", level: Stop, line: "3", says: "may not be in one product with"},
		{name: "the mixture as sold", lines: "water qs, isothiazolinones 0.05"},
		{name: "nitrosamines", lines: "water qs, triethanolamine 0.5, bronopol 0.05", level: Stop, line: "3"},
		{name: "no partner", lines: "water qs, triethanolamine 0.5"},
	},
	"colour-field": {
		{name: "no number", lines: "water qs, beetroot-powder 1", level: Stop, line: "2", says: "no colour index number"},
		{name: "charcoal", lines: "water qs, charcoal 1", region: "US", level: Stop, line: "2"},
		{name: "lips in the US", lines: "beeswax qs, ultramarine 1", site: "lip", region: "US", level: Stop, line: "2", says: "not listed for this use"},
		{name: "lips in the EU", lines: "beeswax qs, ultramarine 1", site: "lip"},
		{name: "site not said", lines: "beeswax qs, ultramarine 1", region: "US", level: Unchecked, line: "2", says: "where it is used is missing"},
		{name: "certificate", lines: "water qs, tartrazine 0.01", site: "body", region: "US", level: Care, line: "2", says: "certificate number"},
		{name: "mica blend", lines: "beeswax qs, pearl-bronze 1", site: "lip", region: "US"},
	},
	"plastic": {
		{name: "beads", lines: "water qs, plastic-beads 2", wash: "rinse-off", level: Stop, line: "2", says: "17 October 2023"},
		{name: "beads in the US", lines: "water qs, plastic-beads 2", wash: "rinse-off", region: "US", level: Stop, line: "2", says: "2017"},
		{name: "glitter that stays", lines: "beeswax qs, plastic-glitter 1", wash: "leave-on", level: Stop, line: "2", says: "2029"},
		{name: "glitter that stays, in the US", lines: "beeswax qs, plastic-glitter 1", wash: "leave-on", region: "US"},
		{name: "the maker's own", lines: "water qs, glitter 1", level: Care, line: "2"},
		{name: "slip", lines: "beeswax qs, nylon-12 1", wash: "leave-on", level: Care, line: "2"},
		{name: "seeds", lines: "water qs, apricot-grit 2", wash: "rinse-off"},
	},
	"protein": {
		{name: "peanut", lines: "peanut-oil qs", level: Stop, line: "1", says: "from peanuts"},
		{name: "peanut in the US", lines: "peanut-oil qs", region: "US", level: Note, line: "1", says: "customers ask"},
		{name: "wheat protein", lines: "water qs, wheat-protein 2", level: Stop, line: "2", says: "small"},
		{name: "nut", lines: "almond-oil qs", level: Note, line: "1", says: "from nut"},
		{name: "the maker's own", lines: "water qs, nut-meal 5", level: Note, line: "2", says: "from nut"},
		{name: "none", lines: "sunflower-oil qs"},
	},
	"sunlight": {
		{name: "left on", lines: "water qs, bergamot-oil 0.3", wash: "leave-on", level: Care, line: "2", says: "in the sun"},
		{name: "not said", lines: "water qs, bergamot-oil 0.3", level: Unchecked, line: "2", says: "rinsed off or left on is missing"},
		{name: "rinsed off", lines: "water qs, bergamot-oil 0.3", wash: "rinse-off"},
		{name: "lavender", lines: "water qs, lavender-oil 0.3", wash: "leave-on"},
	},
	"sharp": {
		{name: "face", lines: "water qs, walnut-grit 5", site: "face", level: Care, line: "2", says: "sharp for the face"},
		{name: "salt on the lips", lines: "salt 50, shea qs", site: "lip", level: Care, line: "1"},
		{name: "not said", lines: "water qs, pumice 5", level: Unchecked, line: "2", says: "where it is used"},
		{name: "feet", lines: "water qs, pumice 5", site: "foot"},
		{name: "sugar", lines: "sucrose 50, shea qs", site: "lip"},
	},
	"words": {
		{name: "Calming eczema balm", lines: "shea qs", level: Stop, says: "eczema"},
		{name: "Healing scrub", lines: "shea qs", level: Stop, says: "healing"},
		{name: "Summer cream SPF 30", lines: "shea qs", level: Stop, says: "spf"},
		{name: "Chemical-free wash", lines: "shea qs", level: Care, says: "chemical-free"},
		{name: "Foam free from parabens", lines: "shea qs", level: Care, says: "paraben-free"},
		{name: "Healthy glow paint", lines: "shea qs"},
		{name: "Whipped scrub", lines: "shea qs"},
	},
	"food": {
		{name: "Vanilla cupcakes scrub", lines: "shea qs", level: Care, says: "called like food"},
		{name: "Ice cream bath bar", lines: "shea qs", level: Care},
		{name: "Cream for hands", lines: "shea qs"},
	},
	"bleeding": {
		{name: "two colours", lines: "water qs, tartrazine 0.01, iron-oxide-red 0.5", level: Note, line: "2", says: "bleeds"},
		{name: "Layered bar", lines: "water qs, tartrazine 0.01", level: Note, line: "2"},
		{name: "one dye alone", lines: "water qs, tartrazine 0.01"},
		{name: "pigments stay", lines: "water qs, titanium-dioxide 1, iron-oxide-red 0.5"},
	},
	"colour-tomorrow": {
		{name: "red in foam", lines: "A:water qs, A:iron-oxide-red 0.5", phases: "A whip ", level: Note, line: "2", says: "tomorrow"},
		{name: "yellow in foam", lines: "A:water qs, A:iron-oxide-yellow 0.5", phases: "A whip "},
		{name: "red, not whipped", lines: "A:water qs, A:iron-oxide-red 0.5", phases: "A heat 70 C"},
	},
	"pregnancy": {
		{name: "not checked", lines: "shea qs", level: Unchecked, says: "pregnancy"},
		{name: "vitamin A", lines: "water qs, retinyl-palmitate 0.1", level: Care, line: "2", says: "vitamin A"},
		{name: "for a child", lines: "shea qs", age: "3 to 12"},
	},
	"fragrance": {
		{name: "above its certificate", lines: "shea qs, certified 1.1", wash: "rinse-off", site: "body", level: Stop, line: "2", says: "than its certificate allows in category 9"},
		{name: "two that may add up", lines: "shea qs, certified 0.6, certified-b 0.6", wash: "rinse-off", site: "body", level: Care, says: "together may pass"},
		{name: "two that cannot add up", lines: "shea qs, certified 0.5, certified-b 0.5", wash: "rinse-off", site: "body"},
		{name: "other category", lines: "shea qs, certified 0.1", wash: "leave-on", site: "body", level: Unchecked, line: "2", says: "for category 5A is missing"},
		{name: "kind not said", lines: "shea qs, certified 0.1", level: Unchecked, line: "2", says: "is missing"},
		{name: "older categories", lines: "shea qs, certified-old 0.1", wash: "rinse-off", site: "body", level: Unchecked, line: "2", says: "amendment 48"},
		{name: "no certificate", lines: "shea qs, lavender-oil 0.1", wash: "rinse-off", site: "body", level: Unchecked, line: "2", says: "certificate, which says so, is missing"},
		{name: "within it", lines: "shea qs, certified 1", wash: "rinse-off", site: "body"},
		{name: "no scent", lines: "shea qs"},
	},
	"vanillin": {
		{name: "by the certificate", lines: "shea qs, certified 0.5", level: Note, line: "2", says: "brown"},
		{name: "vanilla", lines: "shea qs, vanilla-oleoresin 0.5", level: Note, line: "2", says: "brown"},
		{name: "not known", lines: "shea qs, parfum 0.5", level: Unchecked, line: "2", says: "missing"},
		{name: "lavender", lines: "shea qs, lavender-oil 0.5"},
	},
	"allergens": {
		{name: "by the certificate", lines: "shea qs, certified 0.1", wash: "rinse-off", level: Note, line: "2", says: "Linalool"},
		{name: "left on", lines: "shea qs, lavender-oil 0.3", wash: "leave-on", level: Note, line: "2", says: "Linalool"},
		{name: "summed over two oils", lines: "shea qs, lemon-oil 0.01, orange-oil 0.005", wash: "rinse-off", level: Note, line: "2", says: "Limonene"},
		{name: "one alone", lines: "shea qs, lemon-oil 0.01", wash: "rinse-off"},
		{name: "not said", lines: "shea qs, lemon-oil 0.01", level: Unchecked, line: "2", says: "rinsed off or left on is missing"},
		{name: "no statement", lines: "shea qs, parfum 0.5", wash: "leave-on", level: Unchecked, line: "2", says: "the allergens of parfum are missing"},
		{name: "not asked for in the US", lines: "shea qs, lavender-oil 0.3", wash: "leave-on", region: "US"},
	},
	"tables": {
		{name: "counted", lines: "water qs, phenoxyethanol-ehg 1", level: Unchecked, says: "not in this book's tables"},
		{name: "all found", lines: "benzyl qs"},
	},
}

func TestEveryLimitCountsWhatItCanConvert(t *testing.T) {
	for i := range law.Limits {
		l := &law.Limits[i]
		for _, inci := range l.Substances {
			if l.Counted == "acid" && findForm(inci) == nil || l.Counted == "retinol" && retinols[inci] == 0 {
				t.Errorf("%s counts %s as %s and knows no factor", l.Name, inci, l.Counted)
			}
		}
	}
	for _, a := range acids {
		if a.from.Source == "" || a.from.Mark == "" {
			t.Errorf("%s has no source or mark", a.name)
		}
	}
}
