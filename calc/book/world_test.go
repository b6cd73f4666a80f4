package book

import (
	"encoding/json"
	"fmt"
	"testing"

	"stillroom/calc"
	"stillroom/sync"
	"stillroom/testdata"
)

// world is a store and its devices in a test: a journal in the store's order, and a clock that only tests move.
type world struct {
	t    testing.TB
	s    *State
	ctx  Context
	rand byte
	log  map[string][]sync.Envelope
}

const noon = 1794484800000 // 12 Nov 2026, 12:00 UTC

func device(n byte) sync.DeviceID { return sync.DeviceID{1, 2, 3, 4, 5, 6, 7, n} }

func newWorld(t testing.TB) *world {
	return &world{t: t, s: New(), ctx: Context{Device: device(1), Letter: "B", Role: Owner, Who: "Imke", Now: noon, Zone: 60}, log: map[string][]sync.Envelope{}}
}

// try decides a command and writes what it means to the store.
func (w *world) try(command string, args any) (any, *Refusal) {
	w.t.Helper()
	raw, err := json.Marshal(args)
	if err != nil {
		w.t.Fatal(err)
	}
	w.rand++
	w.ctx.Rand = [32]byte{w.rand, 77}
	w.ctx.Now += 60000
	drafts, value, no := w.s.Decide(w.ctx, command, raw)
	for _, d := range drafts {
		w.write(d)
	}
	return value, no
}

func (w *world) write(d Draft) Ref {
	e := sync.Entry{Seq: w.s.Head(d.Stream, w.ctx.Device) + 1, At: w.ctx.Now, Kind: d.Kind, V: d.V, Body: d.Body}
	w.arrive(d.Stream, w.ctx.Device, e, false)
	return Ref{w.ctx.Device, e.Seq}
}

func (w *world) arrive(stream string, dev sync.DeviceID, e sync.Entry, held bool) {
	env := sync.Envelope{Seq: uint64(len(w.log[stream]) + 1), Device: dev, Held: held, At: w.ctx.Now, Entry: e.Append(nil)}
	w.log[stream] = append(w.log[stream], env)
	w.s.Apply(stream, dev, &env, e)
}

// do is try that must not be refused; it answers the named text of the value.
func (w *world) do(command string, args any, field string) string {
	w.t.Helper()
	value, no := w.try(command, args)
	if no != nil {
		w.t.Fatalf("%s refused: %s", command, no.Error())
	}
	return answers(value)[field]
}

func (w *world) refused(command string, args any, code, field string) *Refusal {
	w.t.Helper()
	_, no := w.try(command, args)
	if no == nil {
		w.t.Fatalf("%s was not refused; want %s", command, code)
	}
	if no.Code != code || (no.Field != field && field != "*") {
		w.t.Fatalf("%s refused with %q on %q: %s; want %q on %q", command, no.Code, no.Field, no.Error(), code, field)
	}
	if no.Says == "" || no.Hint == "" {
		w.t.Fatalf("%s refused without saying what happened and what to do: %+v", command, no)
	}
	return no
}

func view[T any](w *world, name string, args any) T {
	w.t.Helper()
	raw, _ := json.Marshal(args)
	v, no := w.s.View(w.ctx, name, raw)
	if no != nil {
		w.t.Fatalf("view %s: %s", name, no.Error())
	}
	return v.(T)
}

type m = map[string]any

func (w *world) lot(ingredient, code string) string {
	w.t.Helper()
	return w.do("lot.receive", m{"ingredient": ingredient, "code": code, "supplier": "Tern & Daughter", "supplierLot": "TD-1", "grams": "5000", "expiry": "2027-11-30", "cost": "12,50"}, "key")
}

// scrub is a small formula: water to 100, glycerin 10 %, preservative 1 %.
func scrub() calc.Draft {
	return calc.Draft{Name: "Plain rinse", Wash: "rinse-off", Site: "body", Age: "adults",
		Phases: []calc.DraftPhase{{Letter: "A", Treatment: calc.DraftTreatment{Do: "heat", To: "75 C"}}, {Letter: "B", Treatment: calc.DraftTreatment{Do: "cool", To: "40 C"}}},
		Lines: []calc.DraftLine{{ID: "w", Phase: "A", Ingredient: "water", QS: true}, {ID: "g", Phase: "A", Ingredient: "glycerin", Percent: "10"},
			{ID: "p", Phase: "B", Ingredient: "phenoxyethanol-ehg", Percent: "1,0"}},
		Plan: calc.Plan{Jars: "24", Fill: "120", Loss: "4", Step: "0.1"}}
}

func (w *world) start() (formula, batch string) {
	w.t.Helper()
	formula = w.do("formula.save", scrub(), "key")
	batch = w.do("batch.start", m{"formula": formula, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1"}, "key")
	return formula, batch
}

func (w *world) weighAll(batch string) {
	w.t.Helper()
	for _, l := range []string{"w", "g", "p"} {
		w.do("batch.weigh", m{"batch": batch, "line": l, "asPlanned": true}, "entry")
	}
}

// demo folds the demo's workshop.
func demo(t testing.TB) (*State, []Written) {
	t.Helper()
	out, err := Demo(testdata.Demo, device(9), noon, 60)
	if err != nil {
		t.Fatal(err)
	}
	s := New()
	for _, e := range out {
		s.Apply(e.Stream, device(9), &sync.Envelope{}, e.Entry)
	}
	return s, out
}

func pretty(v any) string {
	b, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		return fmt.Sprint(err)
	}
	return string(b) + "\n"
}

func entryOf(d Draft, seq uint64) sync.Entry {
	return sync.Entry{Seq: seq, At: noon, Kind: d.Kind, V: d.V, Body: d.Body}
}

type envelope = sync.Envelope

func mustEntry(t testing.TB, b []byte) sync.Entry {
	t.Helper()
	e, err := sync.ParseEntry(b)
	if err != nil {
		t.Fatal(err)
	}
	return e
}
