package calc

import (
	"sort"
	"strconv"
)

type askChallenge struct {
	Organisms []askOrganism `json:"organisms"`
}

type askOrganism struct {
	Name  string `json:"name"`
	Kind  string `json:"kind"`
	Start typed  `json:"start"`
	// Limit is the least count that the method can find; 1 when not said.
	Limit  typed      `json:"limit"`
	Counts []askCount `json:"counts"`
	// Reductions are what a report states in powers of ten instead, such as "3.2" or "≥4.0".
	Reductions []askReduction `json:"reductions"`
}

type askReduction struct {
	Day  int   `json:"day"`
	Logs typed `json:"logs"`
}

type askCount struct {
	Day   int   `json:"day"`
	Count typed `json:"count"`
}

type challengeAnswer struct {
	Reductions []challengeRow     `json:"reductions"`
	Criteria   []challengeVerdict `json:"criteria"`
	Findings   []Finding          `json:"findings"`
}

type challengeRow struct {
	Name string `json:"name"`
	Day  int    `json:"day"`
	Logs string `json:"logs"`
}

type challengeVerdict struct {
	Name    string   `json:"name"`
	Met     string   `json:"met"`
	Against []string `json:"against"`
	Missing []string `json:"missing"`
	Source  string   `json:"source"`
}

const exampleChallenge = `{
  "organisms": [
    {"name": "Pseudomonas aeruginosa", "kind": "bacteria", "start": "1200000", "limit": "10", "counts": [{"day": 7, "count": "800"}, {"day": 14, "count": "0"}, {"day": 28, "count": "0"}]},
    {"name": "Candida albicans", "kind": "yeast", "start": "400000", "limit": "10", "counts": [{"day": 7, "count": "90000"}, {"day": 14, "count": "9000"}, {"day": 28, "count": "700"}]},
    {"name": "Aspergillus brasiliensis", "kind": "mould", "start": "300000", "limit": "10", "counts": [{"day": 14, "count": "200000"}, {"day": 28, "count": "250000"}]}
  ]
}
`

func doChallenge(request []byte) (any, *FieldError) {
	var ask askChallenge
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	all := make([]Organism, 0, len(ask.Organisms))
	out := challengeAnswer{Reductions: []challengeRow{}, Criteria: []challengeVerdict{}, Findings: []Finding{}}
	for i := range ask.Organisms {
		o, err := ask.Organisms[i].read()
		if err != nil {
			return nil, err.under("organisms[" + strconv.Itoa(i) + "]")
		}
		all = append(all, o)
		days := make([]int, 0, len(o.Counts)+len(o.Reductions))
		for day := range o.Counts {
			days = append(days, day)
		}
		for day := range o.Reductions {
			days = append(days, day)
		}
		sort.Ints(days)
		for _, day := range days {
			if v, atLeast, ok := o.LogReduction(day); ok {
				out.Reductions = append(out.Reductions, challengeRow{o.Name, day, logText(v, atLeast)})
			}
		}
	}
	if len(all) == 0 {
		return nil, &FieldError{Field: "organisms", Says: "there are no counts", Want: "write the counts of the laboratory's report"}
	}
	results := JudgeChallenge(all)
	for _, r := range results {
		out.Criteria = append(out.Criteria, challengeVerdict{r.Name, r.Met, append([]string{}, r.Against...), append([]string{}, r.Missing...), r.Source})
	}
	out.Findings = append(out.Findings, ChallengeFinding(results))
	return out, nil
}

func (a *askOrganism) read() (Organism, *FieldError) {
	o := Organism{Name: a.Name, Kind: a.Kind, Limit: 1, Counts: map[int]float64{}}
	if a.Kind != "bacteria" && a.Kind != "yeast" && a.Kind != "mould" {
		return o, &FieldError{Field: "kind", Says: "“" + short(a.Kind) + "” is not a kind of microbe here", Want: "bacteria, yeast or mould"}
	}
	if a.Start != "" || len(a.Reductions) == 0 {
		start, err := readPlain(a.Start, "a count", 1, 1_000_000_000_000)
		if err != nil {
			return o, err.under("start")
		}
		o.Start = start.InexactFloat64()
	}
	if a.Limit != "" {
		limit, err := readPlain(a.Limit, "a count", 1, 1_000_000)
		if err != nil {
			return o, err.under("limit")
		}
		o.Limit = limit.InexactFloat64()
	}
	for i, c := range a.Counts {
		at := "counts[" + strconv.Itoa(i) + "]"
		if _, twice := o.Counts[c.Day]; twice || c.Day < 1 || c.Day > 400 {
			return o, &FieldError{Field: at + ".day", Says: "day " + strconv.Itoa(c.Day) + " stands twice, or is no day of a test", Want: "each day once, from 1 to 400"}
		}
		n, err := readPlain(c.Count, "a count", 0, 1_000_000_000_000)
		if err != nil {
			return o, err.under(at + ".count")
		}
		o.Counts[c.Day] = n.InexactFloat64()
	}
	for i, r := range a.Reductions {
		at := "reductions[" + strconv.Itoa(i) + "]"
		_, twice := o.Reductions[r.Day]
		if _, counted := o.Counts[r.Day]; twice || counted || r.Day < 1 || r.Day > 400 {
			return o, &FieldError{Field: at + ".day", Says: "day " + strconv.Itoa(r.Day) + " stands twice, or is no day of a test", Want: "each day once, from 1 to 400"}
		}
		v, bound, err := ReadLogs(string(r.Logs), true)
		if err != nil {
			return o, err.under(at + ".logs")
		}
		if o.Reductions == nil {
			o.Reductions = map[int]LogReduced{}
		}
		o.Reductions[r.Day] = LogReduced{float64(v) / 1000, bound}
	}
	return o, nil
}
