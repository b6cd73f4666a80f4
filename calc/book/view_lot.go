package book

import (
	"slices"

	"stillroom/calc"
)

// viewLots lists all lots, the newest first.
func (s *State) viewLots() []LotRow {
	out := []LotRow{}
	s.lots.each(func(k string, l *lot) bool { out = append(out, s.lotRow(k, l)); return true })
	slices.Reverse(out)
	return out
}

func (s *State) lotRow(key string, l *lot) LotRow {
	r := LotRow{Key: key, Code: l.body.Code, Ingredient: l.body.Ingredient, Name: s.lineName(l.body.Ingredient, ""),
		OnHand: onHand(l), Expiry: showDay(l.body.Expiry), Supplier: l.body.Supplier, SupplierLot: l.body.SupplierLot,
		Held: l.held, Where: s.where(Workshop, l.from.ref)}
	if l.body.What != "container" {
		r.OnHand.Text += s.bench().Beside(calc.Mass(l.body.Mass - l.used))
	}
	return r
}

// onHand is what came in less what was weighed out. Below nothing it says so: the scale was right and the book was not.
func onHand(l *lot) Figure {
	if l.body.What == "container" {
		return Figure{Text: number(l.body.Count) + " pieces", Sum: number(l.body.Count) + " received; how many are left stands with the container"}
	}
	left := l.body.Mass - l.used
	f := Figure{Text: grams(left, 100), Sum: grams(l.body.Mass, 100) + " received − " + grams(l.used, 100) + " weighed out = " + grams(left, 100)}
	if left < 0 {
		f.Sum += "; more was weighed out than the book had: count what is there"
	}
	return f
}

// shownJars is how many jars of a lot are listed unless all are asked for: where they are stands in the counts by place,
// and a screen of ten thousand codes is read by nobody. A recall and the program's own trace ask for all.
const shownJars = 200

type lotArgs struct {
	Key string `json:"key"`
	All bool   `json:"all"`
}

func (s *State) viewLot(ctx Context, args []byte) (any, *Refusal) {
	a, no := arguments[lotArgs](args)
	if no != nil {
		return nil, unreadable()
	}
	l := s.lots.get(a.Key)
	if l == nil {
		return nil, unseen("lot unknown", "key", "this lot is not in this book on this phone", "choose it from the list of lots")
	}
	v := LotView{Row: s.lotRow(a.Key, l), Received: showDay(l.body.Received), Batches: []LotBatch{}, Jars: []JarRow{}}
	if l.body.SourceBatch != "" {
		v.Source = "made here in batch " + l.body.SourceBatch
		if b := s.batches.get(l.body.SourceBatch); b != nil {
			v.Source = "made here in batch " + b.body.Code
		}
	} else if l.body.Supplier != "" {
		v.Source = join("from "+l.body.Supplier, l.body.SupplierLot)
	}
	list := s.listing()
	var batches []string
	x := s.shelfStock()
	for _, r := range s.reach(a.Key) {
		b := s.batches.get(r.batch)
		if b == nil {
			continue
		}
		g := "by way of a made base"
		if r.filled {
			g = "may be filled into these"
		} else if r.mass != 0 {
			g = grams(r.mass, b.body.Plan.Step)
		}
		v.Batches = append(v.Batches, LotBatch{s.batchRow(ctx, b, list), g})
		n := s.minted.get(r.batch).count()
		v.JarsCount += n
		if room := shownJars - len(v.Jars); a.All || room > 0 && n > 0 {
			rows := s.jarRows(x, r.batch)
			if !a.All {
				rows = rows[:min(len(rows), room)]
			}
			v.Jars = append(v.Jars, rows...)
		}
		batches = append(batches, r.batch)
	}
	v.Places = x.placesOf(batches...)
	v.Says = "it went into " + counted(len(v.Batches), "batch", "batches") + " and " + counted(v.JarsCount, "jar", "jars")
	if more := v.JarsCount - len(v.Jars); more > 0 {
		v.More = "and " + counted(more, "jar", "jars") + " more, not listed here"
	}
	if l.held {
		v.Says = "held: " + l.reason + "; " + v.Says
	}
	return v, nil
}

func counted(n int, one, many string) string {
	if n == 0 {
		return "no " + one
	}
	if n == 1 {
		return "1 " + one
	}
	return number(int64(n)) + " " + many
}
