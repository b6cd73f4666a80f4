package book

import (
	"strings"
	"testing"

	"stillroom/calc"
	"stillroom/sync"
)

// attar is a scent of the maker's own with its supplier's certificate as typed, with a comma, a lower-case category and an allergen in capitals.
func attar() ownIngredient {
	return ownIngredient{Name: "Fen attar", INCI: "Parfum", Source: "my own entry", Scheme: "IFRA", Amendment: "51", Certified: "2026-03-01",
		Maxima: "5a 0,3\n9: 1.49 %", Flash: "65 C", Allergens: "LINALOOL 20\nCitral 1,5", Vanillin: "4"}
}

// scented is a cream with two scents in it.
func scented(keys ...string) calc.Draft {
	d := scrub()
	d.Wash = "leave-on"
	for i, key := range keys {
		d.Lines = append(d.Lines, calc.DraftLine{ID: "s" + number(int64(i)), Phase: "B", Ingredient: key, Percent: "0.2"})
	}
	return d
}

func noteOf(notes []Note, rule, says string) *Note {
	for i := range notes {
		if notes[i].Rule == rule && strings.Contains(notes[i].Says, says) {
			return &notes[i]
		}
	}
	return nil
}

func TestACertificateIsKeptWithItsIngredientAndUsed(t *testing.T) {
	w := newWorld(t)
	key := w.do("ingredient.define", attar(), "key")
	f := figures(view[IngredientView](w, "ingredient", m{"key": key}))
	for what, text := range map[string]string{"most in category 5A": "0.3 %", "most in category 9": "1.49 %", "flash point": "65 °C", "holds Linalool": "20 %", "holds Citral": "1.5 %", "vanillin in it": "4 %"} {
		if got := f[what]; got.Text != text || got.From != "supplier" || got.Source != "IFRA certificate, amendment 51" || got.Date != "certificate of 1 Mar 2026" {
			t.Errorf("%s: %+v", what, got)
		}
	}
	sheet := view[calc.Sheet](w, "sheet", scented(key, "lavender-oil"))
	if n := noteOf(sheet.Findings, "allergens", "Linalool"); n == nil || n.Figure != "0.116 % Linalool from Fen attar and lavender essential oil" || !strings.Contains(n.Date, "certificate of 1 Mar 2026") || !strings.Contains(n.Date, "table of law") {
		t.Errorf("linalool is summed over both scents, 20 and 38 %% of 0.2: %+v", n)
	}
	if n := noteOf(sheet.Findings, "vanillin", "brown"); n == nil || n.Figure != "0.008 % vanillin, from Fen attar" {
		t.Errorf("vanillin: %+v", n)
	}
	if n := noteOf(sheet.Findings, "fragrance", "lavender"); n == nil || n.Level != calc.Unchecked {
		t.Errorf("a scent without a certificate: %+v", n)
	}
	if n := noteOf(sheet.Findings, "fragrance", "attar"); n != nil {
		t.Errorf("0.2 %% of what may be 0.3: %+v", n)
	}
	over := scented(key)
	over.Lines[3].Percent = "0.4"
	if n := noteOf(view[calc.Sheet](w, "sheet", over).Findings, "fragrance", "category 5A"); n == nil || n.Level != calc.Stop || n.Limit != "at most 0.30 %" || n.Date != "certificate of 1 Mar 2026" {
		t.Errorf("0.4 %% of what may be 0.3: %+v", n)
	}
	hot := scented(key)
	hot.Phases[1].Treatment = calc.DraftTreatment{Do: "heat", To: "70 C"}
	if n := noteOf(view[calc.Sheet](w, "sheet", hot).Findings, "flammable", "flash point"); n == nil || n.Level != calc.Stop || n.Date != "certificate of 1 Mar 2026" {
		t.Errorf("65 °C in a phase of 70 °C: %+v", n)
	}
}

