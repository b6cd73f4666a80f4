package book

import (
	"strings"
	"testing"
)

// filled makes a batch with a lot of glycerin and fills jars from it.
func (w *world) filled(jars string) (batch, lot string) {
	w.t.Helper()
	lot = w.lot("glycerin", "G-17")
	_, batch = w.start()
	w.weighAllFrom(batch, lot)
	w.do("batch.fill", m{"batch": batch, "jars": jars, "place": "home"}, "entry")
	return batch, lot
}

func (w *world) weighAllFrom(batch, glycerin string) {
	w.t.Helper()
	for line, lot := range map[string]string{"w": "", "g": glycerin, "p": ""} {
		w.do("batch.weigh", m{"batch": batch, "line": line, "lot": lot, "asPlanned": true}, "entry")
	}
}

func TestFillingMintsJarsThatRest(t *testing.T) {
	w := newWorld(t)
	b, lot := w.filled("23")
	v := view[BatchView](w, "batch", m{"key": b})
	if len(v.Jars) != 23 || v.Row.State != Resting || v.JarsSays != "23 jars, 24 planned" || !v.CanRelease || v.CanFill {
		t.Fatalf("filled: %s", pretty(v))
	}
	if v.Row.Code != "261112-B1" || v.Made != "12 Nov 2026" || v.Mass.Text != "3,000.0 g" {
		t.Errorf("code %s, made %s, mass %s", v.Row.Code, v.Made, v.Mass.Text)
	}
	c := w.s.PublicJars(b)[0].Card
	if !strings.HasPrefix(c.Ingredients, "Aqua, Glycerin") || c.Product != "Plain rinse" || c.Best != 20271130 {
		t.Errorf("card: %s", pretty(c))
	}
	if l := view[LotView](w, "lot", m{"key": lot}); len(l.Jars) != 23 || l.Places[0].Count != 23 || l.Batches[0].Grams != "300.0 g" {
		t.Errorf("from the lot: %s", pretty(l))
	}
	w.do("batch.release", m{"batch": b, "by": "Imke", "looked": "firm"}, "")
	if v := view[BatchView](w, "batch", m{"key": b}); v.Row.State != Released || v.CanRelease || !v.CanHold {
		t.Errorf("released: %s", pretty(v.Row))
	}
	// On the same day this device's next batch counts on; the day is the local one.
	w.ctx.Now = noon + 11*3600*1000
	key := view[[]FormulaRow](w, "formulas", nil)[0].Key
	if code := w.do("batch.start", m{"formula": key, "jars": "2", "fill": "50"}, "code"); code != "261113-B1" {
		t.Errorf("at 00:00 local time the code is %s", code)
	}
}

func TestJarIsFoundByItsCode(t *testing.T) {
	w := newWorld(t)
	b, _ := w.filled("23")
	jar := view[BatchView](w, "batch", m{"key": b}).Jars[4]
	for _, typed := range []string{jar.Code, jar.Shown, strings.ToLower(jar.Shown), "http://127.0.0.1:8417/j/" + jar.Code, " " + strings.ReplaceAll(jar.Shown, "-", " ")} {
		v := view[JarView](w, "jar", m{"code": typed})
		if v.Code != jar.Code || v.Number != 5 || v.Of != 23 || v.Batch.Row.Key != b || v.Place != "home" || v.Net != "120.0 g" || v.BestBefore != "30 Nov 2027" {
			t.Errorf("%q: %s", typed, pretty(v))
		}
	}
	// Every single wrong character is caught, and said.
	for i := range jar.Code {
		for _, c := range "0123456789ABCDEFGHJKMNPQRSTVWXYZ" {
			wrong := jar.Code[:i] + string(c) + jar.Code[i+1:]
			if wrong == jar.Code {
				continue
			}
			_, no := w.s.View(w.ctx, "jar", []byte(`{"code":"`+wrong+`"}`))
			if no == nil || no.Code != "misread" || no.Field != "code" {
				t.Fatalf("%s for %s: %v", wrong, jar.Code, no)
			}
		}
	}
	// Jar 24 was planned and not filled: its code is sound and unknown.
	other := New()
	_, no := other.View(w.ctx, "jar", []byte(`{"code":"`+jar.Shown+`"}`))
	if no == nil || no.Code != "jar unknown" || !strings.Contains(no.Says, "sound") {
		t.Fatalf("in another book: %v", no)
	}
}

