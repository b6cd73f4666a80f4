package server

import (
	"testing"

	"stillroom/server/store"
	"stillroom/sync"
)

// A read that fails while the Link has nothing to send is told at once: a log that cannot be read must not look like
// one that ends.
func TestFailedReadEndsTheConnectionWithoutAnAction(t *testing.T) {
	s := start(t, Options{})
	c := newConn(s, nil)
	if !c.perform(c.link.Start(c.now())) {
		t.Fatal("it ended before anything happened")
	}
	c.src.failed = &store.Damaged{Stream: "workshop", First: 3, Last: 3, How: "cannot be read"}
	if c.perform(nil) {
		t.Fatal("the connection goes on as though the log ended there")
	}
	m, err := sync.ParseMessage(<-c.out)
	if r, ok := m.(sync.Refuse); err != nil || !ok || r.Code != sync.CodeDamaged {
		t.Fatalf("%+v %v", m, err)
	}
}
