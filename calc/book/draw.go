package book

import (
	"crypto/sha256"

	"stillroom/calc"
)

// drawer draws keys from the 32 random bytes of a Context: as many as are needed, each from its own hash.
type drawer struct {
	seed [32]byte
	n    byte
}

func (d *drawer) key(length int, taken func(string) bool) string {
	for {
		h := sha256.Sum256(append(d.seed[:], d.n))
		d.n++
		k := calc.DrawKey(h[:], length)
		// After 255 draws something other than chance is at work; a doubled key is caught as a clash by Apply.
		if !taken(k) || d.n == 255 {
			return k
		}
	}
}

// jarKeyTaken says whether a batch or a run of jars already has this key.
func (s *State) jarKeyTaken(k string) bool {
	return s.batches.get(k) != nil || s.jarKeys.get(k) != nil || s.minted.get(k) != nil || s.strays.get(k) != nil
}

func (s *State) lotKeyTaken(k string) bool     { return s.lots.get(k) != nil }
func (s *State) formulaKeyTaken(k string) bool { return s.formulas.get(k) != nil }