func TestManyJarsTakeASecondKey(t *testing.T) {
	w := newWorld(t)
	key := w.do("formula.save", scrub(), "key")
	b := w.do("batch.start", m{"formula": key, "purpose": "sale", "jars": "1100", "fill": "10", "step": "0.1"}, "key")
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "1100"}, "entry")
	v := view[BatchView](w, "batch", m{"key": b})
	seen, keys := map[string]bool{}, map[string]bool{}
	for i, j := range v.Jars {
		if seen[j.Code] || j.Number != i+1 {
			t.Fatalf("jar %d: %s", i, pretty(j))
		}
		seen[j.Code] = true
		keys[j.Code[:5]] = true
	}
	if len(seen) != 1100 || len(keys) != 2 {
		t.Fatalf("%d codes under %d keys", len(seen), len(keys))
	}
	if got := view[JarView](w, "jar", m{"code": v.Jars[1099].Code}); got.Number != 1100 || got.Batch.Row.Key != b {
		t.Fatalf("the last jar: %d", got.Number)
	}
}

func TestKeysAreRedrawnAgainstKnown(t *testing.T) {
	w := newWorld(t)
	key := w.do("formula.save", scrub(), "key")
	start := m{"formula": key, "jars": "2", "fill": "50"}
	keys := map[string]bool{}
	for i := 0; i < 3; i++ {
		w.rand = 40 // the same randomness each time
		keys[w.do("batch.start", start, "key")] = true
	}
	if len(keys) != 3 {
		t.Fatalf("one key for several batches: %v", keys)
	}
}

func TestShelfHalfThatWasCutIsWrittenLater(t *testing.T) {
	w := newWorld(t)
	b, _ := w.filled("23")
	w.do("batch.hold", m{"batch": b, "reason": "sunk"}, "")
	whole := w.s
	if got := whole.Missing(w.ctx); got != nil {
		t.Fatalf("nothing is cut, and %d drafts are missing", len(got))
	}
	cut := &world{t: t, s: New(), ctx: w.ctx, log: w.log}
	for _, env := range w.log[Workshop] {
		e := mustEntry(t, env.Entry)
		cut.s.Apply(Workshop, env.Device, &env, e)
	}
	other := w.ctx
	other.Device = device(2)
	if got := cut.s.Missing(other); got != nil {
		t.Fatal("a device completes what another was cut in")
	}
	drafts := cut.s.Missing(w.ctx)
	if len(drafts) != 3 {
		t.Fatalf("%d drafts; want jars, card and bar", len(drafts))
	}
	for i, env := range w.log[Shelf][:2] {
		if got, want := string(drafts[i].Body), string(mustEntry(t, env.Entry).Body); got != want {
			t.Errorf("draft %d is %q, and was decided as %q", i, got, want)
		}
	}
	cut.log = map[string][]envelope{}
	for _, d := range drafts {
		cut.write(d)
	}
	if got := cut.s.Missing(w.ctx); got != nil {
		t.Fatalf("completed, and still %d drafts are missing", len(got))
	}
	if n := len(view[BatchView](cut, "batch", m{"key": b}).Jars); n != 23 {
		t.Fatalf("%d jars", n)
	}
}

