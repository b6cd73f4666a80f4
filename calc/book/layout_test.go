package book

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

const (
	layoutsPath = "../../testdata/layouts.txt"
	layoutsHead = `The layout of every version of every kind, as it is in people's books. Lines are only ever added: by
go test ./calc/book -run Layout -update, which writes what is new below and changes nothing that stands.
`
)

// layoutOf writes down one version of a kind.
func layoutOf(k Kind, v uint32) (head, fields string) {
	s := scribe{until: v}
	k.blank().visit(&s)
	return fmt.Sprintf("%d version %d: %s of %s", k.Number, v, k.Name, k.Stream), s.out.String()
}

// layouts reads what was written down: heads in their order, and the fields of each.
func layouts(text string) (heads []string, fields map[string]string) {
	fields = map[string]string{}
	for _, block := range strings.Split(text, "\n## ")[1:] {
		head, rest, _ := strings.Cut(block, "\n")
		heads = append(heads, head)
		fields[head] = strings.Trim(rest, "\n") + "\n"
	}
	return heads, fields
}

// judgeLayouts holds the kinds of a program against what was written down: what is new, and what must not be as it is.
func judgeLayouts(kinds []Kind, written string) (fresh string, faults []string) {
	heads, fields := layouts(written)
	for _, k := range kinds {
		for v := uint32(1); v <= k.V; v++ {
			head, now := layoutOf(k, v)
			then, known := fields[head]
			heads = slices.DeleteFunc(heads, func(h string) bool { return h == head })
			switch {
			case !known:
				fresh += "\n## " + head + "\n\n" + now
			case then != now && v == k.V:
				faults = append(faults, fmt.Sprintf("the layout of %s changed, and version %d of it is in people's books. Put it back, let the new fields follow v.since(%d) at the end of its visit (or of the item's), raise V to %d in kinds.go (a bound never changes: what needs more room is a new field), and run: go test ./calc/book -run 'Layout|Kinds|Vectors|Recorded' -update\nwritten down:\n%snow:\n%s", k.Name, v, v+1, v+1, then, now))
			case then != now:
				faults = append(faults, fmt.Sprintf("version %d of %s is no longer what it was: what came later must follow v.since(%d), and nothing before it changes\nwritten down:\n%snow:\n%s", v, k.Name, v+1, then, now))
			}
			if _, before := layoutOf(k, v-1); v > 1 && before == now {
				faults = append(faults, fmt.Sprintf("version %d of %s has no field that version %d has not: no entry would be written as it, so give it a field or take V back", v, k.Name, v-1))
			}
		}
	}
	for _, head := range heads {
		faults = append(faults, head+": it is in people's books and this program no longer has it, or calls it otherwise. A kind keeps its number, name and stream and is never removed: put its row in kinds.go back")
	}
	return fresh, faults
}

func TestLayoutsAreNeverChanged(t *testing.T) {
	text, err := os.ReadFile(layoutsPath)
	if os.IsNotExist(err) && *update {
		text, err = []byte(layoutsHead), nil
	}
	if err != nil {
		t.Fatal(err)
	}
	fresh, faults := judgeLayouts(Kinds(), string(text))
	for _, f := range faults {
		t.Error(f)
	}
	if fresh == "" {
		return
	}
	if !*update {
		t.Fatalf("not written down yet: run go test ./calc/book -run Layout -update\n%s", fresh)
	}
	if err := os.WriteFile(layoutsPath, append(text, fresh...), 0o644); err != nil {
		t.Fatal(err)
	}
}

// reading is a kind as one program after the other would lay it out.
type reading struct {
	Batch   string
	Words   []readingWord
	Value   int64
	visitAs func(b *reading, v visitor)
}

type readingWord struct{ Word, Why string }

func (w *readingWord) visit(v visitor) {
	v.text("word", &w.Word, maxKey)
	v.since(2)
	v.text("why", &w.Why, maxKey)
}

func (b *reading) visit(v visitor) { b.visitAs(b, v) }

func TestLayoutThatMustNotChangeIsNamed(t *testing.T) {
	kind := func(v uint32, visit func(b *reading, v visitor)) []Kind {
		return []Kind{{Number: 7, Name: "reading", Stream: Workshop, V: v, blank: func() visitable { return &reading{visitAs: visit} }}}
	}
	first := func(b *reading, v visitor) { v.text("batch", &b.Batch, maxKey) }
	written, _ := judgeLayouts(kind(1, first), layoutsHead)
	written = layoutsHead + written
	for _, c := range []struct {
		name  string
		kinds []Kind
		fresh bool
		says  string
	}{
		{"as it was", kind(1, first), false, ""},
		{"a field more in the same version", kind(1, func(b *reading, v visitor) { first(b, v); v.whole("value", &b.Value, 0, 9) }), false, "raise V to 2"},
		{"a field more in a later version", kind(2, func(b *reading, v visitor) { first(b, v); v.since(2); v.whole("value", &b.Value, 0, 9) }), true, ""},
		{"a later version without saying since when", kind(2, func(b *reading, v visitor) { first(b, v); v.whole("value", &b.Value, 0, 9) }), true, "no longer what it was"},
		{"a later version with nothing new", kind(2, first), true, "has no field"},
		{"a field put before the others", kind(2, func(b *reading, v visitor) { v.since(2); v.whole("value", &b.Value, 0, 9); first(b, v) }), true, "no longer what it was"},
		{"a wider bound", kind(1, func(b *reading, v visitor) { v.text("batch", &b.Batch, maxName) }), false, "raise V to 2"},
		{"removed", nil, false, "put its row in kinds.go back"},
	} {
		fresh, faults := judgeLayouts(c.kinds, written)
		if said := strings.Join(faults, "\n"); (fresh != "") != c.fresh || (c.says == "") != (said == "") || !strings.Contains(said, c.says) {
			t.Errorf("%s: new %q, faults %q", c.name, fresh, said)
		}
	}
}
