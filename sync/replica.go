package sync

import (
	"fmt"
	"sort"
)

// Replica is a phone's whole memory of its streams, across connections: what it holds of the store's logs, and its own
// entries until they come back in envelopes. It has no I/O of its own; the caller carries out the actions, in order,
// and says Stored and Committed only of what is on disk. It is not safe for several goroutines at once.
type Replica struct {
	// Schema is the newest kinds that this phone's book knows; 0 says nothing. The store is told by the next hello.
	Schema uint32

	device  DeviceID
	streams map[string]*held
	link    *Link
	now     int64
}

// NewReplica begins from what the phone has on disk: nothing, or one part for each stream. The error names what does
// not fit; then nothing should be sent, and nothing thrown away.
func NewReplica(device DeviceID, parts ...Part) (*Replica, error) {
	r := &Replica{device: device, streams: map[string]*held{}}
	for _, p := range parts {
		if p.Stream == "" || len(p.Stream) > MaxName || r.streams[p.Stream] != nil {
			return nil, fmt.Errorf("stream %q is named twice or not at all", p.Stream)
		}
		h, err := hold(p, device)
		if err != nil {
			return nil, err
		}
		r.streams[p.Stream] = h
	}
	return r, nil
}

func (r *Replica) held(stream string) *held {
	h := r.streams[stream]
	if h == nil {
		h, _ = hold(NewPart(stream, r.device), r.device) // an empty part always fits
		r.streams[stream] = h
	}
	return h
}

// Write numbers an own entry and notes what was seen. It is neither pending nor offered to the store before Committed.
// at is this phone's clock in ms. A body above MaxBodyBytes is the caller's fault and panics before anything changed:
// the book's Decide refuses such a thing with a sentence.
func (r *Replica) Write(stream string, at int64, kind, v uint32, body []byte) Entry {
	if len(body) > MaxBodyBytes {
		panic(fmt.Sprintf("sync: an entry's body of %d bytes is above the limit of %d", len(body), MaxBodyBytes))
	}
	h := r.held(stream)
	e := Entry{Seq: h.last() + 1, Seen: Seen{h.part.Epoch, h.part.Down.Seq}, At: asClock(at), Kind: kind, V: v, Body: append([]byte(nil), body...)}
	h.add(e.Append(nil))
	return e
}

// Committed says that own entries up to seq are on disk.
func (r *Replica) Committed(now int64, stream string, seq uint64) []Action {
	h := r.held(stream)
	r.now = now
	h.committed = max(h.committed, min(seq, h.last()))
	if r.link == nil {
		return nil
	}
	r.link.now = now
	return r.after(r.link.Grew(stream, Up))
}

// Forget drops entries that were written and could not be committed. Their numbers are free again.
func (r *Replica) Forget() {
	for _, h := range r.streams {
		h.mine = h.mine[:h.committed-h.part.Own.Seq]
	}
}

// Pending gives the bytes of the own entries on disk that have not come back in an envelope, in order. They must not be
// changed.
func (r *Replica) Pending(stream string) [][]byte {
	h := r.streams[stream]
	if h == nil {
		return nil
	}
	var out [][]byte
	for _, w := range h.pending(h.part.Own.Seq) {
		out = append(out, w.bytes)
	}
	return out
}

// Unsent counts the own entries on disk, in all streams, that no store has acknowledged.
func (r *Replica) Unsent() int {
	n := 0
	for _, h := range r.streams {
		n += int(h.committed - min(h.committed, h.part.Acked))
	}
	return n
}