// Over the given list a certificate stands for what it says, and the rest stays given. What was typed comes back as typed.
func TestACertificateStandsOverTheGivenFigures(t *testing.T) {
	w := newWorld(t)
	w.do("ingredient.define", ownIngredient{Key: "orange-oil", Allergens: "Limonene 91", Scheme: "IFRA"}, "key")
	v := view[IngredientView](w, "ingredient", m{"key": "orange-oil"})
	f := figures(v)
	if f["holds Limonene"].Text != "91 %" || f["holds Limonene"].From != "supplier" || f["holds Linalool"].What != "" {
		t.Errorf("the statement names one allergen and the page shows %+v", f)
	}
	if f["flash point"].From != "given" || f["flash point"].Date != "given list, as of 25 Nov 2026" || f["usual use"].From != "given" {
		t.Errorf("what the certificate does not say: %+v, %+v", f["flash point"], f["usual use"])
	}
	if v.Typed == nil || v.Typed.Allergens != "Limonene 91\n" || v.Typed.Scheme != "IFRA" || v.Typed.Source != "my own entry" {
		t.Errorf("as typed: %+v", v.Typed)
	}
	if given := view[IngredientView](w, "ingredient", m{"key": "lemon-oil"}); given.Typed != nil {
		t.Errorf("nothing was typed of lemon oil: %+v", given.Typed)
	}
	again := *v.Typed
	before := len(w.log[Workshop])
	w.do("ingredient.define", again, "key")
	if len(w.log[Workshop]) != before {
		t.Error("what was typed, kept again unchanged, is another entry")
	}
	for field, change := range map[string]func(*ownIngredient){
		"amendment": func(a *ownIngredient) { a.Amendment = "new" },
		"certified": func(a *ownIngredient) { a.Certified = "spring" },
		"maxima":    func(a *ownIngredient) { a.Maxima = "5A" },
		"allergens": func(a *ownIngredient) { a.Allergens = "Linalool 60\nLimonene 50" },
		"flash":     func(a *ownIngredient) { a.Flash = "warm" },
		"vanillin":  func(a *ownIngredient) { a.Vanillin = "some" },
	} {
		a := attar()
		change(&a)
		if _, no := w.try("ingredient.define", a); no == nil || no.Field != field || no.Says == "" || no.Hint == "" {
			t.Errorf("%s: %+v", field, no)
		}
	}
	a := attar()
	a.Maxima = "9 1\n9 2"
	w.refused("ingredient.define", a, "twice", "maxima")
}

// The two sides of a batch are written from what went in, those of a draft from what is planned.
func TestTheListOfABatchIsOfWhatWentIn(t *testing.T) {
	w := newWorld(t)
	f, b := w.start()
	if _, no := w.s.View(w.ctx, "printed", []byte(`{"batch":"`+b+`"}`)); no == nil || no.Code != "nothing weighed" {
		t.Errorf("before anything went in: %+v", no)
	}
	w.weighAll(b)
	w.do("batch.weigh", m{"batch": b, "line": "g", "grams": "2000", "more": true}, "entry")
	got := view[PrintedView](w, "printed", m{"batch": b})
	if len(got.Sides) != 2 || !strings.HasPrefix(got.Sides[0].Text, "Ingredients: Aqua, Glycerin") || !strings.HasPrefix(got.Sides[1].Text, "Ingredients: Water, Glycerin") || !strings.Contains(got.From, "from what went into batch") {
		t.Errorf("%s", pretty(got))
	}
	if len(got.Unchecked) == 0 {
		t.Error("what was not checked is not said")
	}
	draft := view[FormulaView](w, "formula", m{"key": f}).Draft
	if got := view[PrintedView](w, "printed", m{"draft": draft}); !strings.Contains(got.From, "planned") || len(got.Sides[0].Cautions) == 0 {
		t.Errorf("%s", pretty(got))
	}
	draft.Lines[0].QS = false
	if _, no := w.s.View(w.ctx, "printed", []byte(`{"draft":`+pretty(draft)+`}`)); no == nil || no.Code != "no list" || no.Hint == "" {
		t.Errorf("a formula that is not full: %+v", no)
	}
}

