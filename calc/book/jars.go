package book

import (
	"stillroom/calc"
)

// jarRows are a batch's jars, numbered from one across all its keys.
func (s *State) jarRows(x *shelfStock, batchKey string) []JarRow {
	out := []JarRow{}
	m := s.minted.get(batchKey)
	if m == nil {
		return out
	}
	where := s.where(Shelf, m.now)
	rest := x.restOf(batchKey)
	for i, code := range m.codes() {
		place := rest
		if p := x.jarAt.get(code); p != "" {
			place = s.placeName(p)
		}
		out = append(out, JarRow{code, calc.ShowJarCode(code), i + 1, place, where})
	}
	return out
}

// count is how many jars a batch has: the codes that it names, without writing them.
func (m *minted) count() int {
	if m == nil {
		return 0
	}
	n := 0
	for _, r := range m.body.Keys {
		n += calc.CountJars(r.Key, int(r.Count), firstJar)
	}
	return n
}

// codes are the codes of a batch's jars in their order, across all its keys.
func (m *minted) codes() []string {
	var out []string
	for _, r := range m.body.Keys {
		for _, n := range calc.JarNumbers(r.Key, int(r.Count), firstJar) {
			if code, e := calc.JarCode(r.Key, n); e == nil { // a key that no honest device writes names no jars
				out = append(out, code)
			}
		}
	}
	return out
}

func (s *State) viewJar(ctx Context, args []byte) (any, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, no
	}
	code, how, e := calc.ReadJarCode(a.Code)
	if e != nil {
		hint := e.Want
		if hint == "" {
			hint = "read it again, character by character"
		}
		return nil, unseen("misread", "code", e.Says, hint)
	}
	shown := calc.ShowJarCode(code)
	jar, known := s.PublicJar(code)
	if !known {
		return nil, unseen("jar unknown", "code", "the code "+shown+" is sound but not in this book on this phone", "connect to the home store to fetch what is new; if it stays unknown, the jar is from another book")
	}
	v := JarView{Code: code, Shown: shown, Read: how, Number: jar.Number, Of: jar.Of, Place: s.shelfStock().placeOfJar(jar.Batch, code),
		BestBefore: showDay(jar.Jars.Best), Net: s.mass(jar.Jars.Net, 100)}
	v.NetSum = "the fill of the plan when the jars were filled = " + v.Net
	v.BestSum = s.bestSum(&jar.Jars)
	if n := jar.Card.AfterOpen; n > 0 {
		v.BestBefore = join(v.BestBefore, counted(int(n), "month", "months")+" once opened")
	}
	if b := s.making(jar.Batch); b != nil {
		v.Batch = s.batchView(ctx, b)
	} else {
		v.Batch = s.shelfBatch(ctx, &jar.Jars, s.jarRows(s.shelfStock(), jar.Batch))
	}
	return v, nil
}

// bestSum says how the best before of a batch's jars came about: from life and lots where the workshop is on this phone and they still give that day.
func (s *State) bestSum(j *JarsMinted) string {
	if j.Best == 0 {
		return ""
	}
	if m := s.making(j.Batch); m != nil && m.b.filling() != nil {
		if life := s.shelfLife(m, m.b.filling().Day); numberOfDay(life.Best) == j.Best {
			return life.Says
		}
	}
	return "worked out when the jars were filled, from the stated life of the formula and the lots that went in"
}

// shelfBatch is what the shelf alone says of a batch: a stall sees this and nothing of the workshop.
func (s *State) shelfBatch(ctx Context, m *JarsMinted, jars []JarRow) BatchView {
	state, says := Resting, "resting until someone releases it by name"
	if b := s.bars.get(m.Batch); b != nil && b.body.State != "" {
		state, says = b.body.State, b.body.State
		if b.body.Barred {
			says = state + ": " + b.body.Reason
		}
	}
	n := int64(len(jars))
	barred, _ := s.unsold(ctx, s.minted.get(m.Batch))
	return BatchView{Looks: []RowView{}, Words: []Note{}, Barred: barred, CanGive: s.mayGo(ctx, s.minted.get(m.Batch), "given") == nil,
		Row: BatchRow{Key: m.Batch, Code: m.Code, Name: m.Product, Purpose: m.Purpose, State: state, Says: says,
			Started: showDay(m.Made), Jars: pieces(n, m.Word), Where: s.where(Shelf, s.minted.get(m.Batch).now)},
		Made: showDay(m.Made), Layers: []Layer{}, Rows: []RowView{}, WentIn: []WentIn{}, Findings: []Note{},
		Jars: jars, JarsSays: pieces(n, m.Word), Places: s.shelfStock().placesOf(m.Batch),
	}
}
