package book

import (
	"slices"
	"sort"
	"strings"

	"stillroom/calc"
)

func (s *State) viewToday(ctx Context) TodayView {
	w := s.workshop()
	t := TodayView{Date: showDay(dayOf(ctx.Now, ctx.Zone)), Making: []BatchRow{}, Resting: []BatchRow{}, Held: []BatchRow{},
		Formulas: s.formulas.len(), Lots: s.lots.len(), Demo: w.Demo, Maker: w.Maker}
	for _, r := range s.viewBatches(ctx) {
		switch r.State {
		case Making:
			t.Making = append(t.Making, r)
		case Resting:
			t.Resting = append(t.Resting, r)
		case Held:
			t.Held = append(t.Held, r)
		}
	}
	return t
}

// viewBatches lists all batches, the newest first.
func (s *State) viewBatches(ctx Context) []BatchRow {
	out := []BatchRow{}
	l := s.listing()
	s.batches.each(func(_ string, b *batch) bool {
		out = append(out, s.batchRow(ctx, b, l))
		return true
	})
	slices.Reverse(out)
	return out
}

// listing is what a whole list of batches shares, so that it is worked out once and each formula is read once.
type listing struct {
	held map[string]string // heldByLots
	read map[Ref]*FormulaSaved
}

func (s *State) listing() *listing { return &listing{s.heldByLots(), map[Ref]*FormulaSaved{}} }

func (l *listing) revision(s *State, b *batch) *FormulaSaved {
	rev, known := l.read[b.body.Revision]
	if !known {
		rev = s.revision(b.body.Formula, b.body.Revision)
		l.read[b.body.Revision] = rev
	}
	return rev
}

// batchRow shows a batch in one line.
func (s *State) batchRow(ctx Context, b *batch, l *listing) BatchRow {
	state, why := b.state, b.why
	if h := l.held[b.body.Key]; h != "" && state != Discarded && state != Held {
		state, why = Held, h
	}
	r := BatchRow{Key: b.body.Key, Code: b.body.Code, Purpose: b.body.Purpose, State: state,
		Started: showDay(b.body.Day), Where: s.where(Workshop, b.from.ref)}
	rev := l.revision(s, b)
	word := s.wordBy(b, rev)
	if rev != nil {
		r.Name = rev.Name
	} else {
		r.Name = s.lineName(b.body.Formula, "")
	}
	if b.body.Part != "" {
		r.Name = b.body.Part
	}
	r.Jars = pieces(b.body.Plan.Jars, word) + " planned"
	f := b.filling()
	if f != nil {
		r.Jars = number(f.Jars) + " of " + pieces(b.body.Plan.Jars, word)
	}
	switch state {
	case Making:
		r.Says = "at the bench"
	case Resting:
		r.Says = "resting until someone looks at it and releases it by name"
		if look := b.lastLook(); look == nil && f != nil && f.Day < dayOf(ctx.Now, ctx.Zone) {
			r.Says = "to look at: it rests since " + showDay(f.Day)
		} else if look != nil {
			r.Says = "looked at on " + showDay(look.Day) + ", resting until someone releases it by name"
		}
	case Held:
		r.Says = "held: " + why
	case Released:
		r.Says = "released by " + b.by
		if b.body.Purpose == "trial" && !b.forSale {
			r.Says += "; a trial: not for sale"
		}
	case Discarded:
		r.Says = "discarded: " + why
	}
	return r
}

func (s *State) viewFormulas(ctx Context) []FormulaRow {
	out := []FormulaRow{}
	counts := s.batchCounts()
	s.formulas.each(func(k string, f *formula) bool {
		out = append(out, s.formulaRow(k, f, f.newest(), counts[k]))
		return true
	})
	slices.Reverse(out)
	return out
}

func (s *State) batchCounts() map[string]int {
	out := map[string]int{}
	s.batches.each(func(_ string, b *batch) bool { out[b.body.Formula]++; return true })
	return out
}

func (s *State) formulaRow(key string, f *formula, r *revision, batches int) FormulaRow {
	row := FormulaRow{Key: key, Revision: r.from.ref.String(), Number: r.number, Layers: []Layer{}, Batches: batches,
		Forked: len(f.leaves()) > 1, Where: s.where(Workshop, r.from.ref)}
	if b := r.read(); b != nil {
		row.Name, row.Kind, row.Layers = b.Name, kindOfProduct(b), layers(b)
	}
	return row
}

// kindOfProduct says in a few words what a formula is for, from what the maker said of it.
func kindOfProduct(b *FormulaSaved) string {
	parts := []string{}
	for _, p := range []string{b.Wash, b.Site} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if b.Age != "" && b.Age != "adults" {
		parts = append(parts, b.Age)
	}
	return strings.Join(parts, ", ")
}

