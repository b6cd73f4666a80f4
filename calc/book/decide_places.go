package book

import (
	"strings"

	"stillroom/calc"
)

type priceArgs struct {
	Product string `json:"product"`
	Price   string `json:"price"`
}

func (s *State) price(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[priceArgs](args)
	if no != nil {
		return nil, nil, no
	}
	b := &Priced{Product: strings.TrimSpace(a.Product), Money: s.workshop().Money}
	known := false
	s.minted.each(func(_ string, m *minted) bool { known = known || m.body.Product == b.Product; return !known })
	if !known {
		return nil, nil, refuse("product unknown", "product", "no jars of a product called "+b.Product+" are in this book", "fill a batch of it first")
	}
	if strings.TrimSpace(a.Price) == "" {
		return nil, nil, refuse("misread", "price", "no price was typed", "write it with at most two decimals, such as 12.50")
	}
	if b.Price, no = readMoney(a.Price, "price"); no != nil {
		return nil, nil, no
	}
	if p := s.prices.get(b.Product); p != nil && p.body == *b {
		return nil, entryValue{p.from.ref.String()}, nil
	}
	out, entry, no := s.shelfRow(ctx, KindPriced, b)
	return out, entryValue{entry}, no
}

type placeArgs struct {
	Key    string `json:"key"`
	Name   string `json:"name"`
	What   string `json:"what"`
	Inside string `json:"inside"`
}

// namePlace names a place or renames one. A crate is a place inside a place.
func (s *State) namePlace(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[placeArgs](args)
	if no != nil {
		return nil, nil, no
	}
	b := &PlaceNamed{Key: a.Key, Name: strings.TrimSpace(a.Name), What: a.What, Inside: a.Inside}
	if b.Name == "" {
		return nil, nil, refuse("name missing", "name", "the place has no name", "write what it is called")
	}
	if !oneOf(b.What, "home", "stall", "crate", "shop") {
		return nil, nil, refuse("not a place", "what", "it was not said what kind of place this is", "choose home, stall, crate or shop")
	}
	if b.Key != "" && b.Key != "home" && b.Key != "stall" && s.places.get(b.Key) == nil {
		return nil, nil, refuse("place unknown", "key", "this place is not in this book", "choose it from the list of places")
	}
	if k, no := s.placeOnShelf(b.Name, "name"); no == nil && k != b.Key {
		return nil, nil, refuse("name taken", "name", "a place called "+b.Name+" is already in this book", "choose another name")
	}
	if b.Inside != "" {
		if b.Inside, no = s.placeOnShelf(b.Inside, "inside"); no != nil {
			return nil, nil, no
		}
		up := b.Inside
		for depth := 0; up != "" && depth < 8; depth++ {
			if up == b.Key {
				return nil, nil, refuse("inside itself", "inside", "a place cannot stand inside itself", "choose another place")
			}
			p := s.places.get(up)
			if p == nil {
				break
			}
			up = p.body.Inside
		}
	}
	if b.Key == "" {
		b.Key = (&drawer{seed: ctx.Rand}).key(8, func(k string) bool { return s.places.get(k) != nil })
	}
	if b.What == "crate" {
		b.Code = "C-" + b.Key[:min(4, len(b.Key))]
	}
	if p := s.places.get(b.Key); p != nil && p.body == *b {
		return nil, keyValue{b.Key}, nil
	}
	out, _, no := s.shelfRow(ctx, KindPlaceNamed, b)
	return out, keyValue{b.Key}, no
}

func oneOf(word string, words ...string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}

// lookAt writes the look on the day after filling; it may be repeated.
func (s *State) lookAt(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[lookArgs](args)
	if no != nil {
		return nil, nil, no
	}
	n := s.batches.get(a.Batch)
	switch {
	case n == nil:
		return nil, nil, noBatch()
	case n.fill.Seq == 0:
		return nil, nil, refuse("not filled", "batch", "batch "+n.body.Code+" is not filled yet, so there is nothing to look at", "fill it at the bench first")
	}
	b, no := readLook(a)
	if no != nil {
		return nil, nil, no
	}
	if *b == (BatchLooked{Batch: a.Batch}) {
		return nil, nil, refuse("nothing said", "", "the look says nothing yet", "choose at least one word, or write a note")
	}
	b.Day = dayOf(ctx.Now, ctx.Zone)
	return s.one(ctx, KindBatchLooked, b)
}

