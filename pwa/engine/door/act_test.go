package door

import (
	"strings"
	"testing"

	"stillroom/calc"
	"stillroom/calc/book"
)

type m = map[string]any

func rinse() calc.Draft {
	return calc.Draft{
		Name: "Plain rinse", Wash: "rinse-off", Site: "body", Age: "adults",
		Phases: []calc.DraftPhase{{Letter: "A", Treatment: calc.DraftTreatment{Do: "heat", To: "75 C"}}, {Letter: "B", Treatment: calc.DraftTreatment{Do: "cool", To: "40 C"}}},
		Lines: []calc.DraftLine{
			{ID: "w", Phase: "A", Ingredient: "water", QS: true},
			{ID: "g", Phase: "A", Ingredient: "glycerin", Percent: "10"},
			{ID: "p", Phase: "B", Ingredient: "phenoxyethanol-ehg", Percent: "1,0"},
		},
		Plan: calc.Plan{Jars: "24", Fill: "120", Loss: "4", Step: "0.1"},
	}
}

// begin saves a formula and starts a batch of it.
func begin(p *phone) (batch string) {
	p.t.Helper()
	formula := p.give("formula.save", rinse())
	started := p.give("batch.start", m{"formula": formula["key"], "revision": "", "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1"})
	return started["key"].(string)
}

func weigh(p *phone, batch string, lines ...string) {
	p.t.Helper()
	for _, line := range lines {
		p.give("batch.weigh", m{"batch": batch, "line": line, "lot": "", "grams": "", "asPlanned": true, "more": false})
	}
}

// whole is one batch from formula to filled jars.
func whole(p *phone) (batch string) {
	p.t.Helper()
	batch = begin(p)
	weigh(p, batch, "w", "g", "p")
	p.give("batch.ph", m{"batch": batch, "value": "5,2", "method": "meter", "dilution": ""})
	p.give("batch.fill", m{"batch": batch, "jars": "23", "place": "home", "note": ""})
	return batch
}

type batchView struct {
	Row  struct{ State, Where string }
	Rows []struct{ What, Value, Where string }
	Jars []struct{ Code, Where string }
}

func seeBatch(p *phone, key string) batchView {
	p.t.Helper()
	var v batchView
	p.look("batch", m{"key": key}, &v)
	return v
}

func TestWholeActWithoutAHomeStoreThenTwoPhonesAgree(t *testing.T) {
	one := newPhone(t, 1, book.Owner)
	batch := whole(one)
	alone := seeBatch(one, batch)
	if len(alone.Jars) != 23 {
		t.Fatalf("%d jars; want 23", len(alone.Jars))
	}
	for _, row := range alone.Rows {
		if row.Where != "phone" {
			t.Errorf("row %q says %q before any home store was met; want phone", row.What, row.Where)
		}
	}
	before := one.state()
	if before.Unsent == 0 {
		t.Fatal("nothing unsent after a whole act without a home store")
	}

	h := newHome(t)
	two := newPhone(t, 2, book.Owner)
	h.connect(one)
	h.connect(two)
	h.settle()

	a, b := one.state(), two.state()
	if a.Unsent != 0 {
		t.Errorf("%d unsent after meeting the home store", a.Unsent)
	}
	if a.Digest != b.Digest {
		t.Error("two phones that hold the same entries differ")
	}
	for _, p := range []*phone{one, two} {
		v := seeBatch(p, batch)
		if len(v.Jars) != 23 || v.Row.Where != "book" {
			t.Errorf("phone %d: %d jars, batch in %q; want 23 in book", p.id[0], len(v.Jars), v.Row.Where)
		}
		for _, row := range v.Rows {
			if row.Where != "book" {
				t.Errorf("phone %d: row %q is in %q; want book", p.id[0], row.What, row.Where)
			}
		}
		for stream, rows := range p.disk.pending {
			if len(rows) != 0 {
				t.Errorf("phone %d keeps %d pending rows of %s that came back", p.id[0], len(rows), stream)
			}
		}
	}
	if len(one.said)+len(two.said) != 0 {
		t.Errorf("stops: %+v %+v", one.said, two.said)
	}
}

func TestReloadAtEveryStepLosesNothing(t *testing.T) {
	one := newPhone(t, 1, book.Owner)
	batch := begin(one)
	for _, line := range []string{"w", "g", "p"} {
		weigh(one, batch, line)
		before := one.state()
		one.start()
		if after := one.state(); after.Digest != before.Digest || after.Unsent != before.Unsent {
			t.Fatalf("after weighing %s and a reload: %+v; before: %+v", line, after, before)
		}
	}
	h := newHome(t)
	h.connect(one)
	h.settle()
	in := one.state()
	one.start()
	if after := one.state(); after.Digest != in.Digest || after.Unsent != 0 {
		t.Fatalf("reload with everything in the book: %+v; before: %+v", after, in)
	}
}

// F1 and F11 in small: the line is cut and the page reloaded after every number of messages; in the end all is there once.
func TestCutAfterAnyNumberOfMessages(t *testing.T) {
	for n := range 12 {
		one, two := newPhone(t, 1, book.Owner), newPhone(t, 2, book.Owner)
		batch := whole(one)
		h := newHome(t)
		h.connect(one)
		h.connect(two)
		h.carry(n)
		h.cut(one)
		if n%2 == 1 {
			one.start()
		}
		h.connect(one)
		h.settle()
		if a, b := one.state(), two.state(); a.Digest != b.Digest || a.Unsent != 0 {
			t.Fatalf("cut after %d messages: %+v and %+v", n, a, b)
		}
		if v := seeBatch(two, batch); len(v.Jars) != 23 {
			t.Fatalf("cut after %d messages: %d jars on the second phone", n, len(v.Jars))
		}
		if len(one.said)+len(two.said) != 0 {
			t.Fatalf("cut after %d messages: stops %+v %+v", n, one.said, two.said)
		}
	}
}

