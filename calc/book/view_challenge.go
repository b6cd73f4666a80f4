package book

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"stillroom/calc"
)

// ChallengesView is the view challenges: what laboratories found of a formula's keeping, the newest first.
type ChallengesView struct {
	Name string `json:"name"`
	// Says is the newest test in one sentence, for the formula or for one batch; Level is how much it weighs, "" without a test.
	Says  string          `json:"says"`
	Level string          `json:"level"`
	Tests []ChallengeTest `json:"tests"`
	// What a report can be of, the newest of each, and a blank one.
	Revisions []Choice       `json:"revisions"`
	Batches   []Choice       `json:"batches"`
	Blank     ChallengeTyped `json:"blank"`
}

// ChallengeTest is one report.
type ChallengeTest struct {
	Entry string `json:"entry"`
	Title string `json:"title"`
	By    string `json:"by"`
	// Since says that the formula changed after the revision that was tested, "" when it did not.
	Since    string             `json:"since"`
	Struck   bool               `json:"struck"`
	Reason   string             `json:"reason"` // of a struck one, and of the one in its place
	Lines    []ChallengeLine    `json:"lines"`
	Criteria []ChallengeVerdict `json:"criteria"`
	Findings []Note             `json:"findings"`
	Typed    ChallengeTyped     `json:"typed"`
	Where    string             `json:"where"`
}

// ChallengeLine is one microbe: its log reductions on days 7, 14 and 28.
type ChallengeLine struct {
	Name string   `json:"name"`
	Kind string   `json:"kind"`
	Days []Figure `json:"days"`
}

// ChallengeVerdict is one criterion.
type ChallengeVerdict struct {
	Name string `json:"name"`
	// Met is met, not met or not known.
	Met     string `json:"met"`
	Against string `json:"against"`
	Source  string `json:"source"`
}

func (s *State) viewChallenges(ctx Context, args []byte) (any, *Refusal) {
	var a struct{ Formula, Batch string }
	if json.Unmarshal(args, &a) != nil {
		return nil, unreadable()
	}
	f := s.formulas.get(a.Formula)
	if f == nil {
		return nil, unseen("formula unknown", "formula", "this formula is not in this book", "choose it from the list of formulas")
	}
	v := ChallengesView{Tests: []ChallengeTest{}, Revisions: []Choice{}, Batches: []Choice{}, Blank: ChallengeTyped{Formula: a.Formula, Form: "counts", Method: "ISO 11930", Organisms: slices.Clone(usualOrganisms)}}
	if b := f.newest().read(); b != nil {
		v.Name = b.Name
	}
	for _, r := range slices.Backward(f.revs[max(0, len(f.revs)-mostOthers):]) {
		v.Revisions = append(v.Revisions, Choice{r.from.ref.String(), "revision " + strconv.Itoa(r.number)})
	}
	s.batches.each(func(k string, b *batch) bool {
		if b.body.Formula == a.Formula && b.fill.Seq != 0 {
			v.Batches = append(v.Batches, Choice{k, b.body.Code})
		}
		return true
	})
	slices.Reverse(v.Batches)
	v.Batches = v.Batches[:min(len(v.Batches), mostOthers)]
	// The newest report of the batch itself speaks for it, then one of its revision, then any.
	best, rank := "", 0
	s.challenges.each(func(ref Ref, c *challenge) bool {
		if c.body.Formula != a.Formula {
			return true
		}
		t, judged := s.challengeTest(f, ref, c)
		v.Tests = append(v.Tests, t)
		if c.now.Seq != 0 {
			return true
		}
		says, n := s.keepingSays(f, c, judged, a.Batch)
		if n >= rank {
			best, rank, v.Level = says, n, judged.level
		}
		return true
	})
	slices.Reverse(v.Tests)
	v.Says = best
	return v, nil
}

// judged is what the criteria of a report came to.
type judged struct{ level, says string }

// organism is a line of a report as calc judges it: each figure is a reduction, worked out from the start where the report counts.
func (o *ChallengedOrganism) organism() calc.Organism {
	out := calc.Organism{Name: o.Name, Kind: o.Kind, Reductions: map[int]calc.LogReduced{}}
	for _, l := range o.Logs {
		out.Reductions[int(l.Day)] = calc.LogReduced{Logs: float64(o.reduction(l)) / 1000, AtLeast: l.Bound}
	}
	return out
}

// reduction of a figure, in thousandths of log10.
func (o *ChallengedOrganism) reduction(l ChallengedLog) int64 {
	if o.Start > 0 {
		return o.Start - l.Log
	}
	return l.Log
}

// figure is a reduction with the subtraction that it came from.
func (o *ChallengedOrganism) figure(day int64) Figure {
	for _, l := range o.Logs {
		if l.Day != day {
			continue
		}
		text := minus(fixed(o.reduction(l), 3, 2))
		if l.Bound {
			text = "≥ " + text
		}
		if o.Start == 0 {
			return Figure{Text: text, Sum: "log reduction on day " + strconv.FormatInt(day, 10) + ", as the report states it"}
		}
		less := ""
		if l.Bound {
			less = "less than "
		}
		sum := fixed(o.Start, 3, 2) + " at the start − " + less + fixed(l.Log, 3, 2) + " on day " + strconv.FormatInt(day, 10) + " = " + text + ", in powers of ten: "
		if o.reduction(l) < 0 {
			return Figure{Text: text, Sum: sum + "there were more than at the start"}
		}
		return Figure{Text: text, Sum: sum + "of " + oneIn(o.reduction(l)) + " one was left"}
	}
	return Figure{Text: "–"}
}

