// Package rescue reads the file that a phone's rescue page saves, and takes what is in it into a book: the phone's copy of
// the store's log as far as the store's own mark proves it, and what the phone wrote and had not sent.
//
// The file is lines of JSON. The first is {"stillroom": "rescue 1", "device", "saved"}; each other is one row of the
// phone's own storage, {"kept", "key", "value"}, with bytes in base64: what the phone knows of itself, chunks of envelopes,
// pending entries, photos that are not sent, drafts.
package rescue

import (
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/sync"
)

// Done is what was taken in of a file.
type Done struct {
	Device string
	// Back are entries that the store's own mark proves and that were not there; Sent are the phone's own ones that it
	// had not sent; Held of those wait for the owner, since their phone is not on the list.
	Back, Sent, Held, Photos int
	// Has are, by stream, the numbers of the phone's own rows in the file that stand in the book byte for byte by now.
	Has map[string][]uint64
	// Left says what was not taken in, a sentence each. It is still in the file.
	Left []string
}

type row struct {
	Stillroom string          `json:"stillroom"`
	Device    string          `json:"device"`
	Saved     string          `json:"saved"`
	Kept      string          `json:"kept"`
	Key       json.RawMessage `json:"key"`
	Value     json.RawMessage `json:"value"`
}

type chunk struct {
	Stream string `json:"stream"`
	Epoch  string `json:"epoch"`
	From   uint64 `json:"from"`
	To     uint64 `json:"to"`
	Hash   string `json:"hash"`
	MAC    string `json:"mac"`
	Bytes  []byte `json:"bytes"`
}

type pending struct {
	Stream string `json:"stream"`
	Seq    uint64 `json:"seq"`
	Bytes  []byte `json:"bytes"`
	// Sum is the phone's own over Bytes (sync.RowSum); "" in a row of an earlier version.
	Sum string `json:"sum"`
}

// Bad: a file that no phone saved.
type Bad struct {
	Why string
	// Err is what ended the reading, nil when it was read and made no sense.
	Err error
}

func (e *Bad) Unwrap() error { return e.Err }

func (e *Bad) Error() string { return "this is not a file of a phone's rescue page: " + e.Why }

// Hint is the next step.
func (e *Bad) Hint() string { return "nothing was changed; save it again from the phone" }

// own is what the phone keeps of itself. Proof is the SHA-256 of its token in hexadecimal, as a table of devices has it; the
// token is in no file.
type own struct {
	Letter string `json:"letter"`
	Role   string `json:"role"`
	Proof  string `json:"proof"`
}

type file struct {
	device  sync.DeviceID
	name    string
	saved   time.Time
	own     own
	chunks  map[string][]chunk
	pending map[string][]pending
	photos  map[string][]byte
	// aside counts what the phone had put aside: pieces that it could not read, rows of an earlier name that no book takes.
	aside int
	// earlier are the names that the phone had before, with the rows that it handed over under them.
	earlier []*file
}

func read(in io.Reader) (file, error) {
	f := file{chunks: map[string][]chunk{}, pending: map[string][]pending{}, photos: map[string][]byte{}}
	lines := bufio.NewReader(in)
	for n := 1; ; n++ {
		line, err := lines.ReadBytes('\n')
		if len(bytes.TrimSpace(line)) == 0 && errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return f, &Bad{fmt.Sprintf("line %d is cut off", n), err}
		}
		var r row
		if err := json.Unmarshal(line, &r); err != nil {
			return f, &Bad{Why: fmt.Sprintf("line %d cannot be read", n)}
		}
		if n == 1 {
			if f.device, err = sync.ParseDeviceID(r.Device); r.Stillroom != "rescue 1" || err != nil {
				return f, &Bad{Why: "it does not begin as one"}
			}
			f.name = r.Device
			f.saved, _ = time.Parse(time.RFC3339, r.Saved)
			continue
		}
		if err := f.take(r); err != nil {
			return f, &Bad{Why: fmt.Sprintf("line %d: %v", n, err)}
		}
	}
	if f.name == "" {
		return f, &Bad{Why: "it is empty"}
	}
	return f, nil
}