// layers draws a formula as its jar.
func layers(b *FormulaSaved) []Layer {
	sums := map[string]int64{}
	for _, l := range b.calc().Lines {
		sums[l.Phase] += int64(l.Percent)
	}
	out := []Layer{}
	for _, p := range b.Phases {
		if n := sums[p.Letter]; n > 0 {
			out = append(out, Layer{Phase: p.Letter, Share: ratio(n, int64(calc.Hundred)), Percent: hundredths(n)})
		}
	}
	return out
}

// ratio is how much of a picture to fill. It is drawn and never computed with again.
func ratio(part, whole int64) float64 {
	if whole <= 0 {
		return 0
	}
	return float64(part*1000/whole) / 1000
}

func (s *State) viewFormula(ctx Context, args []byte) (any, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, no
	}
	f := s.formulas.get(a.Key)
	if f == nil {
		return nil, unseen("formula unknown", "key", "this formula is not in this book", "choose it from the list of formulas")
	}
	r := f.newest()
	if a.Revision != "" {
		ref, err := ParseRef(a.Revision)
		if r = f.find(ref); err != nil || r == nil {
			return nil, unseen("revision unknown", "revision", "this revision of the formula is not in this book", "open the formula's newest revision")
		}
	}
	b := r.read()
	if b == nil {
		return nil, unseen("unreadable", "revision", "this revision cannot be read by this program", "update the app")
	}
	v := FormulaView{From: s.cameFrom(b), Draft: b.draft(r.from.ref.String()), Revisions: []RevisionRow{}, Batches: []BatchRow{}}
	for i := len(f.revs) - 1; i >= 0; i-- {
		x := &f.revs[i]
		v.Revisions = append(v.Revisions, RevisionRow{x.from.ref.String(), x.number, showTime(x.from.at, ctx.Zone), s.by(ctx, x.from), s.where(Workshop, x.from.ref)})
	}
	l := s.listing()
	s.batches.each(func(_ string, n *batch) bool {
		if n.body.Formula == a.Key {
			v.Batches = append(v.Batches, s.batchRow(ctx, n, l))
		}
		return true
	})
	slices.Reverse(v.Batches)
	v.Row = s.formulaRow(a.Key, f, r, len(v.Batches))
	return v, nil
}

func (s *State) viewSheet(args []byte) (any, *Refusal) {
	d, no := arguments[calc.Draft](args)
	if no != nil {
		return nil, unseen("request", "", "the app sent a formula that this program does not understand", "reload the app; what was typed is kept on this phone")
	}
	d.Plan = s.withStep(d.Plan)
	v := calc.SheetOf(d, s.known(basesOf(d)))
	s.fitSheet(&v, d)
	return v, nil
}

func (s *State) viewIngredients(args []byte) (any, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, no
	}
	lots, mass := map[string]int{}, map[string]int64{}
	s.lots.each(func(_ string, l *lot) bool {
		lots[l.body.Ingredient]++
		mass[l.body.Ingredient] += l.body.Mass - l.used
		return true
	})
	type ranked struct {
		IngredientRow
		rank int
	}
	var found []ranked
	q := strings.ToLower(strings.TrimSpace(a.Q))
	for k, i := range s.matter().Ingredients {
		r := IngredientRow{Key: k, Name: i.Name, INCI: i.INCI, About: i.About, Lots: lots[k]}
		if lots[k] > 0 {
			r.OnHand = s.mass(mass[k], 100)
		}
		switch n := match(q, i.Name, i.INCI, i.About); {
		case q != "" && calledSo(i, q):
			found = append(found, ranked{r, -1})
		case n >= 0:
			found = append(found, ranked{r, n})
		}
	}
	sort.Slice(found, func(i, j int) bool {
		if found[i].rank != found[j].rank {
			return found[i].rank < found[j].rank
		}
		return strings.ToLower(found[i].Name) < strings.ToLower(found[j].Name)
	})
	out := make([]IngredientRow, 0, len(found))
	for _, f := range found {
		out = append(out, f.IngredientRow)
	}
	return out, nil
}

// calledSo tells whether a word is a whole name of an ingredient: what is meant by it goes before what only begins so, such as a blend.
func calledSo(i *calc.Ingredient, word string) bool {
	return strings.EqualFold(i.Name, word) || strings.EqualFold(i.INCI, word) || slices.ContainsFunc(i.Also, func(a string) bool { return strings.EqualFold(a, word) })
}

// match ranks how well a query fits: 0 begins the name, 1 begins a word of it, 2 within it, 3 in the INCI name, 4 in
// what is said about it, -1 not at all.
func match(q, name, inci, about string) int {
	n := strings.ToLower(name)
	switch {
	case q == "":
		return 0
	case strings.HasPrefix(n, q):
		return 0
	case strings.Contains(n, " "+q) || strings.Contains(n, "-"+q):
		return 1
	case strings.Contains(n, q):
		return 2
	case strings.Contains(strings.ToLower(inci), q):
		return 3
	case strings.Contains(strings.ToLower(about), q):
		return 4
	}
	return -1
}
