package book

import (
	"strings"

	"stillroom/calc"
)

// wayWords marks a note that gives the reason why questioned words may be printed.
const wayWords = "words"

// printedWords judges what is printed of a batch in a maker's own words: the product's name, the workshop's name and its contact.
func (s *State) printedWords(m *making) []calc.Finding {
	w := s.workshop()
	name := m.f.Name
	if m.b.body.Part != "" {
		name = m.b.body.Part
	}
	return calc.PrintedWords(name, w.Maker, w.Contact)
}

// wordsWhy is the reason that was last given for printing questioned words on this batch, "" for none.
func (m *making) wordsWhy() string {
	why := ""
	m.b.stands(func(_ *row, body visitable) {
		if n, ok := body.(*BatchNoted); ok && n.Way == wayWords {
			why = n.Text
		}
	})
	return why
}

// UnprintedWords says why labels of a batch are not printed for the words on them, "" where they may be: none is questioned, or a reason was
// given. A store that has the shelf alone knows of no words.
func (s *State) UnprintedWords(batch string) string {
	m := s.making(batch)
	if m == nil || m.wordsWhy() != "" {
		return ""
	}
	var says []string
	for _, f := range s.printedWords(m) {
		if f.Level == calc.Stop {
			says = append(says, f.Says)
		}
	}
	if len(says) == 0 {
		return ""
	}
	return "No labels are printed yet: " + strings.Join(says, "; ") + ". Change the name, or write at the batch why it may be printed all the same."
}

// printWords keeps the reason why questioned words may be printed on a batch.
func (s *State) printWords(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[struct {
		Batch  string `json:"batch"`
		Reason string `json:"reason"`
	}](args)
	if no != nil {
		return nil, nil, no
	}
	m := s.making(a.Batch)
	why := strings.TrimSpace(a.Reason)
	switch {
	case m == nil:
		return nil, nil, refuse("batch unknown", "batch", "this batch is not in this book", "choose it from the list of batches")
	case why == "":
		return nil, nil, refuse("reason missing", "reason", "questioned words are printed for a reason, and none was given", "write in a few words why they may stand")
	case why == m.wordsWhy():
		return nil, nothing{}, nil
	}
	return s.one(ctx, KindBatchNoted, &BatchNoted{Batch: a.Batch, Text: why, Way: wayWords})
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
