package book

import (
	"encoding/json"
	"strings"

	"stillroom/calc"
)

// compared is a revision in a comparison.
type compared struct {
	key string
	rev *revision
	b   *FormulaSaved
}

// viewCompare tells what changed between two revisions of one formula, or of a variant and the formula that it came
// from. Left out, to is the newest revision and from the one before it: for the first of a variant, its origin.
func (s *State) viewCompare(args []byte) (any, *Refusal) {
	var a struct{ Key, From, To string }
	if json.Unmarshal(args, &a) != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	f := s.formulas.get(a.Key)
	if f == nil {
		return nil, unseen("formula unknown", "key", "this formula is not in this book", "choose it from the list of formulas")
	}
	to, no := s.toCompare(a.Key, a.To, "to", f.newest())
	if no != nil {
		return nil, no
	}
	if a.From == "origin" {
		a.From = ""
		if first := f.revs[0].read(); first != nil && first.LineageRev.Seq != 0 {
			a.From = first.LineageRev.String()
		} else {
			return nil, unseen("nothing before", "from", "this formula is not a variant of another", "choose a revision")
		}
	}
	if a.From == "" {
		switch {
		case to.b.Parent.Seq != 0:
			a.From = to.b.Parent.String()
		case to.b.LineageRev.Seq != 0:
			a.From = to.b.LineageRev.String()
		default:
			return nil, unseen("nothing before", "from", "this is the first revision and there is nothing to compare it with", "choose another revision")
		}
	}
	from, no := s.toCompare(a.Key, a.From, "from", nil)
	if no != nil {
		return nil, no
	}
	return s.compare(from, to), nil
}

// toCompare finds a revision in a formula, in those that it came from, or in its variants.
func (s *State) toCompare(key, text, field string, newest *revision) (compared, *Refusal) {
	ref, err := ParseRef(text)
	gone := unseen("revision unknown", field, "this revision is not in this book, or belongs to another formula", "choose it from the revisions of the formula")
	if text == "" {
		if b := newest.read(); b != nil {
			return compared{key, newest, b}, nil
		}
		return compared{}, gone
	}
	if err != nil {
		return compared{}, gone
	}
	for _, k := range s.family(key) {
		if r := s.formulas.get(k).find(ref); r != nil {
			if b := r.read(); b != nil {
				return compared{k, r, b}, nil
			}
		}
	}
	return compared{}, gone
}

// family is a formula, those that it came from, and the variants of any of them.
func (s *State) family(key string) []string {
	origin := map[string]string{}
	s.formulas.each(func(k string, f *formula) bool {
		if b := f.revs[0].read(); b != nil {
			origin[k] = b.Lineage
		}
		return true
	})
	root := func(k string) string {
		for range len(origin) { // a circle of origins, which no honest device writes, must not hang a screen
			if origin[k] == "" || s.formulas.get(origin[k]) == nil {
				break
			}
			k = origin[k]
		}
		return k
	}
	out := []string{key}
	first := root(key)
	s.formulas.each(func(k string, _ *formula) bool {
		if k != key && root(k) == first {
			out = append(out, k)
		}
		return true
	})
	return out
}

func (s *State) compare(from, to compared) CompareView {
	v := CompareView{From: "revision " + number(int64(from.rev.number)), To: "revision " + number(int64(to.rev.number)), Lines: []CompareLine{}, Also: []string{}}
	if from.key != to.key {
		v.From, v.To = from.b.Name+", "+v.From, to.b.Name+", "+v.To
	}
	differ := 0 // lines that the maker changed; a q.s. line that only takes up the rest is not one
	pairs := matchLines(from.b.calc().Lines, to.b.calc().Lines)
	for _, p := range pairs {
		l := CompareLine{Change: "same"}
		if p.from != nil {
			l.Name, l.Phase, l.From = s.lineName(p.from.Ingredient, p.from.Base), p.from.Phase, p.from.Percent.String()+" %"
			l.FromSum = shareSum(p.from, v.From)
		}
		if p.to != nil {
			l.Name, l.Phase, l.To = s.lineName(p.to.Ingredient, p.to.Base), p.to.Phase, p.to.Percent.String()+" %"
			l.ToSum = shareSum(p.to, v.To)
		}
		if p.from != nil && p.to != nil && p.from.Percent != p.to.Percent {
			more := p.to.Percent - p.from.Percent
			l.ToSum += "; " + p.to.Percent.String() + " − " + p.from.Percent.String() + " = " + strings.Replace(more.String(), "-", "−", 1) + " % of difference"
		}
		switch {
		case p.from == nil:
			l.Change = "added"
		case p.to == nil:
			l.Change = "gone"
		case p.to.Percent > p.from.Percent:
			l.Change = "more"
		case p.to.Percent < p.from.Percent:
			l.Change = "less"
		case p.from.Phase != p.to.Phase:
			l.Change = "moved"
		}
		if p.from != nil && p.to != nil && p.from.Phase != p.to.Phase {
			l.Phase = p.from.Phase + " → " + p.to.Phase
		}
		if rest := p.from != nil && p.to != nil && p.from.QS && p.to.QS && p.from.Phase == p.to.Phase; l.Change != "same" && !rest {
			differ++
		}
		v.Lines = append(v.Lines, l)
	}
	v.Also = append(v.Also, s.alsoDiffers(from.b, to.b, pairs)...)
	lines, others := counted(differ, "line differs", "lines differ"), counted(len(v.Also), "other thing", "other things")
	switch {
	case differ == 0 && len(v.Also) == 0:
		v.Says = "nothing differs"
	case len(v.Also) == 0:
		v.Says = lines
	default:
		v.Says = lines + ", and " + others
	}
	if differ+len(v.Also) > 1 {
		v.Says += ": what one of them did cannot be told from what the others did"
	}
	return v
}

// shareSum tells how a line of a revision came to its share: written, or what the others left.
func shareSum(l *calc.Line, revision string) string {
	if !l.QS {
		return "written in " + revision + " = " + l.Percent.String() + " %"
	}
	return "q.s. to 100: 100 − " + (calc.Hundred - l.Percent).String() + " of all other lines of " + revision + " = " + l.Percent.String() + " %"
}

type linePair struct{ from, to *calc.Line }

// matchLines pairs lines that have the same id and hold the same thing, then those that hold the same thing; a line that
// holds another thing than before is one gone and one added. What is gone stands last.
func matchLines(from, to []calc.Line) []linePair {
	same := func(a, b *calc.Line) bool { return a.Ingredient == b.Ingredient && a.Base == b.Base }
	took, paired := make([]bool, len(from)), make([]linePair, len(to))
	for pass := range 2 {
		for n := range to {
			for i := 0; i < len(from) && paired[n].from == nil; i++ {
				if !took[i] && same(&from[i], &to[n]) && (pass == 1 || from[i].ID == to[n].ID) {
					took[i], paired[n].from = true, &from[i]
				}
			}
			paired[n].to = &to[n]
		}
	}
	for i := range from {
		if !took[i] {
			paired = append(paired, linePair{from: &from[i]})
		}
	}
	return paired
}
