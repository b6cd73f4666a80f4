package book

import (
	"encoding/json"
	"strconv"
	"strings"

	"stillroom/calc"
	"stillroom/sync"
)

type importArgs struct {
	Text string `json:"text"`
	// Name is for a formula that a table does not name, often the name of the file.
	Name string `json:"name"`
}

type importValue struct {
	Keys []string `json:"keys"`
	Says string   `json:"says"`
}

// importing is a file on its way in: everything is decided on a copy, so that what is kept is all of it or nothing.
type importing struct {
	ctx    Context
	s      *State // the copy
	view   ImportView
	drafts []Draft
	keys   []string
}

// viewImport is the dry run: what the file would bring, row by row.
func (s *State) viewImport(ctx Context, args []byte) (any, *Refusal) {
	var a importArgs
	if json.Unmarshal(args, &a) != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	return s.importing(ctx, a).view, nil
}

// importFormulas keeps all that a file brings, or nothing.
func (s *State) importFormulas(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[importArgs](args)
	if no != nil {
		return nil, nil, no
	}
	in := s.importing(ctx, a)
	if !in.view.Ready {
		says, hint := "the file holds nothing to keep", "choose another file"
		if t := in.view.Troubles; len(t) > 0 {
			says, hint = strings.TrimPrefix(t[0].Place+": "+t[0].Says, ": "), t[0].Do
			if len(t) > 1 {
				says += ", and " + strconv.Itoa(len(t)-1) + " more"
			}
		}
		return nil, nil, refuse("import", "text", says, hint)
	}
	return in.drafts, importValue{in.keys, in.view.Says}, nil
}

func (s *State) importing(ctx Context, a importArgs) *importing {
	in := &importing{ctx: ctx, s: s.Overlay(), keys: []string{}, view: ImportView{Kind: "table", Formulas: []ImportFormula{}, Ingredients: []string{}, Troubles: []ImportTrouble{}, Notes: []string{}}}
	if calc.IsFormulaFile(a.Text) {
		in.view.Kind = "file"
		in.file(a.Text)
	} else {
		in.table(a)
	}
	in.view.Ready = len(in.view.Troubles) == 0 && len(in.view.Formulas) > 0
	in.sum()
	return in
}

func (in *importing) sum() {
	fresh, lines := 0, 0
	for _, f := range in.view.Formulas {
		if lines += len(f.Lines); f.New {
			fresh++
		}
	}
	v := &in.view
	v.Says = pieces(int64(len(v.Formulas)), "formula") + ", " + pieces(int64(lines), "line") + broughtSays(len(v.Formulas), fresh, len(v.Troubles))
}

// broughtSays tells what stands in the way of so many things, or how many of them are not new.
func broughtSays(all, fresh, troubles int) string {
	switch {
	case troubles > 0:
		return "; " + strconv.Itoa(troubles) + " in the way, so nothing can be kept yet"
	case fresh == 0:
		return "; all of it is in this book already"
	case fresh < all:
		return "; " + strconv.Itoa(all-fresh) + " in this book already"
	}
	return ""
}

func (in *importing) trouble(place, formula, says, do string) {
	in.view.Troubles = append(in.view.Troubles, ImportTrouble{place, formula, sentence(says), sentence(do)})
}

// take applies what was decided to the copy: what comes next builds on it.
func (in *importing) take(d Draft) Ref {
	e := sync.Entry{Seq: in.s.Head(d.Stream, in.ctx.Device) + 1, At: in.ctx.Now, Kind: d.Kind, V: d.V, Body: d.Body}
	in.s.Apply(d.Stream, in.ctx.Device, nil, e)
	in.drafts = append(in.drafts, d)
	return Ref{in.ctx.Device, e.Seq}
}

