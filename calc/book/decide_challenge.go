package book

import (
	"slices"
	"strconv"
	"strings"

	"stillroom/calc"
)

// ChallengeTyped is a report as typed: the arguments of formula.challenge, and what a correction of it begins with.
type ChallengeTyped struct {
	Formula    string              `json:"formula"`
	Revision   string              `json:"revision"` // "" for that of the batch, else the newest
	Batch      string              `json:"batch"`
	Laboratory string              `json:"laboratory"`
	Report     string              `json:"report"`
	Day        string              `json:"day"`
	Method     string              `json:"method"`
	Form       string              `json:"form"`
	Organisms  []ChallengeOrganism `json:"organisms"`
	Note       string              `json:"note"`
	Of         string              `json:"of"`
	Reason     string              `json:"reason"`
}

// ChallengeOrganism is a line of a report as typed; what is "" was not counted.
type ChallengeOrganism struct {
	Name  string `json:"name"`
	Kind  string `json:"kind"`
	Start string `json:"start"`
	Day7  string `json:"day7"`
	Day14 string `json:"day14"`
	Day28 string `json:"day28"`
}

// days are the days that both criteria look at, with what was typed for each.
func (o *ChallengeOrganism) days() []struct {
	day  int64
	text *string
} {
	return []struct {
		day  int64
		text *string
	}{{7, &o.Day7}, {14, &o.Day14}, {28, &o.Day28}}
}

// usualOrganisms are the five of ISO 11930 and USP <51>, Escherichia coli among them (standards §9).
var usualOrganisms = []ChallengeOrganism{{Name: "Pseudomonas aeruginosa", Kind: "bacteria"}, {Name: "Staphylococcus aureus", Kind: "bacteria"},
	{Name: "Escherichia coli", Kind: "bacteria"}, {Name: "Candida albicans", Kind: "yeast"}, {Name: "Aspergillus brasiliensis", Kind: "mould"}}

// writeChallenge writes a report of a challenge test, or a better typing of one, with a reason.
func (s *State) writeChallenge(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[ChallengeTyped](args)
	if no != nil {
		return nil, nil, no
	}
	f := s.formulas.get(a.Formula)
	if f == nil {
		return nil, nil, refuse("formula unknown", "formula", "this formula is not in this book", "choose it from the list of formulas")
	}
	b := &FormulaChallenged{Formula: a.Formula, Batch: a.Batch, Laboratory: strings.TrimSpace(a.Laboratory), Report: strings.TrimSpace(a.Report), Method: strings.TrimSpace(a.Method), Form: a.Form, Note: strings.TrimSpace(a.Note)}
	if b.Revision, no = s.testedRevision(f, a); no != nil {
		return nil, nil, no
	}
	if !oneOf(a.Form, "counts", "reductions") {
		return nil, nil, refuse("form missing", "form", "it was not said whether the figures are counts or reductions", "choose what the report gives")
	}
	if b.Day, no = readDay(a.Day, "day"); no != nil {
		return nil, nil, no
	}
	if b.Day > dayOf(ctx.Now, ctx.Zone) {
		return nil, nil, refuse("not yet", "day", showDay(b.Day)+" is still to come", "write the day of the report")
	}
	for i := range a.Organisms {
		o, no := readOrganism(&a.Organisms[i], a.Form == "reductions", "organisms["+strconv.Itoa(i)+"]")
		if no != nil {
			return nil, nil, no
		}
		if o != nil {
			b.Organisms = append(b.Organisms, *o)
		}
	}
	if len(b.Organisms) == 0 {
		return nil, nil, refuse("nothing typed", "organisms", "no figure of the report was typed", "type the figures of at least one microbe")
	}
	if a.Of != "" {
		if no := s.correctsChallenge(b, a); no != nil {
			return nil, nil, no
		}
	}
	return s.one(ctx, KindFormulaChallenged, b)
}

