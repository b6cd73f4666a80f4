package book

import (
	"slices"

	"stillroom/sync"
)

// What the tables of a State hold. Slices are clipped or copied by clone, so that layers never share room to grow.

type headKey struct {
	stream string
	device sync.DeviceID
}

// head is how far a device's entries are known in a stream: seq folded at all, booked by way of the store.
type head struct{ seq, booked, missing uint64 }

func (h *head) clone() *head { c := *h; return &c }

// origin is who wrote an entry, when by that device's clock, and which number it has.
type origin struct {
	ref Ref
	at  int64
	// log is the entry's number in the store's log, 0 before it got there; seen is how far its writer had read that log;
	// time is at corrected by the clock offset that the store measured.
	log, seen uint64
	time      int64
	epoch     sync.Epoch // whose numbers seen is one of
}

// originOf is the origin of an entry that came in an envelope, or of an own pending one when env is nil.
func originOf(dev sync.DeviceID, env *sync.Envelope, e sync.Entry) origin {
	o := origin{ref: Ref{dev, e.Seq}, at: e.At, seen: e.Seen.Seq, time: e.At, epoch: e.Seen.Epoch}
	if env != nil {
		o.log, o.time = env.Seq, e.At-env.Offset
	}
	return o
}

type named struct {
	from origin
	body WorkshopNamed
}

func (n *named) clone() *named { c := *n; return &c }

type formula struct{ revs []revision }

func (f *formula) clone() *formula { return &formula{slices.Clip(f.revs)} }

type revision struct {
	from   origin
	number int
	parent Ref
	also   []RefItem
	body   []byte
}

// challenge is a typed report of a challenge test; now is the entry that took its place, none while it stands.
type challenge struct {
	from origin
	body FormulaChallenged
	now  Ref
}

func (c *challenge) clone() *challenge { d := *c; return &d }

type lot struct {
	from   origin
	body   LotReceived
	held   bool
	reason string
	heldBy Ref
	heldAt int64 // corrected time, ms since 1970
	used   int64
	into   []string // batches that it was weighed into, in the order in which they first were
}

func (l *lot) clone() *lot { c := *l; c.into = slices.Clip(l.into); return &c }

// lotIn is a lot in a batch: a lot of a busy year is in a thousand batches, so that how much is looked up by both.
type lotIn struct{ lot, batch string }

// use is how much of a lot went into a batch, in mg, and by how many weighings. None are left after corrections.
type use struct {
	mass int64
	rows int
}

func (u *use) clone() *use { c := *u; return &c }

type batch struct {
	from  origin
	body  BatchStarted
	rows  []row
	state string // making, resting, held, released, discarded
	why   string
	by    string
	set   Ref // entry that set the state
	fill  Ref
	// forSale: a trial that was released for sale on purpose
	forSale bool
}

func (b *batch) clone() *batch { c := *b; c.rows = slices.Clone(b.rows); return &c }

// row is one entry of a batch record. Its body stays in its bytes and is read when it is looked at.
type row struct {
	from   origin
	kind   uint32
	v      uint32
	body   []byte
	of     Ref // entry that this row takes the place of
	struck bool
	reason string
	now    Ref
	clash  string
}

type strays struct{ rows []row }

func (s *strays) clone() *strays { return &strays{slices.Clip(s.rows)} }

type minted struct {
	from origin
	now  Ref // entry that the body is of, another one after a correction
	body JarsMinted
}

func (m *minted) clone() *minted { c := *m; return &c }

type card struct {
	from origin
	body CardPublished
}

func (m *card) clone() *card { c := *m; return &c }

type bar struct {
	from origin
	body BatchBarred
}

func (m *bar) clone() *bar { c := *m; return &c }

type place struct {
	from origin
	body PlaceNamed
}

func (m *place) clone() *place { c := *m; return &c }

// text is a plain word behind a key: the batch that owns a jar key or a row, the letter of a device.
type text struct{ s string }

func (t *text) clone() *text { c := *t; return &c }

type deviceID = sync.DeviceID

type count struct{ n int }

func (t *count) clone() *count { c := *t; return &c }

type streamRef struct {
	stream string
	ref    Ref
}

// waiting is an entry held because of its device's role.
type waiting struct {
	entry sync.Entry
	from  origin
	done  bool
}

func (w *waiting) clone() *waiting { c := *w; return &c }

type kindV struct {
	stream  string
	kind, v uint32
}

// Clash is an entry that no longer fits what came before it: kept and shown, not applied.
type Clash struct {
	Stream string `json:"stream"`
	Entry  string `json:"entry"`
	Kind   string `json:"kind"`
	Says   string `json:"says"`
}

func (c *Clash) clone() *Clash { d := *c; return &d }

// gone is a device of the invented workshop that was removed, or a key that was its own.
type gone struct{ from origin }

func (g *gone) clone() *gone { c := *g; return &c }

type priced struct {
	from origin
	body Priced
}

func (p *priced) clone() *priced { c := *p; return &c }

// move is a row of the shelf's own record: a movement, a count or a sale.
type move struct{ row }

func (m *move) clone() *move { c := *m; return &c }

type streamDevice struct {
	stream string
	device sync.DeviceID
}
