package calc

import (
	"sort"
	"strings"

	"github.com/shopspring/decimal"
)

// rule is one check: a small function in a file named after it, its source beside it.
type rule struct {
	name string
	look func(*evidence) []Finding
}

// rules in the order in which their findings are shown within one line and level.
var rules = []rule{
	{"base", ruleBase},
	{"charge", ruleCharge},
	{"preservative", rulePreservative},
	{"limit", ruleLimit},
	{"print", rulePrint},
	{"together", ruleTogether},
	{"colour-field", ruleColourField},
	{"plastic", rulePlastic},
	{"protein", ruleProtein},
	{"sunlight", ruleSunlight},
	{"sharp", ruleSharp},
	{"food", ruleFood},
	{"range", ruleRange},
	{"smallest", ruleSmallest},
	{"keeping-ph", ruleKeepingPH},
	{"keeping-window", ruleKeepingWindow},
	{"alkaline", ruleAlkaline},
	{"added-hot", ruleAddedHot},
	{"melts", ruleMelts},
	{"flammable", ruleFlammable},
	{"isethionate", ruleIsethionate},
	{"mixing", ruleMixing},
	{"emulsion", ruleEmulsion},
	{"water-activity", ruleWaterActivity},
	{"grit", ruleGrit},
	{"grit-hot", ruleGritHot},
	{"grit-order", ruleGritOrder},
	{"benzoate-ascorbic", ruleBenzoateAscorbic},
	{"free-alkali", ruleFreeAlkali},
	{"binding", ruleBinding},
	{"amines", ruleAmines},
	{"crystals", ruleCrystals},
	{"bleeding", ruleBleeding},
	{"colour-tomorrow", ruleColourTomorrow},
	{"words", ruleWords},
	{"soap-word", ruleSoapWord},
	{"salt", ruleSalt},
	{"grainy", ruleGrainy},
	{"softer", ruleSofter},
	{"under-three", ruleUnderThree},
	{"pregnancy", rulePregnancy},
	{"mist", ruleMist},
	{"free-oil", ruleFreeOil},
	{"firmer", ruleFirmer},
	{"water-named", ruleWaterNamed},
	{"wear-powder", ruleWearPowder},
	{"wear-eyes", ruleWearEyes},
	{"wear-hot", ruleWearHot},
	{"own-keeper", ruleOwnKeeper},
	{"counts-as", ruleCountsAs},
	{"fragrance", ruleFragrance},
	{"vanillin", ruleVanillin},
	{"allergens", ruleAllergens},
	{"undescribed", ruleUndescribed},
	{"tables", ruleTables},
}

// evidence is what the rules judge from, worked out once for all of them.
type evidence struct {
	f     *Formula
	k     Known
	pH    int // hundredths; 0 when not measured
	apart Apart
	err   *FieldError // why the formula could not be taken apart, nil when it could
	place map[string]int
	at    map[string]int   // INCI → index in apart.Substances
	held  map[string]*Part // what scents and extracts hold beside their composition, by INCI
	// weighed is what the plan makes of the lines on the scale, where a plan stands.
	weighed weighed
}

func gatherEvidence(f *Formula, k Known, pH int) *evidence {
	e := &evidence{f: f, k: k, pH: pH, place: make(map[string]int, len(f.Lines)), at: map[string]int{}}
	e.apart, e.err = takeApart(f, k)
	if e.err != nil {
		// the lines that are not the broken base are still judged
		whole := *f
		whole.Lines = nil
		for _, l := range f.Lines {
			if l.Base == "" {
				whole.Lines = append(whole.Lines, l)
			}
		}
		e.apart, _ = takeApart(&whole, k)
	}
	for i, l := range f.Lines {
		e.place[l.ID] = i
	}
	for i, s := range e.apart.Substances {
		e.at[s.Key] = i
	}
	e.holding()
	return e
}

// amount is a substance's share in the whole formula, in per cent.
func (e *evidence) amount(inci string) decimal.Decimal {
	if i, ok := e.at[inci]; ok {
		return e.apart.Substances[i].Percent
	}
	return decimal.Decimal{}
}

func (e *evidence) part(inci string) *Part {
	if i, ok := e.at[inci]; ok {
		return &e.apart.Substances[i]
	}
	return nil
}

func (e *evidence) line(id string) *Line {
	if i, ok := e.place[id]; ok {
		return &e.f.Lines[i]
	}
	return nil
}

// ingredient is what a line is, nil for a base or when it is not known.
func (e *evidence) ingredient(l *Line) *Ingredient {
	if l == nil || l.Base != "" {
		return nil
	}
	return e.k.Ingredients[l.Ingredient]
}

// phaseOf is the phase of a line, "" for no line.
func (e *evidence) phaseOf(id string) string {
	if l := e.line(id); l != nil {
		return l.Phase
	}
	return ""
}

// first is the first of a part's lines, where its finding stands.
func first(p *Part) string {
	if len(p.Lines) == 0 {
		return ""
	}
	return p.Lines[0]
}

// nameLines writes the names of lines as a list: "glycerin, sucrose and shea butter".
func (e *evidence) nameLines(ids []string) string {
	names := make([]string, 0, len(ids))
	for _, id := range ids {
		if l := e.line(id); l != nil {
			names = append(names, e.k.name(*l))
		}
	}
	return list(names)
}

func list(names []string) string {
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// show writes an exact per cent to at most four decimals, at least two.
func show(d decimal.Decimal) string {
	return Percent(d.Shift(4).Round(0).IntPart()).String()
}

// Findings runs every check over a formula, the gravest first, and in the order of its lines within one level. pH is the product's, measured, in
// hundredths; 0 means that it was not measured. Nothing is judged that is not known: what is missing is a finding of its own.
func Findings(f Formula, k Known, pH int) []Finding {
	f.Lines = Total(f.Lines).Lines
	return judge(&f, k, pH, weighed{})
}

func judge(f *Formula, k Known, pH int, w weighed) []Finding {
	e := gatherEvidence(f, k, pH)
	e.weighed = w
	var out []Finding
	for _, r := range rules {
		out = append(out, r.look(e)...)
	}
	sort.SliceStable(out, func(a, b int) bool {
		if x, y := weight(out[a].Level), weight(out[b].Level); x != y {
			return x < y
		}
		return e.order(out[a].Subject) < e.order(out[b].Subject)
	})
	return out
}

func (e *evidence) order(id string) int {
	if i, ok := e.place[id]; ok {
		return i
	}
	return -1
}

func weight(l Level) int {
	switch l {
	case Stop:
		return 0
	case Care:
		return 1
	case Wear:
		return 2
	case Note:
		return 3
	}
	return 4
}
