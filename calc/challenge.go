package calc

import (
	"math"
	"strconv"
	"strings"
)

// Organism is one microbe of a challenge test with its counts in CFU per gram or mL. Kind is bacteria, yeast or mould. A count of 0 stands for "none
// found"; Limit is the least that the method can find, above 0.
type Organism struct {
	Name, Kind string
	Start      float64
	Counts     map[int]float64 // by day
	Limit      float64
	// Reductions are those days of which the report gives logs instead of counts; they stand before the counts.
	Reductions map[int]LogReduced
}

// LogReduced is a reduction as a report states it, in powers of ten; AtLeast where none was found any more.
type LogReduced struct {
	Logs    float64
	AtLeast bool
}

// LogReduction is log10(start) − log10(now). Where none was found the method's limit stands for it, and atLeast is true.
func (o *Organism) LogReduction(day int) (logs float64, atLeast, known bool) {
	if r, said := o.Reductions[day]; said {
		return r.Logs, r.AtLeast, true
	}
	now, ok := o.Counts[day]
	if !ok || o.Start <= 0 {
		return 0, false, false
	}
	limit := max(o.Limit, 1)
	if now < limit {
		return math.Log10(o.Start) - math.Log10(limit), true, true
	}
	return math.Log10(o.Start) - math.Log10(now), false, true
}

// demand is what a criterion asks of a kind of microbe: at a day so many logs, or no increase since an earlier day. since 0 is the start.
type demand struct {
	day   int
	logs  float64
	since int // −1 asks for logs
}

// criterion is one set of demands. The method's spread of half a log is allowed, as both standards do.
type criterion struct {
	name   string
	kinds  map[string][]demand
	spread float64
	from   Cite
}

// spreadLogs is what counts as "no increase", and what ISO 11930 allows for measurement.
const spreadLogs = 0.5

var criteria = []criterion{
	{"ISO 11930 A", map[string][]demand{
		"bacteria": {{7, 3, -1}, {14, 3, -1}, {14, 0, 7}, {28, 3, -1}, {28, 0, 14}},
		"yeast":    {{7, 1, -1}, {14, 1, -1}, {14, 0, 7}, {28, 1, -1}, {28, 0, 14}},
		"mould":    {{14, 0, -1}, {28, 1, -1}},
	}, 0.5, Cite{Source: "ISO 11930 criterion A as quoted by two testing laboratories; half a log allowed for measurement, as quoted by a third", Mark: "R"}},
	{"ISO 11930 B", map[string][]demand{
		"bacteria": {{14, 3, -1}, {28, 0, 14}},
		"yeast":    {{14, 1, -1}, {28, 0, 14}},
		"mould":    {{14, 0, -1}, {28, 0, 14}},
	}, 0.5, Cite{Source: "ISO 11930 criterion B as quoted by two testing laboratories; half a log allowed for measurement, as quoted by a third", Mark: "R"}},
	{"USP <51> category 2", map[string][]demand{
		"bacteria": {{14, 2, -1}, {28, 0, 14}},
		"yeast":    {{14, 0, 0}, {28, 0, 0}},
		"mould":    {{14, 0, 0}, {28, 0, 0}},
	}, 0, Cite{Source: "USP <51> (USP 29), topical; no increase is at most 0.5 log", Mark: "R"}},
	{"USP <51> category 1", map[string][]demand{
		"bacteria": {{7, 1, -1}, {14, 3, -1}, {28, 0, 14}},
		"yeast":    {{7, 0, 0}, {14, 0, 0}, {28, 0, 0}},
		"mould":    {{7, 0, 0}, {14, 0, 0}, {28, 0, 0}},
	}, 0, Cite{Source: "USP <51> (USP 29), injections and the like, shown for comparison; no increase is at most 0.5 log. The demands of yeast and mould from memory", Mark: "R"}},
}

// wantedOrganism is one microbe that both standards ask to be tested.
type wantedOrganism struct{ name, kind, species, old string }

// wanted are those of ISO 11930 and of USP <51>, which ask for the same five (from memory). A mould may stand under its older name.
var wanted = []wantedOrganism{
	{"Pseudomonas aeruginosa", "bacteria", "aeruginosa", ""},
	{"Staphylococcus aureus", "bacteria", "aureus", ""},
	{"Escherichia coli", "bacteria", "coli", ""},
	{"Candida albicans", "yeast", "albicans", ""},
	{"Aspergillus brasiliensis", "mould", "brasiliensis", "niger"},
}

// among tells whether it was typed, by its species, with or without its genus and strain: "P. aeruginosa ATCC 9027".
func (w *wantedOrganism) among(all []Organism) bool {
	for i := range all {
		for _, word := range strings.FieldsFunc(strings.ToLower(all[i].Name), func(r rune) bool { return (r < 'a' || r > 'z') && r != '-' }) {
			if all[i].Kind == w.kind && (word == w.species || w.old != "" && word == w.old) {
				return true
			}
		}
	}
	return false
}

// CriterionResult is one criterion over all organisms: met, not met or not known, with what speaks against it.
type CriterionResult struct {
	Name, Met, Source string
	Against, Missing  []string
}

