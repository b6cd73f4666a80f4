package book

import (
	"encoding/json"

	"stillroom/calc"
)

// viewNotebook reads a page of a maker's notebook against all that this book knows: the given list, own ingredients and
// the formulas of the book, which a page may name as bases.
func (s *State) viewNotebook(args []byte) (any, *Refusal) {
	var a struct {
		Text string `json:"text"`
	}
	if err := json.Unmarshal(args, &a); err != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app; what was typed is kept on this phone")
	}
	k := s.matter()
	k.Bases = map[string]*calc.Formula{}
	s.formulas.each(func(key string, f *formula) bool {
		if b := f.newest().read(); b != nil {
			c := b.calc()
			k.Bases[key] = &c
		}
		return true
	})
	page := calc.Notebook(a.Text, k)
	v := NotebookView{Title: page.Title, Lines: []NotebookLine{}, Total: page.Total, TotalSays: page.TotalSays, Draft: page.Draft, Unread: len(page.Unread)}
	for _, l := range page.Lines {
		row := NotebookLine{Kind: l.Kind, Typed: l.Typed, Ingredient: l.Ingredient, Name: l.Name, Sure: l.Sure, Choices: []Choice{}, Amount: l.Amount, Grams: l.Grams,
			Percent: l.Percent, Phase: l.Phase, QS: l.QS, Says: l.Says, Trouble: l.Trouble}
		if l.Base != "" {
			row.Ingredient = l.Base
		}
		for _, c := range l.Choices {
			row.Choices = append(row.Choices, Choice{c.Key, c.Name})
		}
		v.Lines = append(v.Lines, row)
	}
	return v, nil
}
