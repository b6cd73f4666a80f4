package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"stillroom/calc"
	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/sync"
)

// largestFile is far above what a table that is read may hold, so that such a file is refused in words and not read whole.
const largestFile = 8 << 20

// importFile reads formulas, or lots with -lots, from a table or a formula file. It prints what each word was taken to mean and keeps nothing, until -yes:
// then it keeps all of it in one batch, or nothing.
func importFile(ctx context.Context, c console, args []string) error {
	yes, lots := false, false
	dir, words, err := bookFlags("import", switchesFirst(args), 1, func(set *flag.FlagSet) {
		set.BoolVar(&yes, "yes", false, "")
		set.BoolVar(&lots, "lots", false, "")
	})
	if err != nil {
		return err
	}
	if len(words) == 0 {
		return &misuse{"import: which file?", form("import")}
	}
	text, err := readTable(words[0])
	if err != nil {
		return err
	}
	err = opened(ctx, dir, folder.Options{ReadOnly: !yes, Existing: true}, func(f *folder.Folder) error {
		state, err := fold(ctx, f)
		if err != nil {
			return err
		}
		in := bringing{c: c, state: state, file: words[0], text: text, device: importDevice(f.Store.Epoch())}
		drafts, err := in.decide(lots)
		switch {
		case err != nil:
			return err
		case len(drafts) == 0:
			fmt.Fprintln(c.out, "Nothing new: the book stays as it is.")
			return nil
		}
		entries, err := in.entries(f, drafts)
		switch {
		case err != nil:
			return err
		case !yes:
			fmt.Fprintln(c.out, "Nothing is kept yet. The same line with -yes keeps all of it.")
			return nil
		}
		after := f.Store.DeviceHead(book.Workshop, in.device).Seq
		if _, err := f.Store.Append(ctx, book.Workshop, in.device, after, entries, store.Meta{At: time.Now().UnixMilli()}); err != nil {
			return err
		}
		fmt.Fprintln(c.out, "All of it is in the book.")
		return nil
	})
	var busy *store.Busy
	if errors.As(err, &busy) {
		return &hinted{err, "stop the home store first, or leave it running and bring the file in with the app: Formulas, bring formulas in"}
	}
	return err
}

// switchesFirst lets -yes be added at the end of the line that was tried without it.
func switchesFirst(args []string) []string {
	var first, rest []string
	for _, a := range args {
		switch a {
		case "-yes", "--yes", "-lots", "--lots":
			first = append(first, a)
		default:
			rest = append(rest, a)
		}
	}
	return append(first, rest...)
}

// readTable reads a file as text, whatever its letters are written in.
func readTable(name string) (string, error) {
	f, err := os.Open(name)
	if err != nil {
		return "", &hinted{fmt.Errorf("%s cannot be read: %w", name, cause(err)), "nothing was kept; name the file that the spreadsheet saved as CSV"}
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largestFile+1))
	switch {
	case err != nil:
		return "", &hinted{fmt.Errorf("%s cannot be read: %w", name, cause(err)), "nothing was kept; name the file that the spreadsheet saved as CSV"}
	case len(data) > largestFile:
		return "", &hinted{fmt.Errorf("%s is larger than %d MiB", name, largestFile>>20), "nothing was kept; save the sheet with the formulas alone"}
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte("\xD0\xCF\x11\xE0")):
		return "", &hinted{fmt.Errorf("%s is a spreadsheet's own file and not CSV", name), "nothing was kept; open it there, save the sheet as CSV, and bring that in"}
	}
	return calc.TableText(data), nil
}

// cause leaves out what the message says already: what was done to which file.
func cause(err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}

// bringing is one file on its way into a book.
type bringing struct {
	c      console
	state  *book.State
	file   string
	text   string
	device sync.DeviceID
}

// importDevice is a writer that no phone can be, one for each epoch.
func importDevice(epoch sync.Epoch) sync.DeviceID {
	sum := sha256.Sum256(append([]byte("stillroom import device"), epoch[:]...))
	return sync.DeviceID(sum[:8])
}

