package book

import (
	"slices"
	"strings"

	"stillroom/calc"
)

// wayWords marks a note that gives the reason why questioned words may be printed.
const wayWords = "words"

// printedWords judges what is printed of a batch in a maker's own words: the product's name, the workshop's name and its contact.
func (s *State) printedWords(m *making) []calc.Finding {
	w := s.workshop()
	return calc.PrintedWords(m.printedName(), w.Maker, w.Contact)
}

func (m *making) printedName() string {
	if m.b.body.Part != "" {
		return m.b.body.Part
	}
	return m.f.Name
}

// wordsAllowed are the words for which a reason was given to print them on this batch, each with the last one. A reason of a book that did not
// keep its words was for those of the product's name: that name stood then as it does now, while the workshop's may have changed since.
func (m *making) wordsAllowed() map[string]string {
	out := map[string]string{}
	m.b.stands(func(_ *row, body visitable) {
		n, ok := body.(*BatchNoted)
		if !ok || n.Way != wayWords {
			return
		}
		for _, q := range n.Words {
			out[q.Word] = n.Text
		}
		if len(n.Words) == 0 {
			for _, f := range calc.PrintedWords(m.printedName()) {
				out[f.Figure] = n.Text
			}
		}
	})
	return out
}

// wordsStopped are the findings that stop the labels of a batch, with a reason or without; open are those without.
func (s *State) wordsStopped(m *making) (all, open []calc.Finding, why []string) {
	allowed := m.wordsAllowed()
	for _, f := range s.printedWords(m) {
		if f.Level != calc.Stop {
			continue
		}
		all = append(all, f)
		switch reason := allowed[f.Figure]; {
		case reason == "":
			open = append(open, f)
		case !slices.Contains(why, reason):
			why = append(why, reason)
		}
	}
	return all, open, why
}

// wordsWhy are the reasons for printing what is questioned on this batch, "" while anything has none.
func (s *State) wordsWhy(m *making) string {
	_, open, why := s.wordsStopped(m)
	if len(open) > 0 {
		return ""
	}
	return strings.Join(why, "; ")
}

// UnprintedWords says why labels of a batch are not printed for the words on them, "" where they may be: none is questioned, or each has a
// reason. A store that has the shelf alone knows of no words.
func (s *State) UnprintedWords(batch string) string {
	m := s.making(batch)
	if m == nil {
		return ""
	}
	var says []string
	_, open, _ := s.wordsStopped(m)
	for _, f := range open {
		says = append(says, f.Says)
	}
	if len(says) == 0 {
		return ""
	}
	return "No labels are printed yet: " + strings.Join(says, "; ") + ". Change the name, or write at the batch why it may be printed all the same."
}

// printWords keeps the reason why questioned words may be printed on a batch: for those that have none yet, or anew for all.
func (s *State) printWords(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[struct {
		Batch  string `json:"batch"`
		Reason string `json:"reason"`
	}](args)
	if no != nil {
		return nil, nil, no
	}
	m := s.making(a.Batch)
	reason := strings.TrimSpace(a.Reason)
	switch {
	case m == nil:
		return nil, nil, noBatch()
	case reason == "":
		return nil, nil, refuse("reason missing", "reason", "questioned words are printed for a reason, and none was given", "write in a few words why they may stand")
	}
	all, of, why := s.wordsStopped(m)
	switch {
	case len(all) == 0:
		return nil, nil, refuse("nothing questioned", "reason", "no word on this batch's label needs a reason now", "print the labels as they are")
	case len(of) == 0 && slices.Contains(why, reason):
		return nil, nothing{}, nil
	case len(of) == 0:
		of = all
	}
	n := &BatchNoted{Batch: a.Batch, Text: reason, Way: wayWords}
	for _, f := range of {
		n.Words = append(n.Words, Questioned{f.Figure})
	}
	return s.one(ctx, KindBatchNoted, n)
}

// staleScents (C8) say of a batch which of its scents came from a lot that had been open for more than a year when it was made. Without a day
// of opening the first batch that it went into counts.
func (s *State) staleScents(m *making) []calc.Finding {
	var out []calc.Finding
	w, order := m.b.weighed()
	for _, id := range order {
		for _, u := range w[id].lots {
			l := s.lots.get(u.lot)
			if l == nil {
				continue
			}
			i := m.known.Ingredients[l.body.Ingredient]
			if i == nil || !isScent(i) {
				continue
			}
			opened, since := l.body.Opened, "opened "
			if opened == 0 && len(l.into) > 0 {
				if b := s.batches.get(l.into[0]); b != nil {
					opened, since = b.body.Day, "first used "
				}
			}
			// a day is 20261112, so that a year more is 10000 more
			if opened == 0 || m.b.body.Day <= opened+10000 {
				continue
			}
			out = append(out, calc.Finding{Rule: "stale scent", Level: calc.Note, Subject: id, Says: i.Name + " had been open for more than a year: citrus and tea tree oils oxidise and can then irritate", Figure: "lot " + l.body.Code + ", " + since + showDay(opened), Limit: "12 months after opening",
				Source: "common practice", Do: "smell it beside a fresh one; take a fresh lot for what is left on the skin"})
		}
	}
	return out
}

func isScent(i *calc.Ingredient) bool {
	for _, f := range i.Functions {
		if f == "scent" {
			return true
		}
	}
	return false
}
