package book

import (
	"encoding/json"
	"strings"

	"stillroom/calc"
)

// NoPromise travels with whatever is shared, printed or exported, and stands in the same words on the screens where a product comes nearer to a
// buyer.
const NoPromise = "This book checks arithmetic and the rules that it names. It does not find a product safe or legal. Before anything is sold the law of the place decides: EU and UK ask for a safety assessment by a qualified person (Regulation (EC) 1223/2009, Art. 10), a product file, a notification, a responsible person and good practice first; in the US safety must be substantiated before sale, else the label must carry the warning of 21 CFR 740.10."

// private are the words that no shared thing may hold: names of suppliers, their lot numbers and her own codes of tubs. A note or a name is
// free text, and may hold one of them. A code that is a plain word or a short number is none: "oil" stands everywhere.
func (s *State) private() []string {
	met := map[string]bool{}
	var out []string
	add := func(w string, code bool) {
		w = small(strings.TrimSpace(w))
		digits := strings.ContainsAny(w, "0123456789")
		short := len(w) < 3 || len(w) < 5 && strings.Trim(w, "0123456789") == ""
		if short || code && !digits || met[w] || !code && s.everyday(w) {
			return
		}
		met[w] = true
		out = append(out, w)
	}
	s.lots.each(func(_ string, l *lot) bool {
		add(l.body.Supplier, false)
		add(l.body.SupplierLot, true)
		add(l.body.Code, true)
		return true
	})
	return out
}

// everyday tells whether a word is part of an ingredient's name: a supplier called so cannot be told from it.
func (s *State) everyday(word string) bool {
	for _, i := range s.given.Ingredients {
		if strings.Contains(strings.ToLower(i.Name), word) {
			return true
		}
	}
	return false
}

// sharing takes private words out of free text, and remembers from what.
type sharing struct {
	s       *State
	words   []string
	leftOut []string
}

// names tells where a text holds a private word as a word of its own, -1 when nowhere.
func (w *sharing) names(text string) (at, end int) {
	low := small(text)
	for _, p := range w.words {
		for from := 0; ; {
			i := strings.Index(low[from:], p)
			if i < 0 {
				break
			}
			at, end = from+i, from+i+len(p)
			if !letterAt(low, at-1) && !letterAt(low, end) {
				return at, end
			}
			from = at + 1
		}
	}
	return -1, 0
}

// small writes A to Z small and leaves all else, so that places in it are places in the text.
func small(text string) string {
	b := []byte(text)
	for i, c := range b {
		if c >= 'A' && c <= 'Z' {
			b[i] = c + 'a' - 'A'
		}
	}
	return string(b)
}

func letterAt(s string, i int) bool {
	if i < 0 || i >= len(s) {
		return false
	}
	c := s[i]
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80
}

// note gives a text, or nothing when it holds a private word.
func (w *sharing) note(text, of string) string {
	if at, _ := w.names(text); at < 0 {
		return text
	}
	w.leftOut = append(w.leftOut, of+" names a supplier or a lot, and is left out")
	return ""
}

// name gives a name with private words taken out: something must stand there.
func (w *sharing) name(text string) string {
	clean := w.clean(text)
	if clean == text {
		return text
	}
	w.leftOut = append(w.leftOut, "a name holds that of a supplier or a lot; … stands there")
	return clean
}

// clean takes private words out of a text.
func (w *sharing) clean(text string) string {
	for at, end := w.names(text); at >= 0; at, end = w.names(text) {
		text = text[:at] + "…" + text[end:]
	}
	return text
}

// finding is a finding for others: a document that an own figure was read from names its supplier, so it is not told.
func (w *sharing) finding(n Note) Note {
	for _, text := range []*string{&n.Says, &n.Figure, &n.Limit, &n.Source, &n.Do} {
		w.s.ingredients.each(func(_ string, d *defined) bool {
			if from := d.body.Source; from != "" {
				*text = strings.ReplaceAll(*text, from, "the maker's own figure")
			}
			return true
		})
		*text = w.clean(*text)
	}
	return n
}

// inciOf is what an ingredient is made of by name.
func inciOf(i *calc.Ingredient) string {
	if i == nil {
		return ""
	}
	if i.INCI != "" {
		return i.INCI
	}
	var names []string
	for _, p := range i.Composition {
		names = append(names, p.INCI)
	}
	return strings.Join(names, ", ")
}