func (f *file) take(r row) error {
	switch r.Kept {
	case "meta":
		var key string
		if json.Unmarshal(r.Key, &key) == nil && key == "device" {
			return json.Unmarshal(r.Value, &f.own)
		}
	case "chunks":
		var c chunk
		err := json.Unmarshal(r.Value, &c)
		f.chunks[c.Stream] = append(f.chunks[c.Stream], c)
		return err
	case "pending":
		var p pending
		err := json.Unmarshal(r.Value, &p)
		f.pending[p.Stream] = append(f.pending[p.Stream], p)
		return err
	case "aside":
		return f.takeAside(r)
	case "photos":
		var name string
		var data []byte
		if err := errors.Join(json.Unmarshal(r.Key, &name), json.Unmarshal(r.Value, &data)); err != nil {
			return err
		}
		if !book.IsPhotoName(name) {
			return fmt.Errorf("%.80q is not the name of a photo", name)
		}
		f.photos[name] = data
	}
	return nil // drafts and what a later phone keeps: for reading
}

// takeAside takes what the phone had put aside. Rows that it handed over under an earlier name stand there until they come
// back in its copy of the log: a home store that was lost meanwhile may have been the only other one that had them.
func (f *file) takeAside(r row) error {
	var key []any
	var handed struct {
		pending
		Device string `json:"device"`
	}
	if json.Unmarshal(r.Key, &key) != nil || len(key) == 0 || key[0] != "handed" {
		f.aside++
		return nil
	}
	if err := json.Unmarshal(r.Value, &handed); err != nil {
		return err
	}
	id, err := sync.ParseDeviceID(handed.Device)
	if err != nil {
		return err
	}
	for _, was := range f.earlier {
		if was.device == id {
			was.pending[handed.Stream] = append(was.pending[handed.Stream], handed.pending)
			return nil
		}
	}
	f.earlier = append(f.earlier, &file{device: id, name: handed.Device, pending: map[string][]pending{handed.Stream: {handed.pending}}})
	return nil
}

// log is the phone's copy of a stream's log as far as it is dense, how many of it this store's own mark proves, and the life
// that the mark is of.
func (f *file) log(stream string, key []byte) (all [][]byte, proved int, epoch sync.Epoch) {
	chunks := f.chunks[stream]
	slices.SortFunc(chunks, func(a, b chunk) int { return int(a.From) - int(b.From) })
	at := store.Head{Hash: sync.RunningSeed(stream)}
	for _, c := range chunks {
		items, ok := split(c.Bytes)
		if !ok || c.From > at.Seq+1 {
			break
		}
		for i, raw := range items {
			v, err := sync.ParseEnvelope(raw)
			if c.From+uint64(i) != at.Seq+1 {
				continue // under two chunks
			}
			if err != nil || v.Seq != at.Seq+1 {
				return all, proved, epoch
			}
			all, at = append(all, raw), store.Head{Seq: v.Seq, Hash: at.Hash.Next(raw)}
		}
		var e sync.Epoch
		name, err := hex.DecodeString(c.Epoch)
		if copy(e[:], name); err != nil || at.Seq != c.To {
			continue
		}
		mac := sync.HeadMAC(key, e, stream, at.Seq, at.Hash)
		if hex.EncodeToString(mac[:]) == c.MAC {
			proved, epoch = len(all), e
		}
	}
	return all, proved, epoch
}

// split reads a list of byte strings as the phone keeps them: each after its length as 4 bytes, little end first.
func split(raw []byte) (items [][]byte, ok bool) {
	for len(raw) > 0 {
		if len(raw) < 4 {
			return nil, false
		}
		n := int(binary.LittleEndian.Uint32(raw))
		if n > len(raw)-4 {
			return nil, false
		}
		items, raw = append(items, raw[4:4+n]), raw[4+n:]
	}
	return items, true
}

// Into takes a file into a book. What is there already stays as it is, so that the same file may be given again. The
// error is one of the file, before anything is taken in, or of the disk, and then Done says what was; what does not fit this
// book is told in Done.Left.
func Into(ctx context.Context, f *folder.Folder, in io.Reader, now int64) (Done, error) {
	from, err := read(in)
	if err != nil {
		return Done{}, err
	}
	d := Done{Device: from.name}
	for _, stream := range []string{book.Workshop, book.Shelf} {
		if err := d.back(ctx, f.Store, stream, &from); err != nil {
			return d, err
		}
	}
	for _, of := range append([]*file{&from}, from.earlier...) {
		role := ""
		if known, ok := listed(f.Devices, of.device); ok && known.Revoked == "" {
			role = known.Role
		}
		if err := d.unsent(ctx, f.Store, of, role, now); err != nil {
			return d, err
		}
	}
	if from.aside > 0 {
		d.Left = append(d.Left, fmt.Sprintf("What the phone had put aside, since no book can take it (%d).", from.aside))
	}
	return d, d.pictures(f.Photos, from.photos)
}

