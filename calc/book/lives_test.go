package book

import (
	"testing"

	"stillroom/sync"
)

// F20: a store was restored and moved on before its old end came back under other numbers. A count of that old end has
// seen nothing of what came meanwhile, although its number says so: a sale of that time stays to be taken off.
func TestF20CountOfAnEarlierLifeSawNothingOfTheNewOne(t *testing.T) {
	before, after := sync.Epoch{1}, sync.Epoch{2}
	at := func(log uint64, seen uint64, epoch sync.Epoch) origin {
		return origin{ref: Ref{device(1), log}, log: log, seen: seen, epoch: epoch}
	}
	for _, test := range []struct {
		name        string
		began, want uint64
	}{
		{"numbers kept: the new life begins behind", 20, 12},
		{"moved on after 10", 11, 10},
	} {
		s := New()
		body := StoreBegan{Backup: 5}.Body()
		env := sync.Envelope{Seq: test.began, Device: device(9)}
		s.Apply(Shelf, device(9), &env, sync.Entry{Seq: 1, Seen: sync.Seen{Epoch: after, Seq: test.began - 1}, Kind: KindStoreBegan, V: 1, Body: body})
		if s.UpdateNeeded() != 0 || len(s.Clashes()) != 0 {
			t.Fatalf("%s: not applied", test.name)
		}
		x := s.sumShelf()
		x.dates(at(3, 2, before))
		if got := x.sawOf(at(14, 12, before)); got != test.want {
			t.Errorf("%s: it saw %d, want %d", test.name, got, test.want)
		}
		if got := x.sawOf(at(30, 25, after)); got != 25 {
			t.Errorf("%s: an entry of the new life saw %d", test.name, got)
		}
		if over := s.Overlay(); over.sumShelf().epochs[after] != test.began {
			t.Errorf("%s: the overlay does not know it", test.name)
		}
	}
}