// Words of a medicine on the jar stop its labels until somebody says why they may stand; a plain name never does.
func TestQuestionedWordsAreNotPrintedWithoutAReason(t *testing.T) {
	w := newWorld(t)
	d := scrub()
	d.Name = "Eczema rinse"
	b := w.do("batch.start", m{"formula": w.do("formula.save", d, "key"), "purpose": "sale", "jars": "4", "fill": "120", "step": "0.1"}, "key")
	v := view[BatchView](w, "batch", m{"key": b})
	if n := noteOf(v.Words, "words", "eczema"); n == nil || n.Level != calc.Stop || v.WordsWhy != "" {
		t.Errorf("%+v", v.Words)
	}
	if says := w.s.UnprintedWords(b); !strings.Contains(says, "eczema") || !strings.Contains(says, "write at the batch why") {
		t.Errorf("%q", says)
	}
	w.refused("batch.words", m{"batch": b, "reason": " "}, "reason missing", "reason")
	w.refused("batch.words", m{"batch": "ZZZZZ", "reason": "x"}, "batch unknown", "batch")
	w.do("batch.words", m{"batch": b, "reason": "registered as a medicine, no. 12"}, "")
	rows := len(w.log[Workshop])
	w.do("batch.words", m{"batch": b, "reason": "registered as a medicine, no. 12"}, "")
	if v := view[BatchView](w, "batch", m{"key": b}); len(w.log[Workshop]) != rows || v.WordsWhy != "registered as a medicine, no. 12" || w.s.UnprintedWords(b) != "" {
		t.Errorf("%q; %q", v.WordsWhy, w.s.UnprintedWords(b))
	}
	_, plain := w.start()
	if v := view[BatchView](w, "batch", m{"key": plain}); len(v.Words) != 0 || w.s.UnprintedWords(plain) != "" {
		t.Errorf("%+v", v.Words)
	}
	w.do("workshop.name", m{"maker": "Antiseptic Imke", "address": "", "contact": "", "region": "EU"}, "")
	if says := w.s.UnprintedWords(plain); !strings.Contains(says, "antiseptic") {
		t.Errorf("the workshop's name stands on the label too: %q", says)
	}
}

// A reason lifts the words that it was given for, and no word that comes later.
func TestAReasonIsForTheWordsThatStoodThere(t *testing.T) {
	w := newWorld(t)
	d := scrub()
	d.Name = "Eczema rinse"
	b := w.do("batch.start", m{"formula": w.do("formula.save", d, "key"), "purpose": "sale", "jars": "4", "fill": "120", "step": "0.1"}, "key")
	named := func(maker, contact string) {
		w.do("workshop.name", m{"maker": maker, "address": "", "contact": contact, "region": "EU"}, "")
	}
	say := func(reason string) { w.do("batch.words", m{"batch": b, "reason": reason}, "") }
	see := func(when, open, why string) {
		t.Helper()
		says := w.s.UnprintedWords(b)
		if open == "" && says != "" || !strings.Contains(says, open) || open != "eczema" && strings.Contains(says, "eczema") {
			t.Errorf("%s: stopped by %q", when, says)
		}
		if got := view[BatchView](w, "batch", m{"key": b}).WordsWhy; got != why {
			t.Errorf("%s: printed for %q", when, got)
		}
	}
	see("nothing said", "eczema", "")
	say("a registered medicine")
	see("a reason for the product", "", "a registered medicine")
	named("Antiseptic Imke", "")
	see("another name of the workshop", "antiseptic", "")
	say("it is a family name")
	see("a reason for the workshop", "", "a registered medicine; it is a family name")
	named("Antiseptic Imke", "heals@saltmeadow.example")
	see("another contact", "heals", "")
	named("Imke", "")
	see("both gone again", "", "a registered medicine")
	say("registered, no. 12")
	see("another reason for the same", "", "registered, no. 12")

	// A book that kept the reason alone: it was for the product's name, which does not change.
	body, err := encode(&BatchNoted{Batch: b, Text: "as it was kept before", Way: wayWords})
	if err != nil {
		t.Fatal(err)
	}
	w.arrive(Workshop, device(2), sync.Entry{Seq: 1, At: w.ctx.Now + 1, Kind: KindBatchNoted, V: 1, Body: body}, false)
	see("a reason without its words", "", "as it was kept before")
	named("Acne Imke", "")
	see("a name that came after it", "acne", "")

	_, plain := w.start()
	named("Imke", "")
	w.refused("batch.words", m{"batch": plain, "reason": "in advance"}, "nothing questioned", "reason")
}

