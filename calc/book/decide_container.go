package book

import (
	"crypto/sha256"
	"slices"
	"strconv"
	"strings"

	"stillroom/calc"
)

// words are what one filled container is called.
var words = []string{"jar", "bottle", "tin", "tube", "bar", "pouch"}

// defineContainer writes down a container, and with a count a lot of so many.
func (s *State) defineContainer(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[ownContainer](args)
	if no != nil {
		return nil, nil, no
	}
	b := &ContainerDefined{Key: a.Key, Name: strings.TrimSpace(a.Name), Word: strings.TrimSpace(a.Word), Material: strings.TrimSpace(a.Material), Closure: strings.TrimSpace(a.Closure)}
	if b.Word == "" {
		b.Word = "jar"
	}
	switch {
	case b.Key != "" && s.containers.get(b.Key) == nil:
		return nil, nil, refuse("container unknown", "key", "this container is not in this book", "choose it from the list, or write it down as a new one")
	case b.Name == "":
		return nil, nil, refuse("name missing", "name", "the container has no name", "write what you call it, such as “low jar 150 mL”")
	case !slices.Contains(words, b.Word):
		return nil, nil, refuse("word unknown", "word", "“"+b.Word+"” is not a word for a container here", "choose one of "+listed(words))
	}
	read := func(text, field string, into *int64, f func(string) (int64, *calc.FieldError)) {
		if strings.TrimSpace(text) != "" && no == nil {
			v, e := f(text)
			if *into = v; e != nil {
				no = misread(e, field)
			}
		}
	}
	read(a.Brimful, "brimful", &b.Brim, calc.ReadVolume)
	read(a.Tare, "tare", &b.Tare, func(t string) (int64, *calc.FieldError) { v, e := calc.ReadGrams(t); return int64(v), e })
	read(a.LabelWidth, "labelWidth", &b.LabelWidth, readMillimetres)
	read(a.LabelHeight, "labelHeight", &b.LabelHeight, readMillimetres)
	count := int64(0)
	read(a.Count, "count", &count, func(t string) (int64, *calc.FieldError) { v, e := calc.ReadCount(t); return int64(v), e })
	if no != nil {
		return nil, nil, no
	}
	if taken := s.containerNamed(b.Name); taken != "" && taken != a.Key {
		if b.Key = taken; a.Key == "" && same(&s.containers.get(taken).body, b) {
			return nil, keyValue{taken}, nil // the key was pressed twice, and so many came only once
		}
		return nil, nil, refuse("name taken", "name", "a container called "+b.Name+" is in the book already", "open that one, or write another name")
	}
	draw := &drawer{seed: ctx.Rand}
	if b.Key == "" {
		b.Key = draw.key(8, s.matterKeyTaken)
	}
	bodies := []kindBody{}
	if had := s.containers.get(b.Key); had == nil || !same(&had.body, b) {
		bodies = append(bodies, kindBody{KindContainerDefined, b})
	}
	if count > 0 {
		lot := s.containerLot(ctx, draw, b, count, a.Count)
		if a.Intent != "" {
			// The lot's key follows from the intent, so that the same press, sent again, is known again.
			seed := drawer{seed: sha256.Sum256([]byte("container lot\x00" + b.Key + "\x00" + a.Intent))}
			lot.Key = seed.key(8, func(string) bool { return false })
		}
		if s.lots.get(lot.Key) == nil {
			bodies = append(bodies, kindBody{KindLotReceived, lot})
		}
	}
	out, no := several(bodies...)
	return out, keyValue{b.Key}, no
}

// containerLot is a lot of so many containers. Who delivered them is written down with lot.receive.
func (s *State) containerLot(ctx Context, draw *drawer, b *ContainerDefined, count int64, typed string) *LotReceived {
	return &LotReceived{Key: draw.key(8, s.lotKeyTaken), Ingredient: b.Key, Code: s.freeLotCode(b.Name), Received: dayOf(ctx.Now, ctx.Zone), Count: count, What: "container", Text: strings.TrimSpace(typed)}
}

func (s *State) containerNamed(name string) string {
	found := ""
	s.containers.each(func(k string, c *container) bool {
		if strings.EqualFold(c.body.Name, name) {
			found = k
		}
		return found == ""
	})
	return found
}

// readMillimetres reads a length in millimetres into micrometres.
func readMillimetres(text string) (int64, *calc.FieldError) {
	t := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "mm"))
	whole, frac, _ := strings.Cut(strings.Replace(t, ",", ".", 1), ".")
	if n, err := strconv.ParseUint(whole+(frac + "000")[:3], 10, 32); err == nil && whole != "" && len(frac) <= 3 && n > 0 && n <= 1000000 {
		return int64(n), nil
	}
	return 0, &calc.FieldError{Says: strconv.Quote(t) + " is not the side of a label", Want: "write millimetres, above 0 and at most 1000: 52.5"}
}
