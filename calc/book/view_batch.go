package book

import (
	"strings"

	"stillroom/calc"
)

func (s *State) viewBatch(ctx Context, args []byte) (any, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, no
	}
	m := s.making(a.Key)
	if m == nil {
		hint := "choose it from the list of batches"
		if t := s.strays.get(a.Key); t != nil && len(t.rows) > 0 {
			hint = "rows of it are kept in this book and show as soon as its start arrives"
		}
		return nil, unseen("batch unknown", "key", "this batch is not in this book on this phone", hint)
	}
	return s.batchView(ctx, m), nil
}

func (s *State) batchView(ctx Context, m *making) BatchView {
	b := m.b
	l := s.listing()
	v := BatchView{Row: s.batchRow(ctx, b, l), Looks: []RowView{}, Formula: b.body.Formula, Revision: b.body.Revision.String(),
		Layers: []Layer{}, Rows: s.rows(ctx, m), WentIn: s.wentInView(m), Findings: s.batchFindings(m), Places: []PlaceCount{}}
	if r := s.formulas.get(b.body.Formula).find(b.body.Revision); r != nil {
		v.RevisionNumber = r.number
	}
	v.Mass, v.Layers = m.massView()
	v.Words, v.WordsWhy = calc.Margin(s.printedWords(m)), s.wordsWhy(m)
	x := s.shelfStock()
	v.Jars = s.jarRows(x, b.body.Key)
	v.Places = x.placesOf(b.body.Key)
	v.Looks = s.looks(ctx, m)
	f := b.filling()
	v.JarsSays = "not filled yet; " + pieces(b.body.Plan.Jars, "") + " planned"
	if f != nil {
		v.Made = showDay(f.Day)
		v.JarsSays = pieces(f.Jars, f.Word) + ", " + number(b.body.Plan.Jars) + " planned"
		if len(v.Jars) == 0 {
			v.JarsSays += "; their codes are not on this phone yet"
		}
	}
	if says := x.soldSays(b.body.Key); says != "" {
		v.JarsSays += "; " + says
	}
	v.CanLook = f != nil && b.state != Discarded
	open := b.state == Making || b.state == Held
	v.CanFill = open && f == nil && len(s.unweighed(m)) == 0
	if n := s.minted.get(b.body.Key); n != nil {
		v.Barred, _ = s.unsold(ctx, n)
		v.CanGive = s.mayGo(ctx, n, "given") == nil
	}
	v.CanRelease = f != nil && (v.Row.State != Released || b.body.Purpose == "trial" && !b.forSale) && v.Row.State != Discarded && (v.Row.State != Held || b.state == Held && l.held[b.body.Key] == "")
	v.CanHold = b.state != Held && b.state != Discarded
	return v
}

// massView is all that was weighed, and how the jar stands filled with it.
func (m *making) massView() (Figure, []Layer) {
	w, order := m.b.weighed()
	step := m.b.body.Plan.Step
	phases := map[string]int64{}
	var total int64
	for _, id := range order {
		total += w[id].mass
		if l := m.line(id); l != nil {
			phases[l.Phase] += w[id].mass
		}
	}
	layers := []Layer{}
	whole := max(m.b.body.Mass, total)
	for _, p := range m.f.Phases {
		if n := phases[p.Letter]; n > 0 {
			layers = append(layers, Layer{Phase: p.Letter, Share: ratio(n, m.b.body.Mass), Percent: hundredths(share(n, whole))})
		}
	}
	plan := pieces(m.b.body.Plan.Jars, "") + " of " + grams(m.b.body.Plan.Fill, 1000) + " and " + plain(m.b.body.Plan.Loss, 4) + " % loss"
	if m.scaledUp {
		plan = "scaled up, since too much went in"
	}
	return Figure{Text: grams(total, step) + m.known.Bench.Beside(calc.Mass(total)), Sum: grams(total, step) + " on the scale of " + grams(m.b.body.Mass, step) + " planned: " + plan}, layers
}

// wentInView is what really went in, line by line, with the lots: from the record and not from the plan.
func (s *State) wentInView(m *making) []WentIn {
	out := []WentIn{}
	w, order := m.b.weighed()
	made, total := m.wentIn()
	percent := map[string]calc.Percent{}
	for _, l := range made.Lines {
		percent[l.ID] = l.Percent
	}
	step := m.b.body.Plan.Step
	add := func(id, name string, target int64, planned bool) {
		v := WentIn{Line: id, Name: name, Lots: []LotPart{}}
		if planned {
			v.Target = grams(target, step)
		}
		if x := w[id]; x != nil {
			v.Actual = grams(x.mass, step)
			for _, u := range x.lots {
				code := "no lot said"
				if u.lot != "" {
					code = s.lotCode(u.lot)
				}
				v.Lots = append(v.Lots, LotPart{u.lot, code, grams(u.mass, step)})
			}
			v.ActualSum = weighedSum(v, x.rows)
			if total > 0 {
				p := hundredths(int64(percent[id]))
				v.Percent = Figure{Text: p, Sum: onGrid(x.mass, step) + " ÷ " + onGrid(total, step) + " × 100 = " + p + ", from the record"}
			}
		}
		out = append(out, v)
	}
	for _, t := range m.b.body.Targets {
		name := t.Line
		if l := m.line(t.Line); l != nil {
			name = s.lineName(l.Ingredient, l.Base)
		}
		add(t.Line, name, t.Mass, true)
	}
	for _, id := range order {
		if id[:1] == "+" {
			add(id, s.lineName(w[id].ingr, ""), 0, false)
		}
	}
	return out
}