// JudgeChallenge holds the counts against ISO 11930 A and B and USP <51>. A microbe that the test asks for and
// that was not typed is missing, so the answer is not known. It is the laboratory that judges; this shows its sum.
func JudgeChallenge(all []Organism) []CriterionResult {
	out := make([]CriterionResult, 0, len(criteria))
	for _, c := range criteria {
		r := CriterionResult{Name: c.name, Met: "met", Source: c.from.String()}
		r.Source += "; the five microbes of the test from memory"
		for i := range all {
			for _, d := range c.kinds[all[i].Kind] {
				d.judge(&all[i], c.spread, &r)
			}
		}
		for i := range wanted {
			if !wanted[i].among(all) {
				r.Missing = append(r.Missing, "no "+wanted[i].name)
			}
		}
		switch {
		case len(r.Against) > 0:
			r.Met = "not met"
		case len(r.Missing) > 0:
			r.Met = "not known"
		}
		out = append(out, r)
	}
	return out
}

func (d demand) judge(o *Organism, spread float64, r *CriterionResult) {
	day := "day " + strconv.Itoa(d.day)
	got, atLeast, known := o.LogReduction(d.day)
	if !known {
		r.Missing = append(r.Missing, o.Name+" on "+day)
		return
	}
	if d.since < 0 {
		if got < d.logs-spread-1e-9 {
			r.Against = append(r.Against, o.Name+" on "+day+": "+logText(got, atLeast)+" log, asked "+strconv.FormatFloat(d.logs, 'f', 1, 64))
		}
		return
	}
	before, atLeastBefore := 0.0, false
	if d.since > 0 {
		if before, atLeastBefore, known = o.LogReduction(d.since); !known {
			r.Missing = append(r.Missing, o.Name+" on day "+strconv.Itoa(d.since))
			return
		}
	}
	if before-got > spreadLogs+1e-9 && !atLeast {
		r.Against = append(r.Against, o.Name+" on "+day+": grew again, from "+logText(before, atLeastBefore)+" to "+logText(got, atLeast)+" log of reduction")
	}
}

// ChallengeFinding says what the criteria come to, by those of ISO 11930; results are those of JudgeChallenge.
func ChallengeFinding(results []CriterionResult) Finding {
	a, b := results[0], results[1]
	f := Finding{Rule: "challenge", Source: a.Source, Figure: "A " + a.Met + ", B " + b.Met, Limit: "ISO 11930 criteria A and B"}
	switch {
	case a.Met == "met":
		f.Level, f.Says, f.Do = Note, "these counts meet criterion A: the preservation held in this test, in this pack, with this batch", "test again when the formula, the preservative or the pack changes"
	case b.Met == "met" && a.Met == "not met":
		f.Level, f.Says, f.Do = Care, "these counts meet only criterion B: the preservation is weaker, and something else must protect the product, such as a pump or a small pack", "ask the laboratory or your safety assessor whether that is enough here"
	case b.Met == "not met":
		f.Level, f.Says, f.Do = Stop, "these counts meet neither criterion: microbes that get in are not held down", "do not sell it; change the preservation and test again"
	default:
		f.Level, f.Says, f.Do = Unchecked, "not checked: "+challengeLacks(a.Missing), "take them from the laboratory's report"
	}
	return f
}

// challengeLacks names what was not typed, the first few of it.
func challengeLacks(missing []string) string {
	if len(missing) > 4 {
		missing = append(append([]string(nil), missing[:3]...), strconv.Itoa(len(missing)-3)+" more")
	}
	return "some counts are missing: " + list(missing)
}

// ReadLogs reads powers of ten as a laboratory writes them, "6.08", "<1", "≥ 4.2", "-0.3", in thousandths. bound tells that less (of a count) or
// more (of a reduction) was found than the method can tell. A count lies from 0 to 12, a reduction from −4 to 12.
func ReadLogs(text string, reduction bool) (thousandths int64, bound bool, err *FieldError) {
	what, low := "a count in powers of ten", int64(0)
	signs := []string{"<=", "≤", "<"}
	if reduction {
		what, low, signs = "a reduction in powers of ten", -4000, []string{">=", "≥", ">"}
	}
	bare := strings.TrimSpace(text)
	for _, sign := range signs {
		if rest, ok := strings.CutPrefix(bare, sign); ok {
			bare, bound = strings.TrimSpace(rest), true
			break
		}
	}
	n, err := readNumber(bare)
	if err != nil {
		return 0, false, err
	}
	v, whole, fits := n.fixed(3, 12_000)
	switch {
	case n.unit != "" && n.unit != "log":
		return 0, false, &FieldError{Says: "“" + short(text) + "” is not " + what, Want: "write it as 6.08, or with " + signs[2] + " before it where the report has that"}
	case !whole:
		return 0, false, &FieldError{Says: short(text) + " is finer than any laboratory counts", Want: "write at most three decimals"}
	case !fits || v < low:
		return 0, false, &FieldError{Says: short(text) + " is not " + what, Want: "counts of 1,200,000 are 6.08; no report has more than 12"}
	}
	return v, bound, nil
}

func logText(v float64, atLeast bool) string {
	text := strconv.FormatFloat(math.Round(v*100)/100, 'f', 2, 64)
	if atLeast {
		return "at least " + text
	}
	return text
}
