package book

import (
	"strconv"
)

// Tonight is the view tonight: what is worth doing between the filling and the look of the next day.
type Tonight struct {
	Says []string `json:"says"`
	// From is the place that a jar can be kept back from, "" when one was kept back or none is left.
	From string `json:"from"`
	Word string `json:"word"`
	// Asks are words of the look that only this product has: fluff, grit.
	Asks []string `json:"asks"`
}

// mark is what is written on a lid overnight: the letter and the count of the batch's code.
func (b *BatchStarted) mark() string { return b.Letter + strconv.FormatInt(b.Count, 10) }

func (s *State) viewTonight(args []byte) (any, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, no
	}
	v := Tonight{Says: []string{}, Asks: []string{}}
	m := s.making(a.Key)
	if m == nil {
		return v, nil
	}
	v.Asks = s.lookAsks(m)
	if m.b.state != Resting || m.b.lastLook() != nil {
		return v, nil
	}
	v.Word = s.wordOf(m.b)
	if v.Word == "" {
		v.Word = "jar"
	}
	v.Says = append(v.Says, "Write "+m.b.body.mark()+" on the lids: labels come after the look, when the "+word(v.Word)+" are dry.")
	for _, p := range m.f.Phases {
		if p.Treatment.Do == "heat" || p.Treatment.Do == "melt" {
			v.Says = append(v.Says, "Lids on when cold: a warm closed "+v.Word+" sweats under its lid, and water on top is where mould starts (common practice).")
			break
		}
	}
	x := s.shelfStock()
	for _, k := range x.order {
		if k.batch != a.Key || x.hand.get(k).N <= 0 {
			continue
		}
		if k.place == "kept back" {
			v.From = ""
			return v, nil
		}
		if v.From == "" && !outOfHand(k.place) {
			v.From = k.place
		}
	}
	if v.From != "" {
		v.Says = append(v.Says, "Keep one "+v.Word+" back, to watch it age and to test it.")
	}
	return v, nil
}

// word is the plural of a container's word.
func word(one string) string { return pieces(2, one)[len("2 "):] }
