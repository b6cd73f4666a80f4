package book

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// scribe is a visitor that writes a layout down: the document can then not differ from the code.
type scribe struct {
	out    strings.Builder
	prefix string
	v      uint32 // version that the field being written came with; 0 is the first
	until  uint32 // what came with a later version is left out; 0 leaves nothing out
	hold   []outer
}

type outer struct {
	prefix string
	v      uint32
}

func (s *scribe) field(name, kind, bounds string) {
	if s.until > 0 && s.v > s.until {
		return
	}
	if s.v > 1 {
		bounds = strings.TrimPrefix(fmt.Sprintf("%s; since version %d", bounds, s.v), "; ")
	}
	fmt.Fprintf(&s.out, "| %s%s | %s | %s |\n", s.prefix, name, kind, bounds)
}
func (s *scribe) since(v uint32) { s.v = max(s.v, v) }
func (s *scribe) text(name string, _ *string, max int) {
	s.field(name, "text", fmt.Sprintf("at most %d bytes", max))
}
func (s *scribe) whole(name string, _ *int64, lo, hi int64) {
	s.field(name, "whole", fmt.Sprintf("%d to %d", lo, hi))
}
func (s *scribe) flag(name string, _ *bool) { s.field(name, "flag", "") }
func (s *scribe) ref(name string, _ *Ref)   { s.field(name, "ref", "") }
func (s *scribe) list(name string, _, max int) int {
	s.field(name, "list", fmt.Sprintf("at most %d items", max))
	s.hold = append(s.hold, outer{s.prefix, s.v})
	s.prefix += name + "[]."
	return 1
}
func (s *scribe) item(int) {}
func (s *scribe) itemEnd() {}
func (s *scribe) listEnd() {
	s.prefix, s.v = s.hold[len(s.hold)-1].prefix, s.hold[len(s.hold)-1].v
	s.hold = s.hold[:len(s.hold)-1]
}
func (s *scribe) nested(name string, _, _ int64, _ *[]byte) {
	s.field(name, "body", fmt.Sprintf("at most %d bytes", maxBody))
}

func TestKindsAreWrittenDown(t *testing.T) {
	const mark = "<!-- from here on"
	file, err := os.ReadFile("KINDS.md")
	if err != nil {
		t.Fatal(err)
	}
	head, _, ok := strings.Cut(string(file), mark)
	if !ok {
		t.Fatal("KINDS.md has lost its mark")
	}
	var s scribe
	s.out.WriteString(head + mark + " written by: go test ./calc/book -run Kinds -update -->\n\n")
	s.out.WriteString("| number | kind | stream | version | written by |\n| --- | --- | --- | --- | --- |\n")
	for _, k := range Kinds() {
		v := fmt.Sprint(k.V)
		if k.V == 0 {
			v = "reserved"
		}
		fmt.Fprintf(&s.out, "| %d | %s | %s | %s | %s |\n", k.Number, k.Name, k.Stream, v, strings.Join(k.Writes, ", "))
	}
	for _, k := range Kinds() {
		if k.V == 0 {
			continue
		}
		fmt.Fprintf(&s.out, "\n## %d %s\n\n| field | is | bounds |\n| --- | --- | --- |\n", k.Number, k.Name)
		k.blank().visit(&s)
	}
	golden(t, "KINDS.md", []byte(s.out.String()))
}

func TestKindNumbersAreFixed(t *testing.T) {
	last := uint32(0)
	for _, k := range Kinds() {
		if k.Number <= last {
			t.Errorf("%s is out of order or doubled", k.Name)
		}
		last = k.Number
		if (k.Number >= 64) != (k.Stream == Shelf) {
			t.Errorf("%s (%d) is in the stream %s", k.Name, k.Number, k.Stream)
		}
	}
}

func TestRolesWriteWhatTheyMay(t *testing.T) {
	for _, c := range []struct {
		role string
		kind uint32
		want bool
	}{
		{Owner, KindAccepted, true}, {Maker, KindAccepted, false}, {Stall, KindAccepted, false},
		{Maker, KindBatchWeighed, true}, {Stall, KindBatchWeighed, false}, {Stall, KindSold, true}, {Stall, KindJarMoved, true},
		{Stall, KindPriced, false}, {Stall, KindCardPublished, false}, {Stall, KindBatchBarred, false}, {Maker, KindWorkshopNamed, false},
		{Maker, 9999, true}, {Stall, 9999, false}, {"guest", KindSold, false}, {"", KindSold, false},
	} {
		if got := MayWrite(c.role, c.kind); got != c.want {
			t.Errorf("MayWrite(%q, %d) = %v", c.role, c.kind, got)
		}
	}
	if got := Reads(Stall); len(got) != 1 || got[0] != Shelf {
		t.Errorf("a stall device reads %v", got)
	}
	if Reads("guest") != nil {
		t.Error("a guest is sent streams")
	}
}
