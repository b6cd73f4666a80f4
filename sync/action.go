package sync

// Action is one thing that the caller of a Link has to do. A list of them is carried out in order.
type Action interface{ action() }

// Send asks to write one message to the connection.
type Send struct{ Bytes []byte }

// Authenticate asks the store's host whether the token proves the device. The host answers by Authenticated or
// Rejected. Nothing is believed before that, and the device that the host answers for is the device: no payload says
// otherwise.
type Authenticate struct {
	Device DeviceID
	Token  []byte
	Schema uint32
	// Offset is the device's clock minus the store's in ms as measured by the hello, for the envelopes of this
	// connection; 0 when the device did not say its time.
	Offset int64
}

// Persist asks to put items on disk, after number After of a log, all or none. When they are there, the caller says
// Stored; before that nobody is told of them. On a phone the epoch is put on disk in the same stroke.
type Persist struct {
	Stream string
	Log    Log
	Epoch  Epoch // the store's, as welcomed
	After  uint64
	Items  [][]byte
	Hash   Hash     // after the last item
	MAC    [32]byte // Down only: the store's mark on that head
}

// Acked says that the store has this device's own entries up to Seq on its disk. The epoch is kept in the same stroke,
// or a later life of the store would look like this one with a loss.
type Acked struct {
	Stream string
	Seq    uint64
	Epoch  Epoch
}

// Fetch asks a phone's host for its envelopes After+1 to Through, which a restored store wants back. The host answers by
// Fetched.
type Fetch struct {
	Stream         string
	After, Through uint64
}

// Heal asks a store's host to take back what follows number After of its own log as it was in another life, proved by
// the store's own mark. The host answers by Healed or Fail. With Repair it is this same life: the store has lost its end,
// and what it has must be where that end begins.
type Heal struct {
	Stream string
	Epoch  Epoch // of the life that it comes from
	After  uint64
	Items  [][]byte
	Repair bool
}

// Swap asks a phone's host to put, in one stroke, Items in the place of everything after number Keep of the store's log,
// to let go of own pending entries that are in them, and to note Acked as what the store has of the own entries. Then the
// replica begins anew from the disk. Until it is done the phone's log stays as it was; every entry that goes is in the
// log that comes. When the disk holds more than Was, since a write of an earlier connection ended late, nothing is
// swapped: the replica begins anew and says what it really has.
type Swap struct {
	Stream string
	Epoch  Epoch
	Was    uint64 // the end of the log that is swapped
	Keep   uint64
	Items  [][]byte
	Hash   Hash // after the last item
	MAC    [32]byte
	Acked  uint64
}

// Welcomed says that the store let this device in.
type Welcomed struct {
	Store  string // its name, for people
	Role   string
	Letter string
	Schema uint32 // newest kinds that the store's book knows; 0 when it does not say
	// Offset is this device's clock minus the store's, ms.
	Offset int64
	// Streams are those that this device may hold. What it holds of others it keeps, and sends nothing of them.
	Streams []WelcomeStream
}

// Stop says that the connection is over and why. Everything on disk stays. Send what stands before it in the list, then
// close. After a Fatal one connecting again is of no use until a person has acted; after another one it is.
type Stop struct {
	Code  string
	Says  string
	Hint  string
	Fatal bool
}

func (Send) action()         {}
func (Authenticate) action() {}
func (Persist) action()      {}
func (Acked) action()        {}
func (Fetch) action()        {}
func (Heal) action()         {}
func (Swap) action()         {}
func (Welcomed) action()     {}
func (Stop) action()         {}
