package calc

import (
	"math"
	"strconv"
)

// Organism is one microbe of a challenge test with its counts in CFU per gram or mL. Kind is bacteria, yeast or mould. A count of 0 stands for "none
// found"; Limit is the least that the method can find, above 0.
type Organism struct {
	Name, Kind string
	Start      float64
	Counts     map[int]float64 // by day
	Limit      float64
}

// LogReduction is log10(start) − log10(now). Where none was found the method's limit stands for it, and atLeast is true.
func (o *Organism) LogReduction(day int) (logs float64, atLeast, known bool) {
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

// CriterionResult is one criterion over all organisms: met, not met or not known, with what speaks against it.
type CriterionResult struct {
	Name, Met, Source string
	Against, Missing  []string
}

// JudgeChallenge holds the counts against ISO 11930 A and B and USP <51>. It is the laboratory that judges; this shows its sum.
func JudgeChallenge(all []Organism) []CriterionResult {
	out := make([]CriterionResult, 0, len(criteria))
	for _, c := range criteria {
		r := CriterionResult{Name: c.name, Met: "met", Source: c.from.String()}
		kinds := map[string]bool{}
		for i := range all {
			kinds[all[i].Kind] = true
			for _, d := range c.kinds[all[i].Kind] {
				d.judge(&all[i], c.spread, &r)
			}
		}
		for _, kind := range []string{"bacteria", "yeast", "mould"} {
			if !kinds[kind] {
				r.Missing = append(r.Missing, "no "+kind)
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

func logText(v float64, atLeast bool) string {
	text := strconv.FormatFloat(math.Round(v*100)/100, 'f', 2, 64)
	if atLeast {
		return "at least " + text
	}
	return text
}