func minus(text string) string { return strings.Replace(text, "-", "−", 1) }

// oneIn is how many went for each that was left, in round words: "1,000".
func oneIn(logs int64) string {
	n := int64(1)
	for ; logs >= 1000 && n < 1_000_000_000; logs -= 1000 {
		n *= 10
	}
	if logs > 0 {
		return number(n) + " to " + number(n*10)
	}
	return number(n)
}

func (s *State) challengeTest(f *formula, ref Ref, c *challenge) (ChallengeTest, judged) {
	b := &c.body
	t := ChallengeTest{Entry: ref.String(), Title: s.testedOf(f, b), By: join(b.Laboratory, b.Report, showDay(b.Day), b.Method), Struck: c.now.Seq != 0, Reason: b.Reason,
		Lines: []ChallengeLine{}, Criteria: []ChallengeVerdict{}, Typed: b.typed(), Where: s.where(Workshop, ref)}
	if now := s.challenges.get(c.now); now != nil {
		t.Reason = now.body.Reason
	}
	if b.Note != "" {
		t.By = join(t.By, b.Note)
	}
	t.Since = s.changedSince(f, b.Revision)
	all := make([]calc.Organism, 0, len(b.Organisms))
	for i := range b.Organisms {
		o := &b.Organisms[i]
		all = append(all, o.organism())
		t.Lines = append(t.Lines, ChallengeLine{o.Name, o.Kind, []Figure{o.figure(7), o.figure(14), o.figure(28)}})
	}
	results := calc.JudgeChallenge(all)
	var met []string
	for _, r := range results {
		t.Criteria = append(t.Criteria, ChallengeVerdict{r.Name, r.Met, strings.Join(append(slices.Clone(r.Against), missingOf(r)...), "; "), r.Source})
		if r.Met == "met" {
			met = append(met, r.Name)
		}
	}
	finding := calc.ChallengeFinding(results)
	t.Findings = calc.Margin([]calc.Finding{finding})
	says := "meets none of the criteria"
	switch {
	case results[0].Met == "met":
		says = "meets A"
	case results[1].Met == "met":
		says = "meets only B"
	case finding.Level == calc.Unchecked:
		says = "not all counts are typed"
	case len(met) > 0:
		says = "meets neither A nor B of ISO 11930"
	}
	return t, judged{string(finding.Level), says}
}

func missingOf(r calc.CriterionResult) []string {
	if len(r.Missing) == 0 {
		return nil
	}
	return []string{"not typed: " + strings.Join(r.Missing, ", ")}
}

// testedOf names what was tested: "revision 3, batch 261108-D1".
func (s *State) testedOf(f *formula, b *FormulaChallenged) string {
	out := "a revision that is not in this book"
	if r := f.find(b.Revision); r != nil {
		out = "revision " + strconv.Itoa(r.number)
	}
	if x := s.batches.get(b.Batch); x != nil {
		out += ", batch " + x.body.Code
	}
	return out
}

// changedSince says what a formula became after a revision, "" when that is its newest.
func (s *State) changedSince(f *formula, tested Ref) string {
	now := f.newest()
	if now.from.ref == tested {
		return ""
	}
	since := "The formula changed since: revision " + strconv.Itoa(now.number) + " is the newest"
	from, to := f.find(tested), now.read()
	if from == nil || from.read() == nil || to == nil {
		return since + ". A test of an older revision does not speak for it."
	}
	differs, _, _ := strings.Cut(s.compare(compared{to.Key, from, from.read()}, compared{to.Key, now, to}).Says, ":")
	return since + "; " + differs + ". A test of an older revision does not speak for it."
}

// keepingSays is a report in one sentence, for a formula or one of its batches, and how near it is to that.
func (s *State) keepingSays(f *formula, c *challenge, j judged, batch string) (string, int) {
	says := "Keeping was tested in the laboratory on " + s.testedOf(f, &c.body) + ": " + j.says + "."
	b := s.batches.get(batch)
	switch {
	case b == nil:
		if since := s.changedSince(f, c.body.Revision); since != "" {
			return says + " " + since, 1
		}
		return says, 2
	case c.body.Batch == batch:
		return "Keeping was tested in the laboratory on this batch: " + j.says + ".", 3
	case c.body.Revision == b.body.Revision:
		return says + " This batch is of the same revision; the test was not made of it.", 2
	}
	return says + " This batch is of another revision, so the test does not speak for it.", 1
}

// typed is a report as it was typed, for a better typing of it.
func (b *FormulaChallenged) typed() ChallengeTyped {
	t := ChallengeTyped{Formula: b.Formula, Revision: b.Revision.String(), Batch: b.Batch, Laboratory: b.Laboratory, Report: b.Report, Day: showDay(b.Day), Method: b.Method, Form: b.Form, Note: b.Note, Organisms: []ChallengeOrganism{}}
	sign := "<"
	if b.Form == "reductions" {
		sign = "≥"
	}
	for _, o := range b.Organisms {
		x := ChallengeOrganism{Name: o.Name, Kind: o.Kind, Start: blankZero(o.Start, 3)}
		for _, d := range x.days() {
			for _, l := range o.Logs {
				if l.Day == d.day {
					*d.text = plain(l.Log, 3)
					if l.Bound {
						*d.text = sign + *d.text
					}
				}
			}
		}
		t.Organisms = append(t.Organisms, x)
	}
	return t
}
