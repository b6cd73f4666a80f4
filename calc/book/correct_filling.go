package book

import (
	"slices"
	"strings"

	"stillroom/calc"
	"stillroom/sync"
)

// correctedFilling is a filling with another number of jars. Jars that stay keep their codes, since those may be
// printed; what is too many goes from the end, and what is missing gets the next numbers.
func (s *State) correctedFilling(ctx Context, m *making, b *BatchFilled, typed string) (visitable, *Refusal) {
	n, e := calc.ReadCount(typed)
	if e != nil {
		return nil, misread(e, "value")
	}
	if plan := m.b.body.Plan; plan.Jars > 0 && int64(n) > 10*plan.Jars {
		return nil, refuse("too many", "value", number(int64(n))+" is more than ten times the "+pieces(plan.Jars, b.Word)+" planned", "count again")
	}
	jars := s.minted.get(b.Batch)
	if jars == nil {
		return nil, refuse("jars unknown", "entry", "the jars of this batch are not on this phone yet", "connect to the home store, then correct it")
	}
	old := jars.codes()
	if n < len(old) {
		x := s.shelfStock()
		for _, code := range old[n:] {
			if p := x.jarAt.get(code); p != "" {
				return nil, refuse("jar elsewhere", "value", "the jar "+calc.ShowJarCode(code)+" was scanned at "+s.placeName(p)+", so it is there", "undo that row first if it is wrong")
			}
		}
		if there := x.hand.get(at{b.Batch, b.Place}).N; there < int64(len(old)-n) {
			return nil, refuse("more than there are", "value", "at "+s.placeName(b.Place)+" there are "+pieces(max(there, 0), b.Word)+" left, and "+number(int64(len(old)-n))+" would go", "correct the movement or the sale first, then the filling")
		}
	}
	b.Jars, b.Keys = int64(n), s.stretch(ctx, b.Batch, b.Keys, n)
	return b, nil
}

// stretch gives runs another number of jars, from the end.
func (s *State) stretch(ctx Context, batch string, runs []JarRun, jars int) []JarRun {
	var out []JarRun
	for _, r := range runs {
		n := int64(len(calc.JarNumbers(r.Key, jars, firstJar)))
		if jars == 0 {
			break
		}
		out = append(out, JarRun{r.Key, n})
		jars -= int(n)
	}
	if jars > 0 {
		more := s.runs(ctx, (&drawer{seed: ctx.Rand}).key(5, s.jarKeyTaken), jars)
		out = append(out, more...)
	}
	return out
}

// shelfAgain is what the shelf must hear after a row of a filled batch was corrected: the jars by their new number, and
// the public card by what went in now.
func (s *State) shelfAgain(ctx Context, m *making, c Draft) ([]Draft, *Refusal) {
	if m.b.fill.Seq == 0 {
		return nil, nil
	}
	o := s.Overlay()
	o.Apply(Workshop, ctx.Device, nil, sync.Entry{Seq: s.next(ctx, Workshop, 0).Seq, At: ctx.Now, Kind: c.Kind, V: c.V, Body: c.Body})
	return o.shelfDiffers(o.making(m.b.body.Key))
}

// shelfDiffers is the part of the shelf's half of a filling that the shelf has otherwise.
func (s *State) shelfDiffers(m *making) ([]Draft, *Refusal) {
	f := m.b.filling()
	had, card := s.minted.get(m.b.body.Key), s.cards.get(m.b.body.Key)
	if f == nil || had == nil {
		return nil, nil
	}
	half, no := s.shelfHalf(m, f)
	if no != nil {
		return nil, no
	}
	var out []Draft
	for _, d := range half {
		body, err := open(d.Kind, d.V, d.Body)
		if err != nil {
			continue
		}
		switch b := body.(type) {
		case *JarsMinted:
			if slices.Equal(b.Keys, had.body.Keys) {
				continue
			}
			b.Of = had.now
			if d, no = draft(KindJarsMinted, b); no != nil {
				return nil, no
			}
			out = append(out, d)
		case *CardPublished:
			if card == nil || !card.body.says(b) {
				out = append(out, d)
			}
		}
	}
	return out, nil
}

// says tells whether a card says what another would.
func (c *CardPublished) says(b *CardPublished) bool {
	return c.Ingredients == b.Ingredients && slices.Equal(c.Cautions, b.Cautions) && c.Maker == b.Maker && c.Address == b.Address &&
		c.Contact == b.Contact && c.AfterOpen == b.AfterOpen
}

// correctedLook is a look with the words that were said anew; what was left empty stays.
func correctedLook(b *BatchLooked, a *lookArgs) (visitable, *Refusal) {
	if a == nil {
		return nil, refuse("value missing", "value", "nothing was said in its place", "choose the words that were wrong")
	}
	now, no := readLook(*a)
	if no != nil {
		return nil, no
	}
	for _, w := range []struct{ old, new *string }{{&b.Firm, &now.Firm}, {&b.Colour, &now.Colour}, {&b.Smell, &now.Smell}, {&b.Level, &now.Level},
		{&b.Top, &now.Top}, {&b.Fluff, &now.Fluff}, {&b.Grit, &now.Grit}, {&b.Note, &now.Note}} {
		if strings.TrimSpace(*w.new) != "" {
			*w.old = *w.new
		}
	}
	if now.PH != 0 {
		b.PH, b.Method, b.Dilution = now.PH, now.Method, now.Dilution
	}
	return b, nil
}
