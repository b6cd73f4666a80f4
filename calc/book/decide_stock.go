package book

import (
	"strconv"
	"strings"

	"stillroom/calc"
)

// heaviest is the most that one weighing or one lot of this trade weighs, in mg: 100 kg.
const heaviest = 100_000_000

type keyValue struct {
	Key string `json:"key"`
}

type receiveArgs struct {
	Ingredient  string `json:"ingredient"`
	Code        string `json:"code"`
	Supplier    string `json:"supplier"`
	SupplierLot string `json:"supplierLot"`
	Grams       string `json:"grams"`
	Expiry      string `json:"expiry"`
	Cost        string `json:"cost"`
}

func (s *State) receiveLot(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[receiveArgs](args)
	if no != nil {
		return nil, nil, no
	}
	b := &LotReceived{Ingredient: a.Ingredient, Code: strings.TrimSpace(a.Code), Supplier: strings.TrimSpace(a.Supplier),
		SupplierLot: strings.TrimSpace(a.SupplierLot), Received: dayOf(ctx.Now, ctx.Zone), Text: strings.TrimSpace(a.Grams)}
	base, box := s.formulas.get(a.Ingredient) != nil, s.containers.get(a.Ingredient) != nil
	if !base && !box && s.ingredient(a.Ingredient) == nil {
		return nil, nil, refuse("ingredient unknown", "ingredient", "no ingredient was chosen that this book knows", "choose one from the list")
	}
	if box {
		// Containers are counted: what stands in the place of the grams is how many came.
		n, e := calc.ReadCount(a.Grams)
		if e != nil {
			return nil, nil, misread(e, "grams")
		}
		b.Count, b.What = int64(n), "container"
	} else {
		m, e := calc.ReadGrams(a.Grams)
		if e != nil {
			return nil, nil, misread(e, "grams")
		}
		if b.Mass = int64(m); b.Mass > heaviest {
			return nil, nil, refuse("too heavy", "grams", grams(b.Mass, 0)+" is more than the 100 kg that one lot here may weigh", "look at the unit: the figure is in grams")
		}
	}
	if b.Expiry, no = readDay(a.Expiry, "expiry"); no != nil {
		return nil, nil, no
	}
	if b.Cost, no = readMoney(a.Cost, "cost"); no != nil {
		return nil, nil, no
	}
	name := s.lineName(a.Ingredient, "")
	if b.Code == "" {
		b.Code = s.freeLotCode(name)
	}
	if s.lotByCode(a.Ingredient, b.Code) != "" {
		return nil, nil, refuse("lot code taken", "code", "a lot of "+name+" with the code "+b.Code+" is already in the book", "write another code on this tub, such as "+s.freeLotCode(name))
	}
	b.Key = (&drawer{seed: ctx.Rand}).key(8, s.lotKeyTaken)
	bodies := []kindBody{{KindLotReceived, b}}
	if base {
		b.What = "base"
		from := s.batchNamed(a.Ingredient, b.Code, b.SupplierLot)
		if from == nil {
			return nil, nil, refuse("batch unknown", "code", "a lot of a base that was made here names the batch it comes from, and no batch of "+name+" is called "+b.Code, "write the batch code of that batch, as it stands on its lid")
		}
		b.SourceBatch = from.body.Key
		// What is held stays held when it becomes a lot.
		if state, why := s.standing(from); state == Held {
			bodies = append(bodies, kindBody{KindLotHeld, &LotHeld{b.Key, true, why}})
		}
	}
	out, no := several(bodies...)
	return out, keyValue{b.Key}, no
}

// batchNamed finds a batch of a formula by the code on its lid or by its key.
func (s *State) batchNamed(formula string, names ...string) *batch {
	var found *batch
	s.batches.each(func(k string, b *batch) bool {
		for _, n := range names {
			if b.body.Formula == formula && n != "" && (strings.EqualFold(n, k) || strings.EqualFold(n, b.body.Code)) {
				found = b
			}
		}
		return found == nil
	})
	return found
}

func (s *State) lotByCode(ingredient, code string) string {
	found := ""
	s.lots.each(func(k string, l *lot) bool {
		if l.body.Ingredient == ingredient && strings.EqualFold(l.body.Code, code) {
			found = k
		}
		return found == ""
	})
	return found
}

