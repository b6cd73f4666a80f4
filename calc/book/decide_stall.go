package book

import (
	"strconv"
	"strings"

	"stillroom/calc"
)

type moveArgs struct {
	Batch string `json:"batch"`
	From  string `json:"from"`
	To    string `json:"to"`
	Count string `json:"count"`
	Jars  string `json:"jars"`
}

type moveValue struct {
	Entry string `json:"entry"`
	Moved int64  `json:"moved"`
}

// shelfRow is a command that writes a single row of the shelf.
func (s *State) shelfRow(ctx Context, kind uint32, b visitable) ([]Draft, string, *Refusal) {
	d, no := draft(kind, b)
	if no != nil {
		return nil, "", no
	}
	return []Draft{d}, s.next(ctx, Shelf, 0).String(), nil
}

func (s *State) moveJars(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[moveArgs](args)
	if no != nil {
		return nil, nil, no
	}
	b := &JarMoved{Batch: a.Batch}
	x := s.shelfStock()
	if strings.TrimSpace(a.Jars) != "" {
		if b.Jars, b.Batch, no = s.readJars(a.Jars, a.Batch, "jars"); no != nil {
			return nil, nil, no
		}
		b.Count = int64(len(b.Jars))
		if a.From == "" {
			a.From = x.jarAt.get(b.Jars[0].Code)
		}
	} else {
		n, e := calc.ReadCount(a.Count)
		if e != nil {
			return nil, nil, misread(e, "count")
		}
		b.Count = int64(n)
	}
	m, no := s.mintedOf(b.Batch)
	if no != nil {
		return nil, nil, no
	}
	if b.From, no = s.placeOnShelf(a.From, "from"); no != nil {
		return nil, nil, no
	}
	if strings.TrimSpace(a.To) == "" {
		return nil, nil, refuse("place missing", "to", "it was not said where the jars go", "choose a place")
	}
	if b.To, no = s.placeOnShelf(a.To, "to"); no != nil {
		return nil, nil, no
	}
	if b.From == b.To {
		return nil, nil, refuse("same place", "to", "the jars stand at "+s.placeName(b.To)+" already", "choose another place")
	}
	if no := s.mayGo(ctx, m, b.To); no != nil {
		return nil, nil, no
	}
	for _, j := range b.Jars {
		if p := x.jarAt.get(j.Code); p != "" && p != b.From {
			return nil, nil, refuse("jar elsewhere", "jars", "the jar "+calc.ShowJarCode(j.Code)+" is not at "+s.placeName(b.From)+" but at "+s.placeName(p), "say where it stands, or count what is there")
		}
	}
	if there := x.hand.get(at{b.Batch, b.From}).N; b.Count > there {
		return nil, nil, refuse("more than there are", "count", "at "+s.placeName(b.From)+" there are "+pieces(max(there, 0), m.body.Word)+" of "+m.body.Code+", and "+number(b.Count)+" were to be moved",
			"move fewer, or count what is there first")
	}
	out, entry, no := s.shelfRow(ctx, KindJarMoved, b)
	return out, moveValue{entry, b.Count}, no
}

// readJars reads codes as typed or scanned, parted by commas, lines or spaces; all of one batch.
func (s *State) readJars(text, batch, field string) ([]JarItem, string, *Refusal) {
	var words []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		if _, _, e := calc.ReadJarCode(part); e != nil {
			words = append(words, strings.Fields(part)...)
		} else {
			words = append(words, part)
		}
	}
	var out []JarItem
	seen := map[string]bool{}
	for _, w := range words {
		code, _, e := calc.ReadJarCode(w)
		if e != nil {
			return nil, "", misread(e, field)
		}
		jar, known := s.PublicJar(code)
		if !known {
			return nil, "", refuse("jar unknown", field, "the code "+calc.ShowJarCode(code)+" is sound but not in this book on this phone", "connect to the home store to fetch what is new")
		}
		if batch != "" && jar.Batch != batch {
			return nil, "", refuse("another batch", field, "the jar "+calc.ShowJarCode(code)+" is of batch "+jar.Jars.Code, "move the jars of one batch at a time")
		}
		if batch = jar.Batch; !seen[code] {
			out, seen[code] = append(out, JarItem{code}), true
		}
	}
	if len(out) == 0 || len(out) > 1000 {
		return nil, "", refuse("no jars", field, "no jar was named, or more than a thousand", "scan or type the codes of the jars")
	}
	return out, batch, nil
}

func (s *State) mintedOf(batch string) (*minted, *Refusal) {
	if m := s.minted.get(batch); m != nil {
		return m, nil
	}
	return nil, refuse("batch unknown", "batch", "the jars of this batch are not in this book on this phone", "choose a batch that was filled")
}

// placeOnShelf finds a place, the ways out of the workshop among them.
func (s *State) placeOnShelf(text, field string) (string, *Refusal) {
	for _, p := range waysOut {
		if strings.EqualFold(strings.TrimSpace(text), p) {
			return p, nil
		}
	}
	key, no := s.placeNamed(text)
	if no != nil {
		no.Field = field
	}
	return key, no
}

var waysOut = []string{"sold", "given", "kept back", "discarded"}

// shelfState is what the shelf knows of a batch: resting until a release is heard of.
func (s *State) shelfState(batch string) (state, says string) {
	if b := s.bars.get(batch); b != nil && b.body.State != "" {
		if b.body.Barred {
			return b.body.State, join(b.body.State, b.body.Reason)
		}
		return b.body.State, b.body.State
	}
	return Resting, "resting until someone releases it by name"
}

