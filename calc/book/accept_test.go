package book

import (
	"strings"
	"testing"
)

// The owner's word is for all that waits, whoever wrote it and in whichever stream, once; no other role gives it.
func TestTheOwnerAcceptsWhatWaits(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	if v := view[WaitingView](w, "waiting", nil); v.Count != 0 || v.Says != "" {
		t.Fatalf("nothing was held: %+v", v)
	}
	for n, text := range []string{"first", "second"} {
		d, _ := draft(KindBatchNoted, &BatchNoted{Batch: b, Text: text})
		w.arrive(Workshop, device(3), entryOf(d, uint64(n+1)), true)
	}
	d, _ := draft(KindPriced, &Priced{Product: "rinse", Price: 450})
	w.arrive(Shelf, device(4), entryOf(d, 1), true)
	v := view[WaitingView](w, "waiting", nil)
	if v.Count != 3 || !v.Mine || !strings.Contains(v.Says, "2 × batch noted and 1 × priced") {
		t.Fatalf("%+v", v)
	}
	w.ctx.Role = Maker
	if v := view[WaitingView](w, "waiting", nil); v.Mine {
		t.Error("a maker may not give the owner's word")
	}
	if _, _, no := w.s.Decide(w.ctx, "waiting.accept", nil); no == nil || no.Code != "role" {
		t.Errorf("a maker's word: %+v", no)
	}
	w.ctx.Role = Owner
	w.do("waiting.accept", m{}, "")
	if v := view[WaitingView](w, "waiting", nil); v.Count != 0 {
		t.Errorf("after it: %+v", v)
	}
	if rows := view[BatchView](w, "batch", m{"key": b}).Rows; len(rows) != 2 {
		t.Errorf("%d rows", len(rows))
	}
	if drafts, _, no := w.s.Decide(w.ctx, "waiting.accept", nil); no != nil || len(drafts) != 0 {
		t.Errorf("a second word: %d entries, %+v", len(drafts), no)
	}
}