// Streams names what is held or was written to, sorted.
func (r *Replica) Streams() []string {
	var names []string
	for name := range r.streams {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// Part gives a stream's state as it is on disk.
func (r *Replica) Part(stream string) Part {
	h := r.streams[stream]
	if h == nil {
		return NewPart(stream, r.device)
	}
	p := h.part
	p.Mine = r.Pending(stream)
	return p
}

// Connect begins a connection; one that was there is Closed before. now is this phone's clock in ms.
func (r *Replica) Connect(now int64, token []byte) []Action {
	r.Closed()
	r.now = now
	cfg := PhoneConfig{Device: r.device, Token: token, Schema: r.Schema}
	for _, name := range r.Streams() {
		p := r.streams[name].part
		cfg.Streams = append(cfg.Streams, Known{Name: name, Epoch: p.Epoch, Acked: p.Acked, MAC: p.MAC, Steps: p.Steps})
	}
	r.link = Dial(cfg, replicaSource{r})
	return r.after(r.link.Start(now))
}

// Receive takes one message of the connection as it came.
func (r *Replica) Receive(now int64, msg []byte) []Action {
	if r.link == nil {
		return nil
	}
	r.now = now
	return r.after(r.link.Receive(now, msg))
}

// Stored says that what was asked to Persist is on disk up to seq. Only a store's log comes in here, so log is Down.
func (r *Replica) Stored(stream string, log Log, seq uint64) []Action {
	h := r.streams[stream]
	if h == nil || log != Down || !h.stored(r.device, seq) || r.link == nil {
		return nil
	}
	out := r.link.cameBack(stream, h.part.Own)
	return r.after(append(out, r.link.Stored(stream, Down, h.part.Down.Seq)...))
}

// Fetched is the answer to Fetch: the envelopes after number after, as they lie on this phone's disk.
func (r *Replica) Fetched(now int64, stream string, after uint64, items [][]byte) []Action {
	r.now = now
	if r.link == nil {
		return nil
	}
	r.link.now = now
	return r.after(r.link.Fetched(stream, after, items))
}

// Tick lets time pass; once a second is enough.
func (r *Replica) Tick(now int64) []Action {
	r.now = now
	if r.link == nil {
		return nil
	}
	return r.after(r.link.Tick(now))
}

// Fail ends the connection because the phone itself cannot go on, such as a full disk.
func (r *Replica) Fail(code, says, hint string) []Action {
	if r.link == nil {
		return nil
	}
	return r.link.Fail(code, says, hint)
}

// Closed says that the connection is gone. What was handed out to persist and is not Stored is handed out again by the
// next one.
func (r *Replica) Closed() {
	r.link = nil
	for _, h := range r.streams {
		h.queue = nil
	}
}

// after keeps the replica in step with what its link asks the caller to do.
func (r *Replica) after(todo []Action) []Action {
	for i, a := range todo {
		switch a := a.(type) {
		case Welcomed:
			for _, s := range a.Streams {
				// Another life's numbers mean something else until the log is brought together.
				if p := &r.held(s.Name).part; p.Epoch.IsZero() {
					p.Epoch = s.Epoch
				}
			}
		case Acked:
			h := r.held(a.Stream)
			h.part.Acked = max(h.part.Acked, a.Seq)
		case Persist:
			if bad, ok := r.held(a.Stream).take(r.device, a); !ok {
				return append(todo[:i:i], r.link.stop(bad)...)
			}
		case Swap:
			if bad, ok := r.held(a.Stream).fits(r.device, a); !ok {
				r.link.phase = open // what was decided is taken back
				return append(todo[:i:i], r.link.stop(bad)...)
			}
		}
	}
	return todo
}

// replicaSource is what the link may know: what is on disk.
type replicaSource struct{ r *Replica }

func (s replicaSource) Head(stream string, log Log) (uint64, Hash) {
	h := s.r.held(stream)
	if log == Down {
		return h.part.Down.Seq, h.part.Down.Hash
	}
	hash, _ := h.chainAt(h.committed)
	return h.committed, hash
}

func (s replicaSource) HashAt(stream string, log Log, seq uint64) (Hash, bool) {
	h := s.r.held(stream)
	if log == Up {
		hash, ok := h.chainAt(seq)
		return hash, ok && seq <= h.committed
	}
	return h.part.Down.Hash, seq == h.part.Down.Seq
}

func (s replicaSource) Read(stream string, log Log, after uint64, maxItems, maxBytes int) [][]byte {
	if log != Up {
		return nil
	}
	var out [][]byte
	for _, w := range s.r.held(stream).pending(after) {
		if maxBytes -= len(w.bytes); len(out) > 0 && (len(out) == maxItems || maxBytes < 0) {
			break
		}
		out = append(out, w.bytes)
	}
	return out
}
