package book

import (
	"encoding/json"
	"strconv"
	"strings"

	"stillroom/calc"
)

// LotImport is one row of a list of deliveries as it was understood. Key is that of the lot that it becomes, "" for one that is here already.
type LotImport struct {
	Place, Typed, Name, Amount, Code, Supplier, SupplierLot, Expiry, Cost, Says, Trouble, Key string
}

// LotsImport is what a list of deliveries would bring, before anything is kept.
type LotsImport struct {
	Lots     []LotImport
	Troubles []ImportTrouble
	Notes    []string
	Ready    bool
	Says     string
}

// ImportLots reads a list of deliveries and decides all of it, or nothing: drafts are empty when anything stands in the way. A row that says the same as
// a lot that was here before is left out, so that a file can be brought in twice. It changes nothing.
func (s *State) ImportLots(ctx Context, text string) ([]Draft, LotsImport) {
	in := &importing{ctx: ctx, s: s.Overlay()}
	read := calc.LotsFromCSV(text, in.s.matter())
	out := LotsImport{Notes: read.Notes}
	for _, t := range read.Troubles {
		in.csvTrouble(t)
	}
	fresh := 0
	for i := range read.Lots {
		l := &read.Lots[i]
		row := LotImport{Place: "line " + strconv.Itoa(l.Line), Typed: l.Typed, Name: l.Name, Amount: l.Grams, Code: l.Code, Supplier: l.Supplier, SupplierLot: l.SupplierLot, Expiry: l.Expiry, Cost: l.Cost, Says: l.Says, Trouble: l.Trouble}
		if l.Trouble == "" {
			fresh += in.lot(s, l, &row)
		}
		out.Lots = append(out.Lots, row)
	}
	out.Troubles = in.view.Troubles
	out.Ready = len(out.Troubles) == 0 && len(out.Lots) > 0
	out.Says = pieces(int64(len(out.Lots)), "lot") + broughtSays(len(out.Lots), fresh, len(out.Troubles))
	if !out.Ready {
		return nil, out
	}
	return in.drafts, out
}

// lot decides one delivery on the copy and answers how many lots it brings, 0 or 1. had is the book as it was before the file.
func (in *importing) lot(had *State, l *calc.LotRow, row *LotImport) int {
	a := receiveArgs{Ingredient: l.Ingredient, Code: l.Code, Supplier: l.Supplier, SupplierLot: l.SupplierLot, Grams: l.Grams, Expiry: l.Expiry, Cost: l.Cost}
	if code := had.sameLot(a); code != "" {
		row.Code, row.Says = code, join(row.Says, "in this book already")
		return 0
	}
	raw, err := json.Marshal(a)
	if err != nil {
		in.trouble(row.Place, "", "it cannot be read", "write it anew")
		return 0
	}
	in.ctx.Rand[0]++ // each lot draws its own key
	drafts, value, no := in.s.receiveLot(in.ctx, raw)
	if no != nil {
		place := row.Place
		if column := l.Column(no.Field); column != "" {
			place += ", column " + column
		}
		row.Trouble = strings.TrimSuffix(no.Says, kept)
		in.trouble(place, "", row.Trouble, no.Hint)
		return 0
	}
	for _, d := range drafts {
		in.take(d)
	}
	if k, ok := value.(keyValue); ok {
		row.Key, row.Code = k.Key, in.s.lots.get(k.Key).body.Code
	}
	return 1
}

// sameLot is the code of a lot that a delivery says the same as, "" when none does.
func (s *State) sameLot(a receiveArgs) string {
	m, e := calc.ReadGrams(a.Grams)
	expiry, no := readDay(a.Expiry, "")
	cost, wrong := readMoney(a.Cost, "")
	if e != nil || no != nil || wrong != nil {
		return ""
	}
	found := ""
	s.lots.each(func(_ string, l *lot) bool {
		b := &l.body
		if b.Ingredient == a.Ingredient && b.Mass == int64(m) && b.Expiry == expiry && b.Cost == cost && b.What == "" && strings.EqualFold(b.Supplier, strings.TrimSpace(a.Supplier)) &&
			strings.EqualFold(b.SupplierLot, strings.TrimSpace(a.SupplierLot)) && (a.Code == "" || strings.EqualFold(b.Code, strings.TrimSpace(a.Code))) {
			found = b.Code
		}
		return found == ""
	})
	return found
}
