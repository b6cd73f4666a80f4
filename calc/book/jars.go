package book

import (
	"stillroom/calc"
)

// jarRows are a batch's jars, numbered from one across all its keys.
func (s *State) jarRows(batchKey string) []JarRow {
	out := []JarRow{}
	m := s.minted.get(batchKey)
	if m == nil {
		return out
	}
	where := s.where(Shelf, m.from.ref)
	at := s.placeName(m.body.Place)
	for _, r := range m.body.Keys {
		for _, n := range calc.JarNumbers(r.Key, int(r.Count), firstJar) {
			code, e := calc.JarCode(r.Key, n)
			if e != nil { // a key that an honest device never writes names no jars
				continue
			}
			out = append(out, JarRow{code, calc.ShowJarCode(code), len(out) + 1, at, where})
		}
	}
	return out
}

func countPlaces(jars []JarRow) []PlaceCount {
	out := []PlaceCount{}
	at := map[string]int{}
	for _, j := range jars {
		i, ok := at[j.Place]
		if !ok {
			i = len(out)
			at[j.Place] = i
			out = append(out, PlaceCount{Place: j.Place})
		}
		out[i].Count++
	}
	return out
}

// BatchJars are the jars of a batch as they are printed, for labels; false when the shelf does not know them yet.
func (s *State) BatchJars(batchKey string) ([]JarRow, bool) {
	return s.jarRows(batchKey), s.minted.get(batchKey) != nil
}

// Card is what anyone may read of a batch, and whether it is barred.
func (s *State) Card(batchKey string) (c CardPublished, barred bool, ok bool) {
	x := s.cards.get(batchKey)
	if x == nil {
		return CardPublished{}, false, false
	}
	if b := s.bars.get(batchKey); b != nil {
		barred = b.body.Barred
	}
	return x.body, barred, true
}

// BatchOfJar is the batch that a read and checked jar code belongs to, "" when this book does not know it.
func (s *State) BatchOfJar(code string) (batchKey string, number int) {
	key, _ := calc.SplitJarCode(code)
	owner := s.jarKeys.get(key)
	if owner == nil {
		return "", 0
	}
	for _, j := range s.jarRows(owner.s) {
		if j.Code == code {
			return owner.s, j.Number
		}
	}
	return "", 0
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
	batchKey, n := s.BatchOfJar(code)
	if batchKey == "" {
		return nil, unseen("jar unknown", "code", "the code "+shown+" is sound but not in this book on this phone", "connect to the home store to fetch what is new; if it stays unknown, the jar is from another book")
	}
	jars := s.jarRows(batchKey)
	m := s.minted.get(batchKey)
	v := JarView{Code: code, Shown: shown, Read: how, Number: n, Of: len(jars), Place: jars[n-1].Place,
		BestBefore: showDay(m.body.Best), Net: grams(m.body.Net, 100)}
	if b := s.making(batchKey); b != nil {
		v.Batch = s.batchView(ctx, b)
	} else {
		v.Batch = s.shelfBatch(&m.body, jars)
	}
	return v, nil
}

// shelfBatch is what the shelf alone says of a batch: a stall sees this and nothing of the workshop.
func (s *State) shelfBatch(m *JarsMinted, jars []JarRow) BatchView {
	state, says := Resting, "resting until someone releases it by name"
	if b := s.bars.get(m.Batch); b != nil && b.body.State != "" {
		state, says = b.body.State, b.body.State
		if b.body.Barred {
			says = state + ": " + b.body.Reason
		}
	}
	n := int64(len(jars))
	return BatchView{
		Row: BatchRow{Key: m.Batch, Code: m.Code, Name: m.Product, Purpose: m.Purpose, State: state, Says: says,
			Started: showDay(m.Made), Jars: pieces(n, m.Word), Where: s.where(Shelf, s.minted.get(m.Batch).from.ref)},
		Made: showDay(m.Made), Layers: []Layer{}, Rows: []RowView{}, WentIn: []WentIn{}, Findings: []Note{},
		Jars: jars, JarsSays: pieces(n, m.Word), Places: countPlaces(jars),
	}
}