// The page ends between the home store's batch and the phone's disk: the same batch comes again.
func TestReceivedButNotWrittenComesAgain(t *testing.T) {
	one, two := newPhone(t, 1, book.Owner), newPhone(t, 2, book.Owner)
	whole(one)
	h := newHome(t)
	h.connect(one)
	h.settle()
	two.deaf = true
	h.connect(two)
	h.settle()
	h.cut(two)
	two.deaf = false
	two.start()
	h.connect(two)
	h.settle()
	if a, b := one.state(), two.state(); a.Digest != b.Digest {
		t.Fatalf("%+v and %+v", a, b)
	}
}

// F10: the disk is full at the moment of writing. Nothing is half applied and the number is free again.
func TestWriteThatFailsLeavesNothing(t *testing.T) {
	one := newPhone(t, 1, book.Owner)
	batch := begin(one)
	weigh(one, batch, "w", "g", "p")
	before := one.state()
	one.full = true
	fill := m{"batch": batch, "jars": "23", "place": "", "note": ""}
	if _, no := one.try("batch.fill", fill); no == nil {
		t.Fatal("a write that failed was not refused")
	}
	if after := one.state(); after.Digest != before.Digest || after.Unsent != before.Unsent {
		t.Fatalf("after a write that failed: %+v; before: %+v", after, before)
	}
	one.give("batch.fill", fill)
	h, two := newHome(t), newPhone(t, 2, book.Owner)
	h.connect(one)
	h.connect(two)
	h.settle()
	if a, b := one.state(), two.state(); a.Digest != b.Digest || a.Unsent != 0 {
		t.Fatalf("%+v and %+v", a, b)
	}
}

// Entries of another phone arrive while this one has pending ones: the overlay is laid again on the new base.
func TestOthersEntriesGoUnderWhatIsPending(t *testing.T) {
	one, two := newPhone(t, 1, book.Owner), newPhone(t, 2, book.Owner)
	h := newHome(t)
	batch := begin(one)
	h.connect(one)
	h.connect(two)
	h.settle()
	h.cut(two)
	two.give("batch.note", m{"batch": batch, "text": "smells of rain"})
	weigh(one, batch, "w")
	h.settle()
	h.connect(two)
	h.settle()
	one.start()
	if a, b := one.state(), two.state(); a.Digest != b.Digest {
		t.Fatalf("%+v and %+v", a, b)
	}
	if v := seeBatch(one, batch); len(v.Rows) != len(seeBatch(two, batch).Rows) {
		t.Fatal("the two phones show different rows")
	}
}

// What was cut between its two streams is completed at the next start, once.
func TestCompletingIsDoneOnce(t *testing.T) {
	one := newPhone(t, 1, book.Owner)
	batch := whole(one)
	delete(one.disk.pending, book.Shelf)
	one.start()
	if n := len(seeBatch(one, batch).Jars); n != 0 {
		t.Fatalf("%d jars although the shelf's half is gone", n)
	}
	one.give(complete, m{})
	if n := len(seeBatch(one, batch).Jars); n != 23 {
		t.Fatalf("%d jars after completing; want 23", n)
	}
	before := one.state()
	one.give(complete, m{})
	if after := one.state(); after.Unsent != before.Unsent {
		t.Fatalf("completing again wrote %d entries", after.Unsent-before.Unsent)
	}
}

func TestRefusedCommandWritesNothing(t *testing.T) {
	one := newPhone(t, 1, book.Owner)
	batch := begin(one)
	before := one.state()
	for _, c := range []struct {
		name string
		args any
	}{
		{"batch.weigh", m{"batch": batch, "line": "w", "grams": "-3"}},
		{"batch.weigh", m{"batch": "ZZZZZ", "line": "w", "grams": "3"}},
		{"no.such.command", m{}},
		{"batch.weigh", "not an object"},
	} {
		if _, no := one.try(c.name, c.args); no == nil || no.Says == "" {
			t.Errorf("%s %v was not refused with a sentence: %+v", c.name, c.args, no)
		}
	}
	if after := one.state(); after.Digest != before.Digest || after.Unsent != before.Unsent {
		t.Fatalf("refused commands changed the book: %+v, before %+v", after, before)
	}
}

// What is longer than one entry of the book may be is refused with a sentence; it is not a fault of the engine.
func TestAFormulaTooLongForAnEntryIsRefused(t *testing.T) {
	p := newPhone(t, 1, book.Owner)
	d := rinse()
	for i := range d.Lines {
		d.Lines[i].Note = strings.Repeat("a long note ", 330)
	}
	line := d.Lines[1]
	for i := range 8 {
		line.ID, line.Percent = "x"+string(rune('a'+i)), "0.1"
		d.Lines = append(d.Lines, line)
	}
	_, no := p.try("formula.save", d)
	if no == nil || no.Code != "too long" || !strings.Contains(no.Says, "kB") || !strings.Contains(no.Says, "Nothing was written") || no.Hint == "" {
		t.Fatalf("%+v", no)
	}
	d.Lines = d.Lines[:3]
	if p.give("formula.save", d)["key"] == "" {
		t.Error("and what is short enough is not kept afterwards")
	}
}