// selling tells whether jars at a place are before buyers.
func (s *State) selling(place string) bool {
	for depth := 0; depth < 8 && place != ""; depth++ {
		p := s.places.get(place)
		if place == "stall" || p != nil && (p.body.What == "stall" || p.body.What == "shop") {
			return true
		}
		if p == nil {
			return false
		}
		place = p.body.Inside
	}
	return false
}

type sellArgs struct {
	Place   string `json:"place"`
	Product string `json:"product"`
	Batch   string `json:"batch"`
	Jar     string `json:"jar"`
	Count   string `json:"count"`
	Price   string `json:"price"`
}

// sell writes a sale, or a gift when the price is "given" or 0. When one batch of the product stands there it is of that.
func (s *State) sell(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[sellArgs](args)
	if no != nil {
		return nil, nil, no
	}
	b := &Sold{Product: strings.TrimSpace(a.Product), Batch: a.Batch, Count: 1, Day: dayOf(ctx.Now, ctx.Zone)}
	if a.Place == "" {
		a.Place = "stall"
	}
	if b.Place, no = s.placeOnShelf(a.Place, "place"); no != nil {
		return nil, nil, no
	}
	if strings.TrimSpace(a.Count) != "" {
		n, e := calc.ReadCount(a.Count)
		if e != nil {
			return nil, nil, misread(e, "count")
		}
		b.Count = int64(n)
	}
	x := s.shelfStock()
	if strings.TrimSpace(a.Jar) != "" {
		jars, batch, no := s.readJars(a.Jar, a.Batch, "jar")
		if no != nil {
			return nil, nil, no
		}
		b.Jar, b.Batch, b.Count = jars[0].Code, batch, 1
		if p := x.jarAt.get(b.Jar); outOfHand(p) {
			return nil, nil, refuse("jar gone", "jar", "the jar "+calc.ShowJarCode(b.Jar)+" was already "+p, "look at the code again; undo the other row if that one was wrong")
		}
	}
	if no := priceOf(b, a.Price); no != nil {
		return nil, nil, no
	}
	if b.Batch == "" {
		if no := s.chooseBatch(ctx, x, b); no != nil {
			return nil, nil, no
		}
	}
	if b.Batch != "" {
		m, no := s.mintedOf(b.Batch)
		if no != nil {
			return nil, nil, no
		}
		b.Product = m.body.Product
		if no := s.mayLeave(ctx, m, b); no != nil {
			return nil, nil, no
		}
		if no := s.takeFrom(x, m, b); no != nil {
			return nil, nil, no
		}
	}
	if p := s.prices.get(b.Product); p != nil && strings.TrimSpace(a.Price) == "" {
		b.Price = p.body.Price
	}
	out, entry, no := s.shelfRow(ctx, KindSold, b)
	return out, entryValue{entry}, no
}

type undoArgs struct {
	Entry  string `json:"entry"`
	Reason string `json:"reason"`
}

// undo strikes a row of the stall: nothing was sold, moved or counted then. The row stays readable.
func (s *State) undo(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[undoArgs](args)
	if no != nil {
		return nil, nil, no
	}
	ref, err := ParseRef(a.Entry)
	m := s.moves.get(ref)
	switch {
	case err != nil || ref.Seq == 0 || m == nil:
		return nil, nil, refuse("row unknown", "entry", "the row to undo is not in this book", "choose it from the rows of the stall")
	case m.struck || m.of.Seq != 0:
		return nil, nil, refuse("corrected already", "entry", "this row was already corrected", "write what is true now as a new row")
	}
	body, no := m.openToChange(a.Reason)
	if no != nil {
		return nil, nil, no
	}
	switch b := body.(type) {
	case *Sold:
		b.Count, b.Jar = 0, ""
	case *JarMoved:
		b.Count, b.Jars = 0, nil
	default:
		return nil, nil, refuse("not undone", "entry", "a count is not undone", "count again")
	}
	inner, v, err := encodeV(body)
	if err != nil {
		return nil, nil, refuse("unreadable", "entry", "this row cannot be written again", "update the app")
	}
	out, entry, no := s.shelfRow(ctx, KindShelfCorrected, &Corrected{Of: ref, Reason: strings.TrimSpace(a.Reason), Kind: int64(m.kind), V: int64(v), Body: inner})
	return out, entryValue{entry}, no
}

type jarCountArgs struct {
	Place string `json:"place"`
	Batch string `json:"batch"`
	Count string `json:"count"`
}

type countValue struct {
	Entry      string `json:"entry"`
	Expected   string `json:"expected"`
	Difference string `json:"difference"`
}

func (s *State) countJars(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[jarCountArgs](args)
	if no != nil {
		return nil, nil, no
	}
	if _, no = s.mintedOf(a.Batch); no != nil {
		return nil, nil, no
	}
	b := &JarCounted{Batch: a.Batch}
	if b.Place, no = s.placeOnShelf(a.Place, "place"); no != nil {
		return nil, nil, no
	}
	if strings.TrimSpace(a.Count) != "0" { // an empty place is a count too
		n, e := calc.ReadCount(a.Count)
		if e != nil {
			return nil, nil, misread(e, "count")
		}
		b.Count = int64(n)
	}
	b.Expected = s.shelfStock().hand.get(at{b.Batch, b.Place}).N
	out, entry, no := s.shelfRow(ctx, KindJarCounted, b)
	return out, countValue{entry, strconv.FormatInt(b.Expected, 10), signed(b.Count - b.Expected)}, no
}

func signed(n int64) string {
	if n < 0 {
		return "−" + strconv.FormatInt(-n, 10)
	}
	if n > 0 {
		return "+" + strconv.FormatInt(n, 10)
	}
	return "0"
}