// freeLotCode offers a short code for a tub or a box: the first letter of what it holds and a count. No other lot bears it,
// whatever that holds: a code that is read off a tub must name one lot.
func (s *State) freeLotCode(name string) string {
	taken := map[string]bool{}
	s.lots.each(func(_ string, l *lot) bool { taken[strings.ToUpper(l.body.Code)] = true; return true })
	for n := 1; ; n++ {
		code := upper(string([]rune(name + "L")[:1])) + "-" + strconv.Itoa(n)
		if !taken[strings.ToUpper(code)] {
			return code
		}
	}
}

// readMoney reads an amount in minor units; a comma is accepted. "" is nothing.
func readMoney(text, field string) (int64, *Refusal) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	whole, frac, _ := strings.Cut(strings.Replace(strings.TrimSpace(text), ",", ".", 1), ".")
	for len(frac) < 2 {
		frac += "0"
	}
	n, err := strconv.ParseUint(whole+frac, 10, 40)
	if err != nil || len(frac) > 2 || whole == "" {
		return 0, refuse("misread", field, strconv.Quote(text)+" is not read as an amount of money", "write it with at most two decimals and without a sign, such as 12.50")
	}
	return int64(n), nil
}

type holdLotArgs struct {
	Lot    string `json:"lot"`
	Held   bool   `json:"held"`
	Reason string `json:"reason"`
}

// holdLot holds a lot, and tells the shelf of every batch that it went into, at any depth.
func (s *State) holdLot(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[holdLotArgs](args)
	if no != nil {
		return nil, nil, no
	}
	l := s.lots.get(a.Lot)
	if l == nil {
		return nil, nil, refuse("lot unknown", "lot", "this lot is not in this book", "choose it from the list of lots")
	}
	if l.held == a.Held {
		return nil, nothing{}, nil
	}
	if strings.TrimSpace(a.Reason) == "" {
		says := "a lot is held for a reason, and none was given"
		if !a.Held {
			says = "a held lot is let go for a reason, and none was given"
		}
		return nil, nil, refuse("reason missing", "reason", says, "write in a few words what happened")
	}
	b := &LotHeld{a.Lot, a.Held, strings.TrimSpace(a.Reason)}
	bodies := []kindBody{{KindLotHeld, b}}
	after := s.Overlay()
	after.applyLotHeld(origin{ref: s.next(ctx, Workshop, 0), at: ctx.Now, time: ctx.Now}, b)
	for _, r := range s.reach(a.Lot) {
		if n := after.batches.get(r.batch); n != nil {
			bodies = append(bodies, kindBody{KindBatchBarred, after.barOf(n)})
		}
	}
	out, no := several(bodies...)
	return out, nothing{}, no
}

func (s *State) nameWorkshop(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[WorkshopView](args)
	if no != nil {
		return nil, nil, no
	}
	if strings.TrimSpace(a.Maker) == "" {
		return nil, nil, refuse("name missing", "maker", "the workshop has no name", "write the maker's name as it shall stand on labels")
	}
	address := strings.TrimRight(strings.TrimSpace(a.Address), "/")
	if address != "" && !isLink(address) {
		return nil, nil, refuse("not a link", "address", "the label address is not a web address",
			"write where a jar's code shall lead, such as https://example.org, or leave it empty: then it leads to the home store")
	}
	bodies := []kindBody{{KindWorkshopNamed, &WorkshopNamed{Maker: strings.TrimSpace(a.Maker), Address: address, Contact: a.Contact, Region: a.Region, Money: s.signed().Money}}}
	if had := s.chosen.get(""); had != nil && had.body.Region != a.Region {
		// The region was asked in the first run as well; the later answer holds.
		c := had.body
		c.Region = a.Region
		bodies = append(bodies, kindBody{KindWorkshopChosen, &c})
	}
	for _, p := range []PlaceNamed{{Key: "home", Name: "home", What: "home"}, {Key: "stall", Name: "stall", What: "stall"}} {
		if s.places.get(p.Key) == nil {
			bodies = append(bodies, kindBody{KindPlaceNamed, &p})
		}
	}
	out, no := several(bodies...)
	return out, nothing{}, no
}

// isLink tells whether codes on labels can begin with it: some phones' cameras open nothing but a lower-case scheme, and
// a space or a query would end up in the middle of the jar's own part.
func isLink(address string) bool {
	for _, scheme := range []string{"https://", "http://"} {
		if host, ok := strings.CutPrefix(address, scheme); ok {
			return host != "" && host[0] != '/' && !strings.ContainsAny(host, " ?#\t\n")
		}
	}
	return false
}
