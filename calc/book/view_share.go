package book

import (
	"slices"
	"strconv"
	"strings"

	"stillroom/calc"
)

// toShare is the revision that a view is asked for by key and revision, ready to be shown to others.
func (s *State) toShare(args []byte) (*sharing, *revision, *FormulaSaved, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, nil, nil, no
	}
	_, r, no := s.asked(a.Key, a.Revision, "open the formula again and share it from there")
	if no != nil {
		return nil, nil, nil, unseen(no.Code, "key", "this formula is not in this book", "choose it from the list of formulas")
	}
	b := r.read()
	if b == nil {
		return nil, nil, nil, unseen("unreadable", "revision", "this revision cannot be read by this program", "update the app")
	}
	return &sharing{s: s, words: s.private(), leftOut: []string{}}, r, b, nil
}

func (s *State) viewShare(args []byte) (any, *Refusal) {
	w, r, b, no := s.toShare(args)
	if no != nil {
		return nil, no
	}
	f := w.file(r, b)
	v := ShareView{Name: f.Formula.Name, Number: r.number, Credit: f.Formula.Credit, From: w.from(b), File: fileText(f), FileName: fileName(f.Formula.Name, ".formula.json"),
		Table: w.csvText(f.Formula), TableAs: fileName(f.Formula.Name, ".csv"), Caution: NoPromise}
	says := []string{"the formula"}
	if n := len(f.Bases); n > 0 {
		says = append(says, pieces(int64(n), "base"))
	}
	if n := len(f.Ingredients); n > 0 {
		says = append(says, pieces(int64(n), "own ingredient"))
	}
	v.FileSays = listed(says)
	slices.Sort(w.leftOut)
	v.LeftOut = slices.Compact(w.leftOut)
	return v, nil
}

// from says of which formula this one is a variant, "" for none.
func (w *sharing) from(b *FormulaSaved) string { return w.name(w.s.variantOf(b)) }

// variantOf says of which formula of this book one is a variant, or that it came from another, "" for neither.
func (s *State) variantOf(b *FormulaSaved) string {
	if b.Lineage == "" {
		return ""
	}
	if o := s.formulas.get(b.Lineage).newest().read(); o != nil {
		return "a variant of " + o.Name
	}
	return "from another book"
}

// cameFrom is whose formula it is when it is another's, and where it came from.
func (s *State) cameFrom(b *FormulaSaved) string {
	from := s.variantOf(b)
	switch {
	case b.Credit == "":
		return from
	case from == "":
		return "by " + b.Credit
	}
	return "by " + b.Credit + ", " + from
}

func (s *State) viewCard(args []byte) (any, *Refusal) {
	w, r, b, no := s.toShare(args)
	if no != nil {
		return nil, no
	}
	d, k := b.draft(r.from.ref.String()), s.known(b.Lines)
	sheet := calc.SheetOf(d, k)
	v := CardView{Name: w.name(b.Name), Number: r.number, Kind: kindOfProduct(b), Credit: w.credit(b), From: w.from(b), Phases: []CardPhase{}, Total: sheet.Total.Text, Foot: NoPromise}
	var keeps []string
	if b.Life > 0 {
		keeps = append(keeps, number(b.Life)+" months unopened")
	}
	if b.AfterOpen > 0 {
		keeps = append(keeps, number(b.AfterOpen)+" months once opened")
	}
	v.Keeps = strings.Join(keeps, ", ")
	for _, p := range b.Phases {
		phase := CardPhase{Letter: p.Letter, Treatment: w.name(p.words(k.Bench)), Lines: []CardLine{}}
		for i, l := range d.Lines {
			if l.Phase != p.Letter {
				continue
			}
			phase.Lines = append(phase.Lines, CardLine{w.name(sheet.Lines[i].Name), inciOf(k.Ingredients[l.Ingredient]), sheet.Lines[i].Percent.Text, w.note(l.Note, "")})
		}
		v.Phases = append(v.Phases, phase)
	}
	w.judged(&v, s, b.calc(), k, sheet.Findings)
	v.Code = w.code(b.calc(), k)
	return v, nil
}