// file is a formula with all that another book needs to make sense of it.
func (w *sharing) file(r *revision, b *FormulaSaved) calc.FormulaFile {
	f := calc.FormulaFile{Stillroom: calc.FormulaFileFormat, Says: NoPromise, Bases: []calc.SharedFormula{}, Ingredients: []calc.SharedIngredient{}}
	f.Formula = w.formula(b, r.from.ref)
	f.Formula.Credit = w.credit(b)
	met := map[string]bool{b.Key: true}
	w.bases(&f, b.Lines, met)
	done := map[string]bool{}
	for _, x := range append([]calc.SharedFormula{f.Formula}, f.Bases...) {
		for _, l := range x.Lines {
			if d := w.s.ingredients.get(l.Ingredient); d != nil && w.s.given.Ingredients[l.Ingredient] == nil && !done[l.Ingredient] {
				done[l.Ingredient] = true
				f.Ingredients = append(f.Ingredients, w.ingredient(&d.body))
			}
		}
	}
	return f
}

// bases adds the bases of some lines, the innermost first.
func (w *sharing) bases(f *calc.FormulaFile, lines []Line, met map[string]bool) {
	for _, l := range lines {
		if l.Base == "" || met[l.Base] {
			continue
		}
		met[l.Base] = true
		b, ref := w.s.revision(l.Base, l.BaseRev), l.BaseRev
		if b == nil {
			n := w.s.formulas.get(l.Base).newest()
			if b = n.read(); b == nil {
				continue
			}
			ref = n.from.ref
		}
		w.bases(f, b.Lines, met)
		shared := w.formula(b, ref)
		shared.Credit = w.credit(b)
		f.Bases = append(f.Bases, shared)
	}
}

// credit is whose formula it is: of whom it came from, and of this workshop.
func (w *sharing) credit(b *FormulaSaved) string {
	maker := strings.TrimSpace(w.s.workshop().Maker)
	if b.Credit != "" {
		maker = b.Credit
	}
	return w.name(maker)
}

func (w *sharing) formula(b *FormulaSaved, ref Ref) calc.SharedFormula {
	d := b.draft("")
	f := calc.SharedFormula{Key: b.Key, Revision: ref.String(), Name: w.name(b.Name), Wash: b.Wash, Site: b.Site, Age: b.Age, Life: d.Life, AfterOpen: d.AfterOpen, Word: b.Word,
		Phases: []calc.SharedPhase{}, Lines: []calc.SharedLine{}}
	for _, p := range d.Phases {
		f.Phases = append(f.Phases, calc.SharedPhase{Letter: p.Letter, Do: p.Treatment.Do, To: p.Treatment.To, HoldMin: p.Treatment.HoldMin, Pot: w.name(p.Pot)})
	}
	for _, l := range d.Lines {
		name := w.s.lineName(l.Ingredient, l.Base)
		f.Lines = append(f.Lines, calc.SharedLine{Phase: l.Phase, Ingredient: l.Ingredient, Base: l.Base, Name: w.name(name), Percent: l.Percent, QS: l.QS,
			Note: w.note(l.Note, "the note of "+name), Compatible: l.Compatible})
	}
	return f
}

func (w *sharing) ingredient(b *IngredientDefined) calc.SharedIngredient {
	i := calc.SharedIngredient{Key: b.Key, Name: w.name(b.Name), INCI: b.INCI, Composition: []calc.SharedShare{}, Charge: b.Charge, Soluble: b.Soluble,
		PHLow: blankZero(b.PHLow, 2), PHHigh: blankZero(b.PHHigh, 2), WorksLow: blankZero(b.WorksLow, 2), WorksHigh: blankZero(b.WorksHigh, 2),
		UseLow: blankZero(b.UseLow, 4), UseHigh: blankZero(b.UseHigh, 4), Density: blankZero(b.Density, 3), MaxTemperature: calc.DegreesWithUnit(b.Highest, "C"),
		Airborne: b.Airborne, Corrosive: b.Corrosive, Preservative: b.Keeps}
	for _, p := range b.Composition {
		i.Composition = append(i.Composition, calc.SharedShare{INCI: p.INCI, Percent: plain(p.Percent, 4)})
	}
	for _, c := range b.Counts {
		i.Counts = append(i.Counts, c.As)
	}
	return i
}

// fileText is the file as it is written: for people too, so indented.
func fileText(f calc.FormulaFile) string {
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if enc.Encode(f) != nil {
		return ""
	}
	return b.String()
}