func TestHoldingALotBarsItsBatchesAtAnyDepth(t *testing.T) {
	w := newWorld(t)
	b, lot := w.filled("23")
	w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
	first := view[BatchView](w, "batch", m{"key": b})

	// The batch is received as a lot of a made base and goes into another formula's batch.
	made := w.do("lot.receive", m{"ingredient": first.Formula, "code": first.Row.Code, "grams": "1000"}, "key")
	d := scrub()
	d.Name = "With base"
	d.Lines[1].Ingredient, d.Lines[1].Base, d.Lines[1].Percent = "", first.Formula, "30"
	key := w.do("formula.save", d, "key")
	second := w.do("batch.start", m{"formula": key, "purpose": "sale", "jars": "5", "fill": "100", "step": "0.1"}, "key")
	w.weighAllFrom(second, made)
	w.do("batch.fill", m{"batch": second, "jars": "5", "place": "stall"}, "entry")

	l := view[LotView](w, "lot", m{"key": lot})
	if len(l.Batches) != 2 || len(l.Jars) != 28 || len(l.Places) != 2 || l.Batches[1].Grams != "by way of a made base" {
		t.Fatalf("trace through a made base: %s", pretty(l.Places))
	}
	if src := view[LotView](w, "lot", m{"key": made}).Source; src != "made here in batch "+first.Row.Code {
		t.Errorf("source: %s", src)
	}
	w.refused("lot.hold", m{"lot": lot, "held": true}, "reason missing", "reason")
	w.do("lot.hold", m{"lot": lot, "held": true, "reason": "supplier Tern called"}, "")
	for _, k := range []string{b, second} {
		row := view[BatchView](w, "batch", m{"key": k}).Row
		if row.State != Held || !strings.Contains(row.Says, "G-17") {
			t.Errorf("batch %s: %s", k, pretty(row))
		}
		bar := w.s.bars.get(k)
		if bar == nil || !bar.body.Barred || strings.Contains(bar.body.Reason, "Tern") {
			t.Errorf("on the shelf: %+v", bar)
		}
	}
	w.refused("batch.release", m{"batch": second, "by": "Imke"}, "lot held", "batch")
	if n := len(view[TodayView](w, "today", nil).Held); n != 2 {
		t.Errorf("today shows %d held", n)
	}
	w.do("lot.hold", m{"lot": lot, "held": false, "reason": "cleared"}, "")
	if row := view[BatchView](w, "batch", m{"key": b}).Row; row.State != Released {
		t.Errorf("let go: %s", pretty(row))
	}
	if w.s.bars.get(b).body.Barred || w.s.Missing(w.ctx) != nil {
		t.Error("the shelf still bars what was let go")
	}
}

func TestStallSeesTheShelfAlone(t *testing.T) {
	w := newWorld(t)
	b, _ := w.filled("3")
	jar := view[BatchView](w, "batch", m{"key": b}).Jars[0]
	w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
	stall := New()
	for _, env := range w.log[Shelf] {
		e := mustEntry(t, env.Entry)
		stall.Apply(Shelf, env.Device, &env, e)
		for _, never := range []string{"Tern", "TD-1", "G-17", "Halden"} {
			if strings.Contains(string(env.Entry), never) {
				t.Errorf("the shelf holds %q", never)
			}
		}
	}
	ctx := w.ctx
	ctx.Role = Stall
	got, no := stall.View(ctx, "jar", []byte(`{"code":"`+jar.Shown+`"}`))
	if no != nil {
		t.Fatal(no)
	}
	v := got.(JarView)
	if v.Batch.Row.Name != "Plain rinse" || v.Batch.Row.State != Released || v.Of != 3 || len(v.Batch.WentIn) != 0 {
		t.Fatalf("at the stall: %s", pretty(v))
	}
}

func TestWorkshopNamesItsPlaces(t *testing.T) {
	w := newWorld(t)
	w.refused("workshop.name", m{"maker": " "}, "name missing", "maker")
	for _, address := range []string{"Mill Cottage, Osierby", "HTTPS://jars.example", "https://", "https:///j", "https://jars.example/a b", "https://jars.example?x=1"} {
		w.refused("workshop.name", m{"maker": "Saltmeadow", "address": address}, "not a link", "address")
	}
	w.do("workshop.name", WorkshopView{Maker: "Saltmeadow", Address: "https://jars.example", Region: "EU"}, "")
	w.do("workshop.name", WorkshopView{Maker: "Saltmeadow & Co", Address: "https://jars.example/book/", Region: "EU"}, "")
	if got := view[WorkshopView](w, "workshop", nil); got.Maker != "Saltmeadow & Co" || len(w.log[Shelf]) != 2 {
		t.Fatalf("%+v, %d places", got, len(w.log[Shelf]))
	}
}
