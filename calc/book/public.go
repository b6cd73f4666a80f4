package book

import "stillroom/calc"

// PublicJar is what the home store may say of one jar to anyone who opens its link, and what a label is printed from.
type PublicJar struct {
	Code   string // eight characters
	Batch  string // key of the batch
	Number int    // which jar of the batch, from 1
	Of     int    // how many the batch has
	Jars   JarsMinted
	// Card is what was published for the batch; its Batch is "" when nothing was.
	Card CardPublished
	// Bar is the last hold or release that the shelf heard of; its Batch is "" when none.
	Bar BatchBarred
	// Demo marks a jar of the invented workshop: no label, no export and no sale may present it as a maker's.
	Demo bool
}

// Trial tells whether the jar is of a trial that nobody released for sale: its label and its card say so.
func (j *PublicJar) Trial() bool {
	return j.Jars.Purpose == "trial" && !(j.Bar.State == Released && j.Bar.ForSale)
}

// PublicJar finds a jar by its code as calc.ReadJarCode gives it; false when no batch minted it.
func (s *State) PublicJar(code string) (PublicJar, bool) {
	key, _ := calc.SplitJarCode(code)
	batch := s.jarKeys.get(key)
	if batch == nil {
		return PublicJar{}, false
	}
	for _, j := range s.PublicJars(batch.s) {
		if j.Code == code {
			return j, true
		}
	}
	return PublicJar{}, false
}

// PublicJars lists the jars of a batch in their order; none before it was filled.
func (s *State) PublicJars(batch string) []PublicJar {
	m := s.minted.get(batch)
	if m == nil {
		return nil
	}
	one := PublicJar{Batch: batch, Jars: m.body, Demo: s.inventedBatch(batch)}
	if c := s.cards.get(batch); c != nil {
		one.Card = c.body
	}
	if b := s.bars.get(batch); b != nil {
		one.Bar = b.body
	}
	var out []PublicJar
	for i, code := range m.codes() {
		one.Code, one.Number = code, i+1
		out = append(out, one)
	}
	for i := range out {
		out[i].Of = len(out)
	}
	return out
}

// LabelAddress is where the maker wants jars' codes to lead, an http or https address; "" means the home store's own.
func (s *State) LabelAddress() string { return s.workshop().Address }

// ShowDay writes a day as people read it, "12 Nov 2026"; "" for no day.
func ShowDay(day int64) string { return showDay(day) }