// testedRevision is the revision that a report is of: of the batch, else as said, else the newest.
func (s *State) testedRevision(f *formula, a ChallengeTyped) (Ref, *Refusal) {
	if a.Batch != "" {
		b := s.batches.get(a.Batch)
		if b == nil || b.body.Formula != a.Formula {
			return Ref{}, refuse("batch unknown", "batch", "this batch is not in this book, or of another formula", "choose one of this formula's batches")
		}
		return b.body.Revision, nil
	}
	if a.Revision == "" {
		return f.newest().from.ref, nil
	}
	ref, err := ParseRef(a.Revision)
	if err != nil || f.find(ref) == nil {
		return Ref{}, refuse("revision unknown", "revision", "this revision is not of this formula", "choose it from the revisions of the formula")
	}
	return ref, nil
}

func (s *State) correctsChallenge(b *FormulaChallenged, a ChallengeTyped) *Refusal {
	ref, err := ParseRef(a.Of)
	old := s.challenges.get(ref)
	switch {
	case err != nil || old == nil || old.body.Formula != a.Formula:
		return refuse("report unknown", "of", "the report to correct is not in this book", "open the formula's tests again and choose it there")
	case old.now.Seq != 0:
		return refuse("corrected already", "of", "this report was already corrected", "correct the one that took its place")
	case strings.TrimSpace(a.Reason) == "":
		return refuse("reason missing", "reason", "a correction needs a reason, and none was given", "write in a few words what went wrong")
	}
	b.Of, b.Reason = ref, strings.TrimSpace(a.Reason)
	return nil
}

// readOrganism reads a line of a report, nil when nothing was typed in it.
func readOrganism(a *ChallengeOrganism, reductions bool, at string) (*ChallengedOrganism, *Refusal) {
	o := &ChallengedOrganism{Name: strings.TrimSpace(a.Name), Kind: a.Kind}
	for _, d := range a.days() {
		if strings.TrimSpace(*d.text) == "" {
			continue
		}
		v, bound, e := calc.ReadLogs(*d.text, reductions)
		if e != nil {
			return nil, misread(e, at+".day"+strconv.FormatInt(d.day, 10))
		}
		o.Logs = append(o.Logs, ChallengedLog{d.day, v, bound})
	}
	start := strings.TrimSpace(a.Start)
	if len(o.Logs) == 0 && start == "" {
		return nil, nil
	}
	switch {
	case o.Name == "":
		return nil, refuse("name missing", at+".name", "figures stand beside a microbe without a name", "write its name as the report does")
	case !slices.Contains([]string{"bacteria", "yeast", "mould"}, o.Kind):
		return nil, refuse("kind missing", at+".kind", "it was not said what kind of microbe "+o.Name+" is", "choose bacteria, yeast or mould")
	case reductions:
		return o, nil
	case start == "":
		return nil, refuse("start missing", at+".start", "the count that "+o.Name+" started from is missing, so nothing can be said of its fall", "write the count at the start, such as 6.08")
	}
	v, bound, e := calc.ReadLogs(a.Start, false)
	if e == nil && (bound || v == 0) {
		return nil, refuse("misread", at+".start", "“"+start+"” is no count to start from", "write the count at the start, such as 6.08")
	}
	if e != nil {
		return nil, misread(e, at+".start")
	}
	o.Start = v
	return o, nil
}

// applyChallenged keeps a report; a better typing of one strikes it.
func (s *State) applyChallenged(r row, b *FormulaChallenged) {
	if b.Of.Seq != 0 {
		old := s.challenges.get(b.Of)
		if old == nil || old.now.Seq != 0 || old.body.Formula != b.Formula {
			s.clash(Workshop, r.from, r.kind, "it corrects a report that is not in this book, or that was corrected already")
			return
		}
		s.challenges.edit(b.Of).now = r.from.ref
	}
	*s.challenges.edit(r.from.ref) = challenge{from: r.from, body: *b}
}
