package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server"
)

// The figures of the demo's workshop worked out again from what export writes, with nothing but fractions, and compared
// with what the screens show: shares to grams, weighings to what went in, lots to what is left, jars to where they are.

// said is what the test needs of a line of the export.
type said struct {
	Stream, Device, Kind string
	Own                  uint64
	Body                 struct {
		Key, Batch, Line, Lot, Code, Place, Of string
		Ingredient, Container                  string
		Fill, Loss, Step, Mass, Jars, Count    int64
		QS, Given                              bool
		Revision, From, To                     string
		Lines                                  []struct {
			ID      string
			Percent int64
			QS      bool
		}
		Targets []struct {
			Line string
			Mass int64
		}
		Keys []struct{ Count int64 }
		Body struct {
			Batch, Line, Lot string
			Mass, Count      int64
		}
		Kind uint32
	}
}

func (l said) ref() string { return fmt.Sprintf("%s.%d", l.Device, l.Own) }

// exported writes the demo into a new book, exports it, and folds it for the views.
func exported(t *testing.T) ([]said, *book.State) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "book")
	s, err := server.Open(server.Options{Dir: dir, Addr: "127.0.0.1:0", Demo: true, Now: func() time.Time { return noonOfDemo }})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := s.Run(ctx); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := export(t.Context(), console{out: &out, err: os.Stderr}, []string{"-book", dir, "-demo"}); err != nil {
		t.Fatal(err)
	}
	var lines []said
	for in := bufio.NewScanner(&out); in.Scan(); {
		var l said
		if err := json.Unmarshal(in.Bytes(), &l); err != nil {
			t.Fatalf("%v in %s", err, in.Text())
		}
		lines = append(lines, l)
	}
	f, err := openToRead(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	state, err := fold(t.Context(), f)
	if err != nil {
		t.Fatal(err)
	}
	return lines, state
}

var noonOfDemo = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

func looked[T any](t *testing.T, s *book.State, name string, args any) T {
	t.Helper()
	request, err := json.Marshal(args)
	if err != nil {
		t.Fatal(err)
	}
	value, no := s.View(book.Context{Role: book.Owner, Now: noonOfDemo.UnixMilli()}, name, request)
	if no != nil {
		t.Fatal(no)
	}
	v, ok := pointed[T](value)
	if !ok {
		t.Fatalf("the view %s is a %T", name, value)
	}
	return v
}

// shownGrams reads what a screen shows, "1,041.7 g", as grams.
func shownGrams(t *testing.T, text string) *big.Rat {
	t.Helper()
	plain := strings.NewReplacer(",", "", " g", "", "−", "-", "\u202f", "", "\u00a0", "").Replace(text)
	r, ok := new(big.Rat).SetString(plain)
	if !ok {
		t.Fatalf("%q is not read as grams", text)
	}
	return r
}

func rat(num, den int64) *big.Rat { return big.NewRat(num, den) }

// within says whether two differ by no more than the last place shown.
func within(a, b, most *big.Rat) bool {
	d := new(big.Rat).Sub(a, b)
	return d.Abs(d).Cmp(most) <= 0
}

type weighing struct {
	batch, line, lot string
	mass             int64
}

func TestFiguresOfTheDemoWorkedOutAgain(t *testing.T) {
	lines, state := exported(t)
	shares := map[string]map[string]int64{} // revision → line → share
	weighed := map[string]*weighing{}       // by entry, so that a correction finds what it replaces
	var order []string
	received, code := map[string]int64{}, map[string]string{}
	for _, l := range lines {
		switch l.Kind {
		case "formula.saved":
			of := map[string]int64{}
			others, filled := int64(0), int64(-1)
			for _, x := range l.Body.Lines {
				of[x.ID] = x.Percent
				if x.QS {
					filled = x.Percent
				} else {
					others += x.Percent
				}
			}
			if filled != 1_000_000-others {
				t.Errorf("%s: the q.s. line holds %d, and 100 %% less the others is %d", l.ref(), filled, 1_000_000-others)
			}
			shares[l.ref()] = of
		case "lot.received":
			received[l.Body.Key], code[l.Body.Key] = l.Body.Mass, l.Body.Code
		case "batch.weighed":
			weighed[l.ref()] = &weighing{l.Body.Batch, l.Body.Line, l.Body.Lot, l.Body.Mass}
			order = append(order, l.ref())
		case "corrected":
			if old := weighed[l.Body.Of]; old != nil && l.Body.Kind == book.KindBatchWeighed {
				*old = weighing{l.Body.Body.Batch, l.Body.Body.Line, l.Body.Body.Lot, l.Body.Body.Mass}
			}
		}
	}
	went, used := map[string]map[string]int64{}, map[string]int64{}
	for _, ref := range order {
		w := weighed[ref]
		if went[w.batch] == nil {
			went[w.batch] = map[string]int64{}
		}
		went[w.batch][w.line] += w.mass
		used[w.lot] += w.mass
	}
	batches := 0
	for _, l := range lines {
		if l.Kind == "batch.started" {
			batches++
			checkBatch(t, state, l, shares[l.Body.Revision], went[l.Body.Key])
		}
	}
	lots := looked[[]book.LotRow](t, state, "lots", struct{}{})
	left := containersLeft(lines)
	for _, row := range looked[[]book.ContainerRow](t, state, "containers", struct{}{}) {
		if want, counted := left[row.Key]; !counted || row.OnHand != fmt.Sprint(want) || want < 0 {
			t.Errorf("%s: %s left, worked out %d", row.Name, row.OnHand, want)
		}
		delete(left, row.Key)
	}
	if len(left) > 0 {
		t.Errorf("containers that no screen shows: %v", left)
	}
	for _, row := range lots {
		if strings.HasSuffix(row.OnHand.Text, " pieces") {
			continue
		}
		want := rat(received[row.Key]-used[row.Key], 1000)
		if got := shownGrams(t, row.OnHand.Text); !within(got, want, rat(1, 20)) || want.Sign() < 0 {
			t.Errorf("lot %s: %s on hand, worked out %s g", row.Code, row.OnHand.Text, want.FloatString(3))
		}
	}
	if batches != 12 || len(lots) != len(received) || len(lots) < 40 {
		t.Errorf("%d batches, %d lots of %d", batches, len(lots), len(received))
	}
	checkJars(t, state, lines)
}

