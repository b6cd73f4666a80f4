package book

import (
	"encoding/json"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"stillroom/sync"
)

// chancer is a visitor that fills a body with anything its fields allow: mostly words that mean something there, and now
// and then those that mean something elsewhere, or nothing.
type chancer struct {
	r    *rand.Rand
	kind int64 // of what a correction puts in the place of the old
	refs []Ref // of what was written before
}

var chances = map[string]string{
	"batch": "AAAAA AAAAA AAAAA BBBBB", "formula": "FFFF0001 FFFF0001 FFFF0002", "lot": "LLLL0001 LLLL0002", "ingredient": "glycerin water citric-acid JJJJ0001", "line": "g w p", "id": "g w p",
	"phase": "A B", "letter": "A B", "place": "home stall PPPP0001", "from": "home stall PPPP0001", "to": "stall sold given PPPP0001 discarded home", "inside": "stall home PPPP0001",
	"state": "held released discarded resting", "what": "ph temperature net density jar container base crate", "product": "x x y", "jar": "AAAAA02G AAAAA03E AAAAA04C", "code": "AAAAA02G 261112-B1 C-1",
	"purpose": "sale trial gift", "wash": "rinse-off leave-on", "unit": "C F", "method": "meter strip", "stage": "whipped before", "do": "heat whip cool combine", "base": "FFFF0002", "container": "JJJJ0002",
	"": `AAAAA BBBBB FFFF0001 LLLL0001 JJJJ0001 PPPP0001 7K3QX glycerin home stall sold mint A g EU US EUR oz C body adults none anionic water oil reductions counts fluff less colour room warm Aqua Limonene yeast é"<`,
}

func (c *chancer) text(name string, p *string, most int) {
	of := chances[strings.ToLower(name)]
	if of == "" || c.r.Intn(8) == 0 {
		of = chances[""]
	}
	words := append(strings.Fields(of), "")
	*p = words[c.r.Intn(len(words))]
	switch {
	case name == "device":
		*p = device(byte(1 + c.r.Intn(3))).String()
	case c.r.Intn(80) == 0:
		*p = strings.Repeat("x", most)
	}
	*p = strings.ToValidUTF8((*p)[:min(len(*p), most)], "")
}

func (c *chancer) whole(name string, p *int64, lo, hi int64) {
	x := []int64{lo, hi, 0, 1, c.r.Int63n(100), 20261100 + c.r.Int63n(40), c.r.Int63n(2000000), lo + c.r.Int63n(hi-lo+1), -c.r.Int63n(1000)}[c.r.Intn(9)]
	switch {
	case name == "kind" && hi == 1<<32-1:
		x = c.kind
	case name == "v" && hi == 1<<32-1:
		x = 1
	}
	*p = min(max(x, lo), hi)
}

func (c *chancer) flag(_ string, p *bool) { *p = c.r.Intn(2) == 0 }

func (c *chancer) ref(_ string, p *Ref) {
	switch *p = (Ref{}); {
	case c.r.Intn(5) == 0:
	case c.r.Intn(5) == 0 || len(c.refs) == 0:
		*p = Ref{device(byte(1 + c.r.Intn(3))), uint64(1 + c.r.Intn(25))}
	default:
		*p = c.refs[c.r.Intn(len(c.refs))]
	}
}

func (c *chancer) list(_ string, _, most int) int {
	if c.r.Intn(40) == 0 {
		return most
	}
	return min(c.r.Intn(4), most)
}

func (c *chancer) item(int)     {}
func (c *chancer) itemEnd()     {}
func (c *chancer) listEnd()     {}
func (c *chancer) since(uint32) {}

func (c *chancer) nested(_ string, kind, v int64, p *[]byte) {
	*p = []byte{1, 2}
	if b := blank(uint32(kind), uint32(v)); b != nil {
		b.visit(c)
		if out, err := encode(b); err == nil && len(out) <= maxBody {
			*p = out
		}
	}
}

