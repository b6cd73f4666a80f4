package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
)

// trace goes from a jar's code to its batch and lots, or from a lot to every batch and jar.
func trace(ctx context.Context, c console, args []string) error {
	dir, words, err := bookFlags("trace", args, 1, func(*flag.FlagSet) {})
	if err != nil {
		return err
	}
	if len(words) == 0 {
		return &misuse{"trace: which jar or lot?", form("trace")}
	}
	return reading(ctx, dir, func(f *folder.Folder) error {
		state, err := fold(ctx, f)
		if err != nil {
			return err
		}
		t := tracer{state: state, look: book.Context{Role: book.Owner, Now: time.Now().UnixMilli()}, out: c.out}
		return t.trace(words[0])
	})
}

type tracer struct {
	state *book.State
	look  book.Context
	out   io.Writer
}

func (t tracer) view(name string, args any) (any, error) {
	request, err := json.Marshal(args)
	if err != nil {
		return nil, err
	}
	value, no := t.state.View(t.look, name, request)
	if no != nil {
		return nil, &hinted{errors.New(no.Says), no.Hint}
	}
	return value, nil
}

// trace takes what is written on a tub or a lid. Lots come first: their codes are the maker's own words, and a jar's
// code has a check character that few of those meet.
func (t tracer) trace(word string) error {
	lots, err := t.view("lots", struct{}{})
	if err != nil {
		return err
	}
	rows, ok := lots.([]book.LotRow)
	if !ok {
		return fmt.Errorf("the view of lots has another shape: %T", lots)
	}
	for _, row := range rows {
		if row.Key == word || strings.EqualFold(row.Code, word) {
			return t.lot(row.Key)
		}
	}
	value, err := t.view("jar", map[string]string{"code": word})
	if err != nil {
		return err
	}
	jar, ok := pointed[book.JarView](value)
	if !ok {
		return fmt.Errorf("the view of a jar has another shape: %T", value)
	}
	t.jar(jar)
	return nil
}

func (t tracer) jar(j book.JarView) {
	fmt.Fprintf(t.out, "jar %s, %d of %d: %s\n", j.Shown, j.Number, j.Of, j.Batch.Row.Name)
	if j.Read != "" {
		fmt.Fprintf(t.out, "read with help: %s\n", j.Read)
	}
	t.row("batch", j.Batch.Row.Code)
	t.row("state", j.Batch.Row.State)
	t.row("made", j.Batch.Made)
	t.row("place", j.Place)
	t.row("net", j.Net)
	t.row("best before", j.BestBefore)
	fmt.Fprintln(t.out, "what went in:")
	for _, w := range j.Batch.WentIn {
		fmt.Fprintf(t.out, "  %s  %s", w.Name, w.Actual)
		for _, l := range w.Lots {
			fmt.Fprintf(t.out, "  lot %s %s", l.Code, l.Grams)
		}
		fmt.Fprintln(t.out)
	}
	fmt.Fprintf(t.out, "jars of this batch: %d\n", len(j.Batch.Jars))
	t.places(j.Batch.Places)
}

func (t tracer) lot(key string) error {
	value, err := t.view("lot", map[string]any{"key": key, "all": true})
	if err != nil {
		return err
	}
	l, ok := pointed[book.LotView](value)
	if !ok {
		return fmt.Errorf("the view of a lot has another shape: %T", value)
	}
	fmt.Fprintf(t.out, "lot %s: %s\n", l.Row.Code, l.Row.Name)
	t.row("key", l.Row.Key)
	t.row("supplier", l.Row.Supplier)
	t.row("their lot", l.Row.SupplierLot)
	t.row("received", l.Received)
	t.row("on hand", l.Row.OnHand.Text)
	if l.Row.Held {
		t.row("state", "held")
	}
	fmt.Fprintf(t.out, "batches: %d\n", len(l.Batches))
	for _, b := range l.Batches {
		fmt.Fprintf(t.out, "  %s  %s  %s  %s\n", b.Batch.Code, b.Batch.Name, b.Grams, b.Batch.State)
	}
	fmt.Fprintf(t.out, "jars: %d\n", len(l.Jars))
	for _, j := range l.Jars {
		fmt.Fprintf(t.out, "  %s  %s\n", j.Shown, j.Place)
	}
	t.places(l.Places)
	return nil
}

func (t tracer) row(name, value string) {
	if value != "" {
		fmt.Fprintf(t.out, "  %-12s %s\n", name, value)
	}
}

func (t tracer) places(places []book.PlaceCount) {
	for _, p := range places {
		fmt.Fprintf(t.out, "  %s: %d\n", p.Place, p.Count)
	}
}

// pointed takes a view's value whether it came as itself or as a pointer.
func pointed[T any](value any) (T, bool) {
	if p, ok := value.(*T); ok && p != nil {
		return *p, true
	}
	v, ok := value.(T)
	return v, ok
}
