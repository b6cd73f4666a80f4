package book

import (
	"slices"
	"strings"
)

// shelfRowOf shows a row of the shelf: a sale, a movement or a count, struck or not.
func (s *State) shelfRowOf(ctx Context, x *shelfStock, ref Ref, m *move, body visitable) StallRow {
	r := StallRow{Entry: ref.String(), At: showTime(m.from.at, ctx.Zone), By: s.by(ctx, m.from), Struck: m.struck, Where: s.where(Shelf, ref), Clash: x.clash.get(ref), Detail: m.reason}
	if m.of.Seq != 0 {
		r.Detail = "in place of another row: " + m.reason
	}
	switch b := body.(type) {
	case *Sold:
		r.What, r.Title, r.Value = "sold", b.Product, money(b.Price*b.Count)
		if b.Given {
			r.What, r.Value = "given", "given"
		}
		r.Detail = join(number(b.Count)+" × "+money(b.Price), s.codeOf(b.Batch), r.Detail)
	case *JarMoved:
		r.What, r.Title, r.Value = "moved", s.productOf(b.Batch), number(b.Count)
		r.Detail = join(s.placeName(b.From)+" to "+s.placeName(b.To), s.codeOf(b.Batch), b.Reason, r.Detail)
	case *JarCounted:
		r.What, r.Title, r.Value = "counted", s.productOf(b.Batch), number(b.Count)
		r.Detail = join("expected "+number(b.Expected)+", difference "+signed(b.Count-b.Expected), s.codeOf(b.Batch), r.Detail)
	}
	if r.Title == "" {
		r.Title = "jars of an unknown batch"
	}
	return r
}

// viewMoves is what happened to the jars of a batch after filling, the newest first: the way to correct a wrong row
// that was not written at the stall.
func (s *State) viewMoves(ctx Context, args []byte) (any, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, no
	}
	out := []StallRow{}
	x := s.shelfStock()
	s.moves.each(func(ref Ref, m *move) bool {
		body, err := open(m.kind, m.v, m.body)
		if err != nil {
			return true
		}
		if batch := shelfBatchOf(body); batch == a.Key && batch != "" {
			out = append(out, s.shelfRowOf(ctx, x, ref, m, body))
		}
		return true
	})
	slices.Reverse(out)
	return out, nil
}

// lookAsks are the words of a look that only this product has: how much air is in it, whether its grit is still sharp.
func (s *State) lookAsks(m *making) []string {
	out := []string{}
	air, grit := false, false
	for _, p := range m.f.Phases {
		air = air || p.Treatment.Do == "whip"
	}
	m.b.stands(func(_ *row, body visitable) {
		if r, ok := body.(*BatchRead); ok && r.What == "density" {
			air, grit = air || r.Stage == stageWhipped, grit || r.Stage == stageGrit
		}
	})
	for _, l := range m.f.Lines {
		if i := s.ingredient(l.Ingredient); i != nil {
			grit = grit || strings.Contains(strings.Join(i.Functions, " "), "grit")
		}
	}
	if air {
		out = append(out, "fluff")
	}
	if grit {
		out = append(out, "grit")
	}
	return out
}