// A note that is printed on the card is read for claims like the name is.
func TestNotesThatArePrintedAreReadForClaims(t *testing.T) {
	w := newWorld(t)
	d := scrub()
	d.Lines[1].Note = "it heals cracked hands"
	key := w.do("formula.save", d, "key")
	for name, notes := range map[string][]Note{
		"sheet": view[calc.Sheet](w, "sheet", d).Findings,
		"card":  view[CardView](w, "card", m{"key": key}).Findings,
		"class": view[ClassView](w, "class", m{"key": key, "learners": "3", "mass": "100"}).Findings,
	} {
		if n := noteOf(notes, "words", "in the note: “heals”"); n == nil || n.Level != calc.Stop || n.Line != "g" {
			t.Errorf("%s: %+v", name, n)
		}
	}
}

// An oil that was first used more than a year ago is said to be stale in the batch that it goes into, a fresh one is not.
func TestAScentThatWasOpenForAYearIsNamed(t *testing.T) {
	w := newWorld(t)
	d := scented("orange-oil")
	d.Wash = "rinse-off"
	key, lot := w.do("formula.save", d, "key"), w.lot("orange-oil", "O-1")
	made := func() []Note {
		b := w.do("batch.start", m{"formula": key, "purpose": "trial", "jars": "4", "fill": "120", "step": "0.1"}, "key")
		w.weighAll(b)
		w.do("batch.weigh", m{"batch": b, "line": "s0", "lot": lot, "asPlanned": true}, "entry")
		return view[BatchView](w, "batch", m{"key": b}).Findings
	}
	if n := noteOf(made(), "stale scent", ""); n != nil {
		t.Errorf("on its first day: %+v", n)
	}
	w.ctx.Now += 366 * 24 * 3600 * 1000
	if n := noteOf(made(), "stale scent", "orange"); n == nil || n.Line != "s0" || !strings.Contains(n.Figure, "first used 12 Nov 2026") {
		t.Errorf("a year and a day later: %+v", n)
	}
}

// Every finding that a screen shows says from when its source is.
func TestEveryFindingHasADate(t *testing.T) {
	w := newWorld(t)
	key := w.do("ingredient.define", attar(), "key")
	sheet := view[calc.Sheet](w, "sheet", scented(key, "parfum", "tea-tree-oil"))
	if len(sheet.Findings) < 8 {
		t.Fatalf("%d findings", len(sheet.Findings))
	}
	for _, n := range sheet.Findings {
		if n.Source != "" && n.Date == "" {
			t.Errorf("%s, %s: no date", n.Rule, n.Says)
		}
	}
}

// The page about the tables names each with its day, and says what their silence means.
func TestTheTablesTellOfThemselves(t *testing.T) {
	w := newWorld(t)
	v := view[LawView](w, "law", m{})
	if v.Region != "EU" || len(v.Tables) != 4 || !strings.Contains(v.Not, "no permission") {
		t.Errorf("%s", pretty(v))
	}
	for _, x := range v.Tables {
		if !strings.HasSuffix(x.AsOf, " 2026") || !strings.Contains(x.Known, "from memory") || len(x.Not) == 0 {
			t.Errorf("%+v", x)
		}
	}
}