// Whatever a paired device writes, in any order and under any clock, is folded and shown without a fault, and adds up to the
// same on an overlay: a store that failed at it would fail at every start.
func TestWhateverIsWrittenIsFoldedAndShown(t *testing.T) {
	corrected := map[string][]int64{Workshop: {17, 18, 19, 21, 23, 25, 26}, Shelf: {65, 69, 70}}
	often := []uint32{16, 17, 18, 19, 21, 23, 24, 25, 26, 30, 64, 65, 69, 70, 78}
	kinds := slices.DeleteFunc(Kinds(), func(k Kind) bool { return k.V == 0 })
	for seed := range int64(30) {
		c := &chancer{r: rand.New(rand.NewSource(seed))}
		var all []placed
		write := func(k Kind, b visitable, from byte) {
			body, err := encode(b)
			if err != nil || len(body) > sync.MaxBodyBytes {
				return
			}
			e := sync.Entry{Seq: 1, At: noon + c.r.Int63n(1e9), Kind: k.Number, V: k.V, Body: body, Seen: sync.Seen{Seq: uint64(c.r.Intn(30))}}
			if c.r.Intn(20) == 0 {
				e.At = c.r.Int63n(1 << 62)
			}
			for _, p := range all {
				if p.stream == k.Stream && p.dev == device(from) {
					e.Seq++
				}
			}
			c.refs = append(c.refs, Ref{device(from), e.Seq})
			all = append(all, placed{k.Stream, device(from), e, c.r.Intn(12) == 0})
		}
		for _, b := range []kindBody{
			{KindFormulaSaved, &FormulaSaved{Key: "FFFF0001", Name: "x", Lines: []Line{{ID: "w", Phase: "A", Ingredient: "water", QS: true}, {ID: "g", Phase: "A", Ingredient: "glycerin", Percent: 100000}}, Phases: []Phase{{Letter: "A"}}}},
			{KindBatchStarted, &BatchStarted{Key: "AAAAA", Code: "261112-B1", Formula: "FFFF0001", Revision: Ref{device(1), 1}, Mass: 1000000, Targets: []Target{{"w", 900000}, {"g", 100000}}, Day: 20261112}},
			{KindLotReceived, &LotReceived{Key: "LLLL0001", Ingredient: "glycerin", Mass: 1000000}},
			{KindBatchWeighed, &BatchWeighed{Batch: "AAAAA", Line: "g", Lot: "LLLL0001", Mass: 100000}},
			{KindPlaceNamed, &PlaceNamed{Key: "PPPP0001", Name: "crate", What: "crate", Inside: "stall"}},
			{KindBatchFilled, &BatchFilled{Batch: "AAAAA", Jars: 9, Keys: []JarRun{{"AAAAA", 9}}, Day: 20261112, Word: "jar"}},
			{KindJarsMinted, &JarsMinted{Batch: "AAAAA", Code: "261112-B1", Product: "x", Keys: []JarRun{{"AAAAA", 9}}, Place: "home"}},
			{KindBatchBarred, &BatchBarred{Batch: "AAAAA", State: Released, ForSale: true}},
		} {
			if seed%4 > 0 {
				write(kindTable[b.kind], b.body, 1)
			}
		}
		for range 60 {
			k := kinds[c.r.Intn(len(kinds))]
			if c.r.Intn(3) > 0 {
				k = kindTable[often[c.r.Intn(len(often))]]
			}
			of := corrected[k.Stream]
			c.kind = of[c.r.Intn(len(of))]
			b := k.blank()
			b.visit(c)
			write(k, b, byte(1+c.r.Intn(3)))
		}
		s := New()
		cut := c.r.Intn(len(all))
		apply(s, all[:cut]...)
		over := s.Overlay()
		apply(over, all[cut:]...)
		above := over.Digest() // before the base moves
		if apply(s, all[cut:]...); above != s.Digest() {
			t.Errorf("seed %d: cut at %d it adds up otherwise", seed, cut)
		}
		if again(t, s).Digest() != above {
			t.Errorf("seed %d: from its snapshot it adds up otherwise", seed)
		}
		ctx := Context{Device: device(1), Letter: "B", Role: Owner, Now: noon, Zone: 60}
		s.Clashes()
		s.Missing(ctx)
		for _, key := range []string{"AAAAA", "BBBBB", "FFFF0001", "LLLL0001", "JJJJ0001", "stall"} {
			s.PublicJars(key)
			s.UnprintedWords(key)
			code := key
			if key == "AAAAA" {
				code = "AAAAA02G"
			}
			args, err := json.Marshal(m{"key": key, "batch": key, "formula": key, "place": key, "ingredient": "glycerin", "lot": key, "code": code, "phase": "A", "line": "g", "way": "scale up", "other": "BBBBB"})
			if err != nil {
				t.Fatal(err)
			}
			for _, name := range []string{"today", "formulas", "formula", "challenges", "compare", "ingredient", "card", "class", "containers", "notebook", "waiting", "batches", "batch", "photos", "bench", "addition",
				"adjust", "nets", "topup", "cooling", "combining", "cost", "rescue", "cup", "moves", "tonight", "ageing", "agedbeside", "lots", "lot", "jar", "stall", "places", "attend", "printed", "habits", "workshop"} {
				v, no := s.View(ctx, name, args)
				if _, err := json.Marshal(v); err != nil {
					t.Errorf("seed %d, %s of %s: %v", seed, name, key, err)
				}
				if no != nil && (no.Says == "" || no.Code == "unknown view") {
					t.Errorf("seed %d, %s of %s is refused with %+v", seed, name, key, no)
				}
			}
		}
	}
}