// readLook reads the words of a look.
func readLook(a lookArgs) (*BatchLooked, *Refusal) {
	for _, w := range []struct {
		field, word string
		of          []string
	}{{"firm", a.Firm, []string{"softer", "same", "firmer", "hard"}}, {"colour", a.Colour, []string{"paler", "same", "deeper"}},
		{"smell", a.Smell, []string{"good", "faint", "off"}}, {"level", a.Level, []string{"level", "sunk", "risen"}}, {"top", a.Top, []string{"dry", "wet", "drops"}},
		{"fluff", a.Fluff, []string{"less", "same", "more"}}, {"grit", a.Grit, []string{"sharp", "softer", "gone"}}, {"method", a.Method, []string{"strip", "meter"}}} {
		if w.word != "" && !oneOf(w.word, w.of...) {
			return nil, refuse("word unknown", w.field, w.word+" is not a word for this", "choose "+strings.Join(w.of, ", "))
		}
	}
	b := &BatchLooked{Batch: a.Batch, Firm: a.Firm, Colour: a.Colour, Smell: a.Smell, Level: a.Level, Top: a.Top, Fluff: a.Fluff, Grit: a.Grit, Note: strings.TrimSpace(a.Note)}
	if strings.TrimSpace(a.PH) != "" {
		v, e := calc.ReadPH(a.PH)
		if e != nil {
			return nil, misread(e, "ph")
		}
		b.PH, b.Method = int64(v)*10, a.Method
		if strings.TrimSpace(a.Dilution) != "" {
			p, e := calc.ReadPercent(a.Dilution)
			if e != nil {
				return nil, misread(e, "dilution")
			}
			b.Dilution = int64(p)
		}
	}
	return b, nil
}

// lookSays is a look in words.
func lookSays(b *BatchLooked) string {
	var out []string
	for _, w := range []struct{ name, word string }{{"firmness", b.Firm}, {"colour", b.Colour}, {"smell", b.Smell}, {"surface", b.Level}, {"top", b.Top}, {"fluff", b.Fluff}, {"grit", b.Grit}} {
		if w.word != "" {
			out = append(out, w.name+" "+w.word)
		}
	}
	if b.PH > 0 {
		how := ""
		if b.Method != "" {
			how = " (" + phMethod(&BatchRead{Method: b.Method, Dilution: b.Dilution}) + ")"
		}
		out = append(out, "pH "+fixed(b.PH, 3, 1)+how)
	}
	if b.Note != "" {
		out = append(out, b.Note)
	}
	return strings.Join(out, ", ")
}

// lastLook is the newest look that stands, nil when there is none.
func (b *batch) lastLook() *BatchLooked {
	var out *BatchLooked
	b.stands(func(_ *row, body visitable) {
		if l, ok := body.(*BatchLooked); ok {
			out = l
		}
	})
	return out
}

const noLook = "released without a look on the next day"

// removeDemo takes the invented workshop out of the book, both streams at once. What the maker wrote stays.
func (s *State) removeDemo(ctx Context, _ []byte) ([]Draft, any, *Refusal) {
	var bodies []kindBody
	for _, of := range []struct {
		stream string
		kind   uint32
	}{{Workshop, KindDemoRemoved}, {Shelf, KindShelfDemoGone}} {
		s.inventors.each(func(k streamDevice, _ *gone) bool {
			if k.stream == of.stream && k.device != ctx.Device && s.gone.get(k) == nil {
				bodies = append(bodies, kindBody{of.kind, &DemoRemoved{k.device.String()}})
			}
			return true
		})
	}
	out, no := several(bodies...)
	return out, nothing{}, no
}
