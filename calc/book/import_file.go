package book

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"stillroom/calc"
)

// file reads a formula file: own ingredients first, then bases from the innermost, then the formula.
func (in *importing) file(text string) {
	f, e := calc.ReadFormulaFile(text)
	if e != nil {
		in.trouble(e.Field, "", e.Says, e.Want)
		return
	}
	ingredients, bases := map[string]string{}, map[string]string{}
	for i := range f.Ingredients {
		in.ingredient(&f.Ingredients[i], "ingredients["+strconv.Itoa(i)+"]", f.Formula.Credit, ingredients)
	}
	if len(in.view.Troubles) > 0 {
		return
	}
	for i := range f.Bases {
		in.shared(&f.Bases[i], "bases["+strconv.Itoa(i)+"]", ingredients, bases)
	}
	in.shared(&f.Formula, "formula", ingredients, bases)
}

// ingredient takes one of the giver's own. One that this book has under that name with the same composition is used; another gets the giver's name behind its own.
func (in *importing) ingredient(i *calc.SharedIngredient, place, credit string, keys map[string]string) {
	own := ownOf(i, credit)
	if i.Key == "" || strings.TrimSpace(i.Name) == "" {
		in.trouble(place, "", "an ingredient without a key or a name", "ask for the file once more")
		return
	}
	by := credit
	if by == "" {
		by = "shared"
	}
	for range 2 {
		had := in.s.ingredientNamed(own.Name, "")
		if had == "" {
			break
		}
		if in.alike(had, own) {
			keys[i.Key] = had
			in.view.Notes = append(in.view.Notes, own.Name+" is known here already; your own figures are used")
			return
		}
		own.Name = i.Name + " (" + by + ")"
	}
	raw, err := json.Marshal(own)
	if err != nil {
		in.trouble(place, "", "it cannot be read", "ask for the file once more")
		return
	}
	drafts, value, no := in.s.defineIngredient(in.ctx, raw)
	if no != nil {
		in.trouble(place+fieldPlace(no.Field), "", strings.TrimSuffix(no.Says, kept), no.Hint)
		return
	}
	for _, d := range drafts {
		in.take(d)
	}
	if k, ok := value.(keyValue); ok {
		keys[i.Key] = k.Key
	}
	in.view.Ingredients = append(in.view.Ingredients, own.Name)
}

// alike tells whether what is known under a key is made of the same as what comes in.
func (in *importing) alike(key string, own ownIngredient) bool {
	had := in.s.ingredient(key)
	parts, no := readComposition(own.Composition)
	if had == nil || no != nil {
		return false
	}
	if len(parts) == 0 {
		parts = []Part{{INCI: own.INCI, Percent: int64(calc.Hundred)}}
	}
	return slices.EqualFunc(had.Composition, parts, func(a calc.Share, b Part) bool {
		return strings.EqualFold(a.INCI, b.INCI) && int64(a.Percent) == b.Percent
	})
}

// shared takes one formula of the file, which remembers whose it is and from which revision it came.
func (in *importing) shared(f *calc.SharedFormula, place string, ingredients, bases map[string]string) {
	row := ImportFormula{Name: f.Name, Credit: f.Credit, Lines: []ImportLine{}}
	d := f.Draft(ingredients, bases)
	k := in.s.known(basesOf(d))
	sheet := calc.SheetOf(d, k)
	row.Total = sheet.Total.Text
	for i, l := range f.Lines {
		line := ImportLine{Place: place + ".lines[" + strconv.Itoa(i) + "]", Phase: l.Phase, Typed: l.Name, Name: sheet.Lines[i].Name, Amount: l.Percent, Percent: sheet.Lines[i].Percent.Text, Trouble: sheet.Lines[i].Trouble}
		if l.QS {
			line.Amount = "q.s."
		}
		row.Lines = append(row.Lines, line)
	}
	keep := keeping{credit: f.Credit, word: f.Word, lineage: f.Key}
	if ref, err := ParseRef(f.Revision); err == nil {
		keep.lineageRev = ref
	}
	bases[f.Key] = in.formula(&row, d, place, keep, true)
	in.view.Formulas = append(in.view.Formulas, row)
}

// ownOf is a shared ingredient as it would be typed.
func ownOf(i *calc.SharedIngredient, credit string) ownIngredient {
	var composition []string
	for _, p := range i.Composition {
		composition = append(composition, strings.ReplaceAll(p.INCI, "\n", " ")+" "+p.Percent)
	}
	source := "shared formula file"
	if credit != "" {
		source = "shared by " + credit
	}
	return ownIngredient{Name: i.Name, INCI: i.INCI, Composition: strings.Join(composition, "\n"), Charge: i.Charge, Soluble: i.Soluble, PHLow: i.PHLow, PHHigh: i.PHHigh,
		UseLow: i.UseLow, UseHigh: i.UseHigh, Density: i.Density, MaxTemperature: i.MaxTemperature, Airborne: i.Airborne, Corrosive: i.Corrosive, Source: source,
		Preservative: i.Preservative, WorksLow: i.WorksLow, WorksHigh: i.WorksHigh, Counts: i.Counts}
}
