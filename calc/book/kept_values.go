package book

import "stillroom/sync"

// The keep method of each value that a table holds, and of each key: see keeper. A field that is added to a value is
// added here, and Fold is raised.

func (x *headKey) keep(k *keeper) { k.word(&x.stream); k.device(&x.device) }

func (h *head) keep(k *keeper) { k.uint(&h.seq); k.step(&h.booked, h.seq); k.uint(&h.missing) }

func (n *named) keep(k *keeper)   { k.origin(&n.from); k.body(&n.body) }
func (c *chosen) keep(k *keeper)  { k.origin(&c.from); k.body(&c.body) }
func (d *defined) keep(k *keeper) { k.origin(&d.from); k.body(&d.body) }
func (c *container) keep(k *keeper) {
	k.origin(&c.from)
	k.body(&c.body)
}

func (f *formula) keep(k *keeper) {
	many(k, &f.revs, func(r *revision) { r.keep(k) })
	k.must(len(f.revs) > 0)
}

func (r *revision) keep(k *keeper) {
	k.origin(&r.from)
	k.small(&r.number)
	k.ref(&r.parent)
	many(k, &r.also, func(a *RefItem) { k.ref(&a.Ref) })
	k.bytes(&r.body)
}

func (c *challenge) keep(k *keeper) { k.origin(&c.from); k.body(&c.body); k.ref(&c.now) }

func (l *lot) keep(k *keeper) {
	k.origin(&l.from)
	k.body(&l.body)
	k.flag(&l.held)
	k.text(&l.reason)
	k.ref(&l.heldBy)
	k.int(&l.heldAt)
	k.int(&l.used)
	many(k, &l.into, k.word)
}

func (x *lotIn) keep(k *keeper) { k.word(&x.lot); k.word(&x.batch) }
func (u *use) keep(k *keeper)   { k.int(&u.mass); k.small(&u.rows) }

func (b *batch) keep(k *keeper) {
	k.origin(&b.from)
	k.body(&b.body)
	k.rows(&b.rows)
	k.word(&b.state)
	k.text(&b.why)
	k.word(&b.by)
	k.ref(&b.set)
	k.ref(&b.fill)
	k.flag(&b.forSale)
}

func (k *keeper) rows(p *[]row) { many(k, p, func(r *row) { r.keep(k) }) }

func (r *row) keep(k *keeper) {
	k.origin(&r.from)
	k.uint32(&r.kind)
	k.uint32(&r.v)
	k.bytes(&r.body)
	if !k.some(!r.plain()) {
		return
	}
	k.ref(&r.of)
	k.flag(&r.struck)
	k.text(&r.reason)
	k.ref(&r.now)
	k.word(&r.clash)
	k.must(!r.plain())
}

// plain is a row that stands as it was written.
func (r *row) plain() bool {
	return r.of.Seq == 0 && !r.struck && r.reason == "" && r.now.Seq == 0 && r.clash == ""
}

func (p *pictures) keep(k *keeper) { k.rows(&p.rows) }
func (s *strays) keep(k *keeper)   { k.rows(&s.rows) }

func (m *minted) keep(k *keeper) { k.origin(&m.from); k.ref(&m.now); k.body(&m.body) }
func (m *card) keep(k *keeper)   { k.origin(&m.from); k.body(&m.body) }
func (m *bar) keep(k *keeper)    { k.origin(&m.from); k.body(&m.body) }
func (m *place) keep(k *keeper)  { k.origin(&m.from); k.body(&m.body) }
func (p *priced) keep(k *keeper) { k.origin(&p.from); k.body(&p.body) }
func (t *text) keep(k *keeper)   { k.word(&t.s) }
func (m *move) keep(k *keeper)   { m.row.keep(k) }
func (g *gone) keep(k *keeper)   { k.origin(&g.from) }

func (x *streamDevice) keep(k *keeper) { k.word(&x.stream); k.device(&x.device) }
func (x *streamRef) keep(k *keeper)    { k.word(&x.stream); k.ref(&x.ref) }

func (w *waiting) keep(k *keeper) {
	k.origin(&w.from)
	var raw []byte
	if !k.reading {
		raw = w.entry.Append(nil)
	}
	k.bytes(&raw)
	if k.reading && k.err == nil {
		e, err := sync.ParseEntry(raw)
		if err != nil {
			k.fail(err)
		}
		w.entry = e
	}
	k.flag(&w.done)
}

func (x *kindV) keep(k *keeper) { k.word(&x.stream); k.uint32(&x.kind); k.uint32(&x.v) }
func (c *count) keep(k *keeper) { k.small(&c.n) }

func (c *Clash) keep(k *keeper) {
	k.word(&c.Stream)
	k.text(&c.Entry)
	k.word(&c.Kind)
	k.word(&c.Says)
}
