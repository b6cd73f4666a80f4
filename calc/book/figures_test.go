package book

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"stillroom/calc"
)

// figuresIn walks a view and gives each figure in it with its place.
func figuresIn(v reflect.Value, at string, found func(at string, f Figure)) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			figuresIn(v.Elem(), at, found)
		}
	case reflect.Slice:
		for i := range v.Len() {
			figuresIn(v.Index(i), at+"[]", found)
		}
	case reflect.Struct:
		if f, ok := v.Interface().(Figure); ok {
			found(at, f)
			return
		}
		for i := range v.NumField() {
			if field := v.Type().Field(i); field.IsExported() {
				figuresIn(v.Field(i), at+"."+field.Name, found)
			}
		}
	}
}

// Show the sum: every figure of the demo's views that holds a number says how it came about, in words and numbers.
func TestEveryFigureCarriesItsSum(t *testing.T) {
	s, _ := demo(t)
	w := &world{t: t, s: s, ctx: Context{Device: device(9), Letter: "D", Role: Owner, Now: noon}}
	seen := map[string]int{}
	walk := func(name string, args any) {
		raw, _ := json.Marshal(args)
		v, no := w.s.View(w.ctx, name, raw)
		if no != nil {
			return // what a demo's batch or formula does not have
		}
		figuresIn(reflect.ValueOf(v), name, func(at string, f Figure) {
			if !strings.ContainsAny(f.Text, "0123456789") {
				return // a word such as "differs", "too few" or the place of a figure that is not there
			}
			seen[at]++
			if f.Sum == "" {
				t.Errorf("%s is %q and shows no sum", at, f.Text)
			}
		})
	}
	// A figure that the app draws with a sum beside it, and not as one value, is held to the same; the sum ends with what is shown.
	beside := func(at, text, sum string) {
		if !strings.ContainsAny(text, "0123456789") {
			return
		}
		seen[at]++
		if !strings.HasSuffix(sum, "= "+text) {
			t.Errorf("%s is %q and its sum %q", at, text, sum)
		}
	}
	drafts := []any{}
	for _, f := range view[[]FormulaRow](w, "formulas", nil) {
		d := view[FormulaView](w, "formula", m{"key": f.Key}).Draft
		drafts = append(drafts, d)
		walk("sheet", d)
		walk("challenges", m{"formula": f.Key})
		walk("swap", m{"draft": d, "line": d.Lines[0].ID, "by": "glycerin"})
		w.besideSums(d, beside)
		if v, ok := w.asked("compare", m{"key": f.Key}).(CompareView); ok {
			for _, l := range v.Lines {
				sum, _, _ := strings.Cut(l.ToSum, "; ")
				beside("compare.from", l.From, l.FromSum)
				beside("compare.to", l.To, sum)
			}
		}
		walk("amounts", m{"draft": d, "vessel": "2000", "density": "0.9"})
		for _, name := range []string{"holding", "ruler"} {
			walk(name, m{"draft": d})
		}
	}
	for _, b := range view[[]BatchRow](w, "batches", nil) {
		for _, name := range []string{"batch", "bench", "cost", "ageing", "tonight"} {
			walk(name, m{"key": b.Key})
		}
		for _, o := range view[AgeingView](w, "ageing", m{"key": b.Key}).Others {
			walk("agedbeside", m{"key": b.Key, "other": o.Key})
		}
		walk("cup", m{"batch": b.Key, "value": "0.91"})
		for _, j := range view[BatchView](w, "batch", m{"key": b.Key}).Jars {
			v := view[JarView](w, "jar", m{"code": j.Code})
			beside("jar.net", v.Net, v.NetSum)
			if seen["jar.best"]++; v.BestBefore != "" && !strings.HasPrefix(v.BestSum, "best before ") {
				t.Errorf("the best before of jar %s is %q and its sum %q", j.Code, v.BestBefore, v.BestSum)
			}
		}
		for _, in := range view[BatchView](w, "batch", m{"key": b.Key}).WentIn {
			if in.Actual != "" && !strings.Contains(in.ActualSum, "= "+in.Actual) {
				t.Errorf("%s of %s is %s and its sum %q", in.Name, b.Code, in.Actual, in.ActualSum)
			}
		}
	}
	for _, tile := range view[StallView](w, "stall", nil).Tiles {
		beside("stall.left", tile.Left, tile.Sum)
		for _, b := range tile.Batches {
			beside("stall.batch", b.Left[strings.LastIndex(b.Left, " ")+1:], b.Sum)
		}
	}
	for _, l := range view[[]LotRow](w, "lots", nil) {
		walk("lot", m{"key": l.Key})
	}
	// What a person relies on is among what was walked; a view that lost its figures would pass unseen.
	for _, must := range []string{"sheet.Total", "sheet.Mass", "sheet.Lines[].Percent", "sheet.Lines[].Grams", "holding.Holding.Figures[].Figure", "amounts.Stock.Mass", "swap.Held",
		"swap.active matter, %", "swap.water, %", "swap.oils and what is solid in them, %", "swap.pH at which every line keeps", "jar.net", "jar.best", "aim.now", "aim.target", "compare.from", "compare.to", "compare.from", "compare.to", "stall.left", "stall.batch",
		"batch.Mass", "batch.WentIn[].Percent", "bench.Steps[].Target", "cost.Jar", "cost.All", "cost.Rows[].Cost", "lot.Row.OnHand", "cup.Density",
		"ageing.Charts[].Series[].Drift", "agedbeside.Rows[].Differ", "challenges.Tests[].Lines[].Days[]"} {
		if seen[must] == 0 {
			t.Errorf("no figure stands at %s", must)
		}
	}
	for _, d := range drafts {
		raw, _ := json.Marshal(d)
		v, _ := w.s.View(w.ctx, "sheet", raw)
		layers := reflect.ValueOf(v).FieldByName("Layers")
		for i := range layers.Len() {
			if l := layers.Index(i).Interface().(Layer); !strings.HasSuffix(l.Sum, "= "+l.Percent) {
				t.Errorf("phase %s is %s and its sum %q", l.Phase, l.Percent, l.Sum)
			}
		}
	}
}