// table reads a spreadsheet's file.
func (in *importing) table(a importArgs) {
	k := in.s.matter()
	k.Bases = map[string]*calc.Formula{}
	in.s.formulas.each(func(key string, f *formula) bool {
		if b := f.newest().read(); b != nil {
			c := b.calc()
			k.Bases[key] = &c
		}
		return true
	})
	read := calc.FormulasFromCSV(a.Text, a.Name, k)
	in.view.Notes = read.Notes
	for _, t := range read.Troubles {
		in.csvTrouble(t)
	}
	for i := range read.Formulas {
		f := &read.Formulas[i]
		row := ImportFormula{Name: f.Name, Credit: f.Credit, Total: f.Total, Lines: []ImportLine{}}
		for _, l := range f.Lines {
			row.Lines = append(row.Lines, ImportLine{"line " + strconv.Itoa(l.Line), l.Phase, l.Typed, l.Name, l.Amount, l.Percent, l.Says, l.Trouble})
		}
		if read.Ready {
			d := f.Draft
			if d.Wash == "" {
				d.Wash, d.Site = "rinse-off", "body"
				row.Says = "the file does not say whether it stays on the skin: taken as rinse-off, body; change it in the formula"
			}
			in.formula(&row, d, "line "+strconv.Itoa(f.Line), keeping{credit: f.Credit, word: ""}, false)
		}
		in.view.Formulas = append(in.view.Formulas, row)
	}
}

func (in *importing) csvTrouble(t calc.CSVTrouble) {
	place := "line " + strconv.Itoa(t.Line)
	if t.Column != "" {
		place += ", column " + t.Column
	}
	in.trouble(place, t.Formula, t.Says, t.Do)
}

// keeping is what a formula keeps beside what stands in its draft.
type keeping struct {
	credit, word, lineage string
	lineageRev            Ref
}

// formula decides one formula; the name of one that is here already and differs is changed where rename allows it. It answers the key that it has in this book.
func (in *importing) formula(row *ImportFormula, d calc.Draft, place string, keep keeping, rename bool) string {
	b, no := in.s.formulaBody(d)
	if no != nil {
		in.trouble(place+fieldPlace(no.Field), d.Name, strings.TrimSuffix(no.Says, kept), no.Hint)
		return ""
	}
	b.Credit, b.Word, b.Lineage, b.LineageRev = keep.credit, keep.word, keep.lineage, keep.lineageRev
	if had := in.named(b.Name); had != nil {
		switch other := in.named(b.Name + " (" + keep.credit + ")"); {
		case sameFormula(had, b):
			row.Says = join(row.Says, "in this book already, line for line")
			return had.Key
		case rename && keep.credit != "" && (other == nil || sameFormula(other, b)):
			b.Name += " (" + keep.credit + ")"
			row.Name, row.Says = b.Name, "another formula has its name in this book"
			if other != nil {
				row.Says = "in this book already, line for line"
				return other.Key
			}
		default:
			in.trouble(place, b.Name, "a formula called "+b.Name+" is in this book already, and it differs", "give one of the two another name")
			return ""
		}
	}
	b.Key = (&drawer{seed: in.ctx.Rand}).key(8, in.s.matterKeyTaken)
	out, no := draft(KindFormulaSaved, b)
	if no != nil {
		in.trouble(place, d.Name, strings.TrimSuffix(no.Says, kept), no.Hint)
		return ""
	}
	in.take(out)
	row.New = true
	in.keys = append(in.keys, b.Key)
	return b.Key
}

func fieldPlace(field string) string {
	if field == "" {
		return ""
	}
	return ", " + field
}

// named is the newest revision of the formula with a name, nil when there is none.
func (in *importing) named(name string) *FormulaSaved {
	var found *FormulaSaved
	in.s.formulas.each(func(_ string, f *formula) bool {
		if b := f.newest().read(); b != nil && strings.EqualFold(b.Name, name) {
			found = b
		}
		return found == nil
	})
	return found
}

// sameFormula tells whether a formula that comes in says the same as one that is here, of how the product is made; where they came from and how
// much is made is not of that, nor is what the incoming one does not say at all.
func sameFormula(had, in *FormulaSaved) bool {
	plain := func(f *FormulaSaved) *FormulaSaved {
		c := FormulaSaved{Wash: f.Wash, Site: f.Site, Life: f.Life, AfterOpen: f.AfterOpen}
		if in.Site == "" {
			c.Site = ""
		}
		if in.Life == 0 && in.AfterOpen == 0 {
			c.Life, c.AfterOpen = 0, 0
		}
		for _, p := range f.Phases {
			c.Phases = append(c.Phases, Phase{Letter: p.Letter, Do: p.Do, ToMilli: p.ToMilli, HoldMin: p.HoldMin})
		}
		for _, l := range f.Lines {
			l.ID, l.BaseRev, l.Note = "", Ref{}, "" // why a line is here does not change what is made
			c.Lines = append(c.Lines, l)
		}
		return &c
	}
	return same(plain(had), plain(in))
}