// weighedSum adds up what was weighed of a line: from which lot how much, and how far that is from the plan.
func weighedSum(v WentIn, rows int) string {
	var terms []string
	for _, l := range v.Lots {
		terms = append(terms, l.Grams+" of "+l.Code)
	}
	out := strings.Join(terms, " + ") + " = " + v.Actual + ", by " + counted(rows, "weighing", "weighings") + " of the record"
	if v.Target != "" && v.Target != v.Actual {
		out += "; planned " + v.Target
	}
	return out
}

// batchFindings are the checks over what went in, once all of it did; before, over what is planned. What the record
// itself speaks against stands first.
func (s *State) batchFindings(m *making) []Note {
	f := m.f
	own := []calc.Finding{}
	if len(s.unweighed(m)) == 0 {
		if made, total := m.wentIn(); total > 0 {
			f = made
		}
		own = append(own, s.lotFindings(m)...)
		own = append(own, s.staleScents(m)...)
		own = append(own, s.extraFindings(m)...)
	}
	own = append(own, coolFindings(m)...)
	own = append(own, s.fillFindings(m)...)
	if fill := m.b.filling(); fill != nil {
		life := s.shelfLife(m, fill.Day)
		own = append(own, calc.Finding{Rule: "shelflife", Level: calc.Note, Says: life.Says, Source: "EU 1223/2009 Art. 19(1)(c) (read); the lots are prudence, not law"})
		for _, f := range life.Notes {
			if f.Level != calc.Note {
				own = append(own, f)
			}
		}
	}
	if key := m.b.body.Container; key != "" {
		_, _, found := s.fit(m.b.body.Formula, calc.Mass(m.b.body.Plan.Fill), key)
		own = append(own, found...)
	}
	pH := 0
	m.b.stands(func(_ *row, body visitable) {
		if r, ok := body.(*BatchRead); ok && r.What == "ph" {
			pH = int(r.Value / 10)
		}
	})
	if len(f.Lines) > 0 {
		own = append(own, calc.Findings(f, m.known, pH)...)
	}
	return calc.Margin(own)
}

// lotFindings say which lines have no lot, since a trace ends there.
func (s *State) lotFindings(m *making) []calc.Finding {
	var out []calc.Finding
	w, order := m.b.weighed()
	for _, id := range order {
		for _, u := range w[id].lots {
			if u.lot == "" {
				name := id
				if l := m.line(id); l != nil {
					name = s.lineName(l.Ingredient, l.Base)
				}
				out = append(out, calc.Finding{Rule: "lot not said", Level: calc.Note, Subject: id, Says: "no lot was said for " + name + ", so a trace of a lot cannot find this batch by it",
					Source: "this book's own rule", Do: "correct the row with the lot, if it is known"})
			}
		}
	}
	return out
}

// coolFindings say which limit of cooling was passed without a measured temperature, once the batch is filled.
func coolFindings(m *making) []calc.Finding {
	var out []calc.Finding
	if m.b.fill.Seq == 0 {
		return nil
	}
	for _, p := range m.f.Phases {
		if p.Treatment.Do != "cool" || p.Treatment.Degrees == nil {
			continue
		}
		if cooled := m.measured(p); cooled.Seq == 0 {
			out = append(out, calc.Finding{Rule: "not cooled", Level: calc.Care, Phase: p.Letter, Limit: p.Treatment.Degrees.Show(),
				Says:   "no temperature at or below " + p.Treatment.Degrees.Show() + " was measured before phase " + p.Letter + " was done",
				Source: "the formula's own treatment", Do: "write a note if it was measured and not recorded"})
		}
	}
	return out
}

// measured is the reading that closes the treatment of a phase: for heating one from 3 °C below the aim upwards (this
// book's own rule, as for pots), for cooling one at or below the limit, without an aim any.
func (m *making) measured(p calc.Phase) Ref {
	var out, low Ref
	m.b.stands(func(r *row, body visitable) {
		switch t := body.(type) {
		case *BatchRead:
			if t.What != "temperature" || t.Phase != p.Letter || out.Seq != 0 {
				return
			}
			aim := p.Treatment.Degrees
			switch {
			case aim != nil && p.Treatment.Do == "cool" && t.Value > aim.MilliC:
			case aim != nil && p.Treatment.Do != "cool" && t.Value < aim.MilliC-potBelow:
				low = r.from.ref
			default:
				out = r.from.ref
			}
		case *BatchWeighed, *BatchTreated, *BatchFilled:
			// The batch went on with what the thermometer read: nobody is sent back to heat it again.
			if out.Seq == 0 {
				out = low
			}
		}
	})
	return out
}