// containersLeft is what came in of each container less what was filled.
func containersLeft(lines []said) map[string]int64 {
	left, into := map[string]int64{}, map[string]string{}
	for _, l := range lines {
		switch {
		case l.Kind == "lot.received" && l.Body.Count > 0:
			left[l.Body.Ingredient] += l.Body.Count
		case l.Kind == "batch.started":
			into[l.Body.Key] = l.Body.Container
		case l.Kind == "batch.filled":
			left[into[l.Body.Batch]] -= l.Body.Jars
		}
	}
	return left
}

// checkBatch compares a batch's plan and what went in with the sums.
func checkBatch(t *testing.T, state *book.State, l said, shares, went map[string]int64) {
	t.Helper()
	b := l.Body
	// Jars × fill ÷ (1 − loss), as near as the scale's step allows.
	exact := new(big.Rat).Quo(rat(b.Jars*b.Fill, 1), rat(1_000_000-b.Loss, 1_000_000))
	if !within(rat(b.Mass, 1), exact, rat(b.Step, 1)) {
		t.Errorf("%s: %d mg planned, worked out %s", b.Code, b.Mass, exact.FloatString(1))
	}
	sum, actual := int64(0), int64(0)
	for _, x := range b.Targets {
		sum += x.Mass
		want := new(big.Rat).Mul(rat(b.Mass, 1), rat(shares[x.Line], 1_000_000))
		if !within(rat(x.Mass, 1), want, rat(b.Step, 1)) || x.Mass%b.Step != 0 {
			t.Errorf("%s, line %s: target %d mg, worked out %s", b.Code, x.Line, x.Mass, want.FloatString(1))
		}
	}
	if sum != b.Mass {
		t.Errorf("%s: the targets sum to %d mg and the batch is %d", b.Code, sum, b.Mass)
	}
	for _, mass := range went {
		actual += mass
	}
	view := looked[book.BatchView](t, state, "batch", map[string]string{"key": b.Key})
	shown := 0
	for _, w := range view.WentIn {
		for _, x := range b.Targets {
			if x.Line == w.Line && !within(shownGrams(t, w.Target), rat(x.Mass, 1000), rat(1, 2000)) {
				t.Errorf("%s, %s: target %s, in the book %d mg", b.Code, w.Name, w.Target, x.Mass)
			}
		}
		if went[w.Line] == 0 {
			continue
		}
		shown++
		if !within(shownGrams(t, w.Actual), rat(went[w.Line], 1000), rat(b.Step, 2000)) {
			t.Errorf("%s, %s: %s went in, worked out %d mg", b.Code, w.Name, w.Actual, went[w.Line])
		}
		share, ok := new(big.Rat).SetString(strings.TrimSuffix(w.Percent.Text, " %"))
		if want := rat(went[w.Line]*100, actual); !ok || !within(share, want, rat(1, 100)) {
			t.Errorf("%s, %s: %s of it, worked out %s %%", b.Code, w.Name, w.Percent.Text, want.FloatString(3))
		}
	}
	if shown != len(went) {
		t.Errorf("%s: %d lines are shown of %d weighed", b.Code, shown, len(went))
	}
}

// checkJars counts the jars of every batch and place.
func checkJars(t *testing.T, state *book.State, lines []said) {
	t.Helper()
	all := 0
	_, lost := jarsByPlace(t, lines)
	for _, l := range lines {
		if l.Kind != "jars.minted" {
			continue
		}
		made := int64(0)
		for _, k := range l.Body.Keys {
			made += k.Count
		}
		view := looked[book.BatchView](t, state, "batch", map[string]string{"key": l.Body.Batch})
		at := 0
		for _, p := range view.Places {
			at += p.Count
		}
		if int64(len(view.Jars)) != made || int64(at) != made-lost[l.Body.Batch] {
			t.Errorf("%s: %d jars minted, %d shown, %d at places", l.Body.Code, made, len(view.Jars), at)
		}
		all += len(view.Jars)
	}
	if all < 150 {
		t.Errorf("%d jars in all", all)
	}
}