// decide prints what the file would bring and gives what is to be kept; an error when anything stands in the way.
func (b *bringing) decide(lots bool) ([]book.Draft, error) {
	now := time.Now()
	_, east := now.Zone()
	look := book.Context{Device: b.device, Role: book.Owner, Now: now.UnixMilli(), Zone: east / 60}
	if _, err := rand.Read(look.Rand[:]); err != nil {
		return nil, err
	}
	if lots {
		drafts, v := b.state.ImportLots(look, b.text)
		b.showLots(&v)
		return drafts, b.troubles(v.Troubles, v.Says)
	}
	name := strings.TrimSuffix(filepath.Base(b.file), filepath.Ext(b.file))
	request, err := json.Marshal(map[string]string{"text": b.text, "name": name})
	if err != nil {
		return nil, err
	}
	value, no := b.state.View(look, "import", request)
	if no != nil {
		return nil, &hinted{errors.New(no.Says), no.Hint}
	}
	v, ok := pointed[book.ImportView](value)
	if !ok {
		return nil, fmt.Errorf("the view of an import has another shape: %T", value)
	}
	b.showFormulas(&v)
	if err := b.troubles(v.Troubles, v.Says); err != nil {
		return nil, err
	}
	drafts, _, no := b.state.Decide(look, "formulas.import", request)
	if no != nil {
		return nil, &hinted{errors.New(no.Says), no.Hint}
	}
	return drafts, nil
}

func (b *bringing) showFormulas(v *book.ImportView) {
	fmt.Fprintf(b.c.out, "%s: %s\n", b.file, v.Says)
	b.notes(v.Notes)
	for _, name := range v.Ingredients {
		fmt.Fprintf(b.c.out, "  ingredient of your own: %s\n", name)
	}
	for _, f := range v.Formulas {
		fmt.Fprintf(b.c.out, "\n%s\n", joined(", ", f.Name, f.Total, f.Credit, f.Says))
		for _, l := range f.Lines {
			is := l.Name
			if l.Trouble != "" {
				is = "? " + l.Trouble
			}
			share := ""
			if l.Percent != "" {
				share = strings.TrimSuffix(l.Percent, " %") + " %"
			}
			fmt.Fprintf(b.c.out, "  %-8s %-2s %-28s %-10s → %s\n", l.Place, l.Phase, l.Typed, l.Amount, joined(", ", is, share, l.Says))
		}
	}
	fmt.Fprintln(b.c.out)
}

func (b *bringing) showLots(v *book.LotsImport) {
	fmt.Fprintf(b.c.out, "%s: %s\n", b.file, v.Says)
	b.notes(v.Notes)
	for _, l := range v.Lots {
		is := l.Name
		if l.Trouble != "" {
			is = "? " + l.Trouble
		}
		label := func(word, text string) string {
			if text == "" {
				return ""
			}
			return word + " " + text
		}
		amount := ""
		if l.Amount != "" {
			amount = l.Amount + " g"
		}
		fmt.Fprintf(b.c.out, "  %-8s %-28s → %s\n", l.Place, l.Typed, joined(", ", is, amount, label("code", l.Code), label("from", l.Supplier), label("their lot", l.SupplierLot), label("use by", l.Expiry), label("cost", l.Cost), l.Says))
	}
	fmt.Fprintln(b.c.out)
}

func (b *bringing) notes(notes []string) {
	for _, n := range notes {
		fmt.Fprintf(b.c.out, "  %s\n", n)
	}
}

// troubles prints what stands in the way, each with its place, and is the error that they come to.
func (b *bringing) troubles(all []book.ImportTrouble, says string) error {
	if len(all) == 0 {
		return nil
	}
	for _, t := range all {
		fmt.Fprintf(b.c.err, "%s\n  %s\n", joined(": ", t.Place, t.Formula, t.Says), t.Do)
	}
	return &hinted{fmt.Errorf("nothing was kept: %s", strings.TrimSuffix(says, ", so nothing can be kept yet")), "mend the rows named above in the spreadsheet, save it as CSV and bring it in again"}
}

// entries numbers what is to be kept. More than goes into one batch is refused, since a batch is what is kept whole or not at all.
func (b *bringing) entries(f *folder.Folder, drafts []book.Draft) ([][]byte, error) {
	seen := sync.Seen{Epoch: f.Store.Epoch(), Seq: f.Store.Head(book.Workshop).Seq}
	after, bytes := f.Store.DeviceHead(book.Workshop, b.device).Seq, 0
	var out [][]byte
	for i, d := range drafts {
		if d.Stream != book.Workshop {
			return nil, fmt.Errorf("an entry of %s cannot be brought in by a file", d.Stream)
		}
		raw := sync.Entry{Seq: after + 1 + uint64(i), Seen: seen, At: time.Now().UnixMilli(), Kind: d.Kind, V: d.V, Body: d.Body}.Append(nil)
		bytes += len(raw)
		out = append(out, raw)
	}
	if len(out) > sync.MaxBatchEntries || bytes > sync.MaxBatchBytes {
		return nil, &hinted{fmt.Errorf("nothing was kept: the file comes to %d entries of %d kB, and %d of %d kB can be kept in one go", len(out), bytes>>10, sync.MaxBatchEntries, sync.MaxBatchBytes>>10), "part it into several files"}
	}
	return out, nil
}

// joined puts a sign between those texts that say something.
func joined(sign string, texts ...string) string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return strings.Join(out, sign)
}