// judged parts the findings as they stand on paper, and names what they rest on.
func (w *sharing) judged(v *CardView, s *State, f calc.Formula, k calc.Known, found []calc.MarginNote) {
	v.Wear, v.Findings, v.Unchecked, v.Sources, v.Cautions = []Note{}, []Note{}, []Note{}, []string{}, []string{}
	counts := map[calc.Level]int{}
	for _, n := range found {
		if n.Rule == "weighing" || n.Rule == "scale" {
			continue // of one scale, not of the formula
		}
		n = w.finding(n)
		if n.Level == calc.Wear && saidBefore(v.Wear, n) {
			continue
		}
		counts[n.Level]++
		switch n.Level {
		case calc.Wear:
			v.Wear = append(v.Wear, n)
		case calc.Unchecked:
			v.Unchecked = append(v.Unchecked, n)
		default:
			v.Findings = append(v.Findings, n)
		}
		if source := n.Source; source != "" && !slices.Contains(v.Sources, source) {
			v.Sources = append(v.Sources, source)
		}
	}
	slices.SortStableFunc(v.Findings, func(a, b Note) int { return levelRank(a.Level) - levelRank(b.Level) })
	slices.Sort(v.Sources)
	v.Counts = countsOf(counts)
	maker := s.workshop()
	region := maker.labelRegion()
	if list, e := calc.IngredientListOf(f, k, region); e == nil {
		v.Ingredients = w.clean(strings.TrimPrefix(list.Text, "Ingredients: "))
	}
	if label, e := calc.LabelContentOf(calc.LabelAsk{Region: region, Net: calc.Gram}, f, k); e == nil {
		for _, c := range label.Cautions {
			v.Cautions = append(v.Cautions, c.Says)
		}
	}
}

// code is the formula as a code that opens as a notebook page, without what a formula file holds beside it.
func (w *sharing) code(f calc.Formula, k calc.Known) PageCode {
	page, e := calc.FormulaPage(f, k)
	if e != nil {
		return PageCode{}
	}
	c := PageCode{Text: w.clean(page)}
	modules, _, mm, e := calc.QR(c.Text)
	if e != nil {
		return c
	}
	const quiet = 4 // modules each side, ISO/IEC 18004
	c.Side, c.MM = len(modules)+2*quiet, mm
	var path strings.Builder
	for y, row := range modules {
		for x := 0; x < len(row); x++ {
			begin := x
			for x < len(row) && row[x] {
				x++
			}
			if n := x - begin; n > 0 {
				run := strconv.Itoa(n)
				path.WriteString("M" + strconv.Itoa(begin+quiet) + " " + strconv.Itoa(y+quiet) + "h" + run + "v1h-" + run + "z")
			}
		}
	}
	c.Path = path.String()
	return c
}

// saidBefore tells whether paper says a thing already: two hot phases ask for the same goggles, and who reads on paper puts them on once.
func saidBefore(had []Note, n Note) bool {
	return slices.ContainsFunc(had, func(h Note) bool { return h.Says == n.Says && h.Do == n.Do })
}

func levelRank(l calc.Level) int {
	return slices.Index([]calc.Level{calc.Stop, calc.Care, calc.Note, calc.Wear, calc.Unchecked}, l)
}

// countsOf says how much of each level there is: what was not checked is never left out.
func countsOf(n map[calc.Level]int) string {
	var out []string
	for _, l := range []struct {
		level calc.Level
		word  string
	}{{calc.Stop, "stop"}, {calc.Care, "take care"}, {calc.Note, "note"}, {calc.Wear, "wear"}} {
		if n[l.level] > 0 {
			out = append(out, strconv.Itoa(n[l.level])+" "+l.word)
		}
	}
	return strings.Join(append(out, strconv.Itoa(n[calc.Unchecked])+" not checked"), ", ")
}