// asked is a view, nil where what it is asked of does not have it.
func (w *world) asked(name string, args any) any {
	raw, _ := json.Marshal(args)
	v, no := w.s.View(w.ctx, name, raw)
	if no != nil {
		return nil
	}
	return v
}

// besideSums walks what a swap and an aim set beside a draft.
func (w *world) besideSums(d calc.Draft, found func(at, text, sum string)) {
	for _, l := range d.Lines {
		if v, ok := w.asked("swap", m{"draft": d, "line": l.ID, "by": "glycerin"}).(SwapView); ok {
			for _, f := range v.Figures {
				found("swap."+f.What, f.Before, f.BeforeSum)
				found("swap."+f.What, f.After, f.AfterSum)
			}
		}
	}
	v, _ := w.asked("aim", m{"draft": d}).(AimView)
	for _, o := range v.Offers {
		found("aim.now", o.Now, o.Sum)
		v, _ := w.asked("aim", m{"draft": d, "targets": []m{{"what": o.What, "high": o.Now}}}).(AimView)
		for _, t := range v.Targets {
			found("aim.target", t.Before, t.BeforeSum)
			found("aim.target", t.After, t.AfterSum)
		}
	}
}

// What was taken at the stall is added up price by price.
func TestTheTinShowsItsSum(t *testing.T) {
	w := newWorld(t)
	b, _ := w.filled("23")
	if v := view[StallView](w, "stall", nil); v.TakenSum != "nothing was sold for money on this day" {
		t.Errorf("before the first sale: %q", v.TakenSum)
	}
	w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
	w.do("jars.move", m{"batch": b, "from": "home", "to": "stall", "count": "8"}, "entry")
	product := view[StallView](w, "stall", nil).Tiles[0].Product
	for _, price := range []string{"9.50", "9.50", "8"} {
		w.do("stall.sell", m{"place": "stall", "product": product, "batch": b, "count": "1", "price": price}, "entry")
	}
	if v := view[StallView](w, "stall", nil); v.Taken != "27.00" || !strings.HasPrefix(v.TakenSum, "1 × 8.00 + 2 × 9.50 = 27.00") {
		t.Errorf("taken %s: %q", v.Taken, v.TakenSum)
	}
}