// listed finds a device in the table, also one that was taken off the list.
func listed(devices *folder.Devices, id sync.DeviceID) (folder.Device, bool) {
	for _, known := range devices.All() {
		if known.ID == id {
			return known, true
		}
	}
	return folder.Device{}, false
}

// pictures takes in the photos. One that the disk fails at keeps none of the others out; what failed is told at the end.
func (d *Done) pictures(to *folder.Photos, photos map[string][]byte) (failed error) {
	for _, name := range slices.Sorted(maps.Keys(photos)) {
		took, err := takePhoto(to, name, photos[name])
		switch {
		case errors.Is(err, folder.ErrAltered):
			d.Left = append(d.Left, "A photo does not match its name.")
		case err != nil:
			failed = errors.Join(failed, fmt.Errorf("the photo %s was not taken in: %w", name[:8], err))
		case took:
			d.Photos++
		}
	}
	return failed
}

// takePhoto goes on where the phone's own sending broke off. What had come then may be spoiled: it is let go when the whole
// does not match its name, and the photo is taken once more from its first byte.
func takePhoto(to *folder.Photos, name string, data []byte) (took bool, err error) {
	have, whole, err := to.Held(name)
	if err != nil || whole {
		return false, err
	}
	all := int64(len(data))
	_, err = to.Append(name, have, all, bytes.NewReader(data[min(have, all):]))
	if have > 0 && errors.Is(err, folder.ErrAltered) {
		_, err = to.Append(name, 0, int64(len(data)), bytes.NewReader(data))
	}
	return err == nil, err
}

// back takes in what the store's mark proves.
func (d *Done) back(ctx context.Context, s store.Store, stream string, from *file) error {
	log, proved, epoch := from.log(stream, s.Key())
	if unproved := len(log) - proved; unproved > 0 {
		d.Left = append(d.Left, fmt.Sprintf("%d entries of %s in the phone's copy of the book bear no mark of this book.", unproved, stream))
	}
	err := d.proved(ctx, s, stream, log[:proved], epoch)
	if forked := new(store.Fork); errors.As(err, &forked) {
		d.Left = append(d.Left, fmt.Sprintf("The phone's copy of %s and this book are two histories: %v.", stream, err))
		return nil
	}
	return err
}

// proved takes back a log that the store's mark of an epoch proves.
func (d *Done) proved(ctx context.Context, s store.Store, stream string, log [][]byte, epoch sync.Epoch) error {
	if len(log) == 0 {
		return nil
	}
	_, added, err := store.TakeBack(ctx, s, stream, 0, log, epoch == s.Epoch())
	d.Back += added
	return err
}

// unsent takes in what was written under one name, of both streams.
func (d *Done) unsent(ctx context.Context, s store.Store, of *file, role string, now int64) error {
	for _, stream := range []string{book.Workshop, book.Shelf} {
		if err := d.sent(ctx, s, stream, of, role, now); err != nil {
			return err
		}
	}
	return nil
}

// sent takes in what the phone wrote and no store had given back.
func (d *Done) sent(ctx context.Context, s store.Store, stream string, from *file, role string, now int64) error {
	rows := from.pending[stream]
	slices.SortFunc(rows, func(a, b pending) int { return int(a.Seq) - int(b.Seq) })
	meta := store.Meta{At: now, Held: func(e sync.Entry) bool { return role == "" || !book.MayWrite(role, e.Kind) }}
	for i, r := range rows {
		if r.Sum != "" && r.Sum != sync.RowSum(r.Bytes) {
			d.Left = append(d.Left, fmt.Sprintf("%d entries of %s that the phone had not sent: number %d went bad on it.", len(rows)-i, stream, r.Seq))
			return nil
		}
		before := s.DeviceHead(stream, from.device).Seq
		_, err := s.Append(ctx, stream, from.device, r.Seq-1, [][]byte{r.Bytes}, meta)
		gap, fork, bad := new(store.Gap), new(store.Fork), new(store.Malformed)
		if errors.As(err, &gap) || errors.As(err, &fork) || errors.As(err, &bad) {
			d.Left = append(d.Left, fmt.Sprintf("%d entries of %s that the phone had not sent: %v.", len(rows)-i, stream, err))
			return nil
		} else if err != nil {
			return err
		}
		if d.Has == nil {
			d.Has = map[string][]uint64{}
		}
		d.Has[stream] = append(d.Has[stream], r.Seq)
		if s.DeviceHead(stream, from.device).Seq > before {
			d.Sent++
			if e, err := sync.ParseEntry(r.Bytes); err == nil && meta.Held(e) {
				d.Held++
			}
		}
	}
	return nil
}
