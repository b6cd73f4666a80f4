package sync

import "fmt"

// Part is all that a phone keeps of one stream besides the envelopes themselves. A replica begins from parts and gives
// them back by Replica.Part.
type Part struct {
	Stream string
	Epoch  Epoch    // of the store that Down came from; zero when nothing was ever folded
	Down   Head     // of the store's log, on this phone's disk
	MAC    [32]byte // the store's mark on Down; zero when Down stands inside a batch
	Steps  []Head   // hashes of the store's log at multiples of StepEvery, by which two logs are compared
	Own    Head     // this device's own chain as far as it came back in envelopes up to Down
	Acked  uint64   // own entries that a store acknowledged; less than Own.Seq means as many as Own.Seq
	Mine   [][]byte // own entries on this phone's disk, dense; those up to Own.Seq may be left out and are passed over
}

// NewPart is the part of a stream of which nothing is known.
func NewPart(stream string, d DeviceID) Part {
	return Part{Stream: stream, Down: Head{Hash: RunningSeed(stream)}, Own: Head{Hash: ChainSeed(stream, d)}}
}

// Take adds the next kept envelope and gives it back as read. It is for a start that reads all envelopes: compare
// Down.Hash with the hash that was kept beside a chunk. The part is unchanged when the envelope does not fit.
func (p *Part) Take(d DeviceID, raw []byte) (Envelope, Entry, error) {
	v, err := ParseEnvelope(raw)
	if err != nil {
		return v, Entry{}, err
	}
	e, err := ParseEntry(v.Entry)
	if err != nil {
		return v, e, err
	}
	if v.Seq != p.Down.Seq+1 {
		return v, e, fmt.Errorf("number %d of %s stands where %d belongs", v.Seq, p.Stream, p.Down.Seq+1)
	}
	if v.Device == d {
		if e.Seq != p.Own.Seq+1 {
			return v, e, fmt.Errorf("this phone's own number %d in %s stands where %d belongs", e.Seq, p.Stream, p.Own.Seq+1)
		}
		p.Own = Head{e.Seq, p.Own.Hash.Next(v.Entry)}
	}
	p.Down, p.MAC = Head{v.Seq, p.Down.Hash.Next(raw)}, [32]byte{}
	p.step()
	return v, e, nil
}

// step keeps Down where it is a checkpoint.
func (p *Part) step() {
	if p.Down.Seq%StepEvery == 0 {
		p.Steps = append(p.Steps[:len(p.Steps):len(p.Steps)], p.Down)
	}
}
