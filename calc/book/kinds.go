package book

// Kinds are numbered once, never removed and never reused; what a kind says is its body, laid out in KINDS.md.
const (
	KindWorkshopNamed     uint32 = 1
	KindIngredientDefined uint32 = 2
	KindLotReceived       uint32 = 3
	KindLotCounted        uint32 = 4
	KindLotHeld           uint32 = 5
	KindContainerDefined  uint32 = 6
	KindFormulaSaved      uint32 = 8
	KindFormulaChallenged uint32 = 9
	KindBatchStarted      uint32 = 16
	KindBatchWeighed      uint32 = 17
	KindBatchRead         uint32 = 18
	KindBatchTreated      uint32 = 19
	KindBatchWore         uint32 = 20
	KindBatchNoted        uint32 = 21
	KindBatchSplit        uint32 = 22
	KindBatchFilled       uint32 = 23
	KindBatchState        uint32 = 24
	KindBatchLooked       uint32 = 25
	KindBatchAged         uint32 = 26
	KindCorrected         uint32 = 30
	KindAccepted          uint32 = 31
	KindDemoRemoved       uint32 = 32
	KindPhotoKept         uint32 = 33
	KindWorkshopChosen    uint32 = 40

	KindJarsMinted     uint32 = 64
	KindJarMoved       uint32 = 65
	KindPlaceNamed     uint32 = 66
	KindCardPublished  uint32 = 67
	KindBatchBarred    uint32 = 68
	KindJarCounted     uint32 = 69
	KindSold           uint32 = 70
	KindPriced         uint32 = 71
	KindShelfDemoGone  uint32 = 72
	KindStoreBegan     uint32 = 73
	KindShelfCorrected uint32 = 78
	KindShelfAccepted  uint32 = 79
)

// Roles of a device.
const (
	Owner = "owner"
	Maker = "maker"
	Stall = "stall"
)

// Kind is one row of the table of kinds. V 0 marks a kind whose number is taken and whose body comes later.
type Kind struct {
	Number uint32
	Name   string
	Stream string
	V      uint32
	// Writes names the roles whose entries of this kind apply at once; those of others are held until the owner accepts.
	Writes []string
	blank  func() visitable
}

var (
	ownerOnly = []string{Owner}
	makers    = []string{Owner, Maker}
	everyone  = []string{Owner, Maker, Stall}
)

// Kinds answers the table, in the order of its numbers. The slice is the caller's own.
func Kinds() []Kind {
	return []Kind{
		{KindWorkshopNamed, "workshop.named", Workshop, 1, ownerOnly, func() visitable { return new(WorkshopNamed) }},
		{KindIngredientDefined, "ingredient.defined", Workshop, 1, makers, func() visitable { return new(IngredientDefined) }},
		{KindLotReceived, "lot.received", Workshop, 1, makers, func() visitable { return new(LotReceived) }},
		{KindLotCounted, "lot.counted", Workshop, 0, makers, nil},
		{KindLotHeld, "lot.held", Workshop, 1, makers, func() visitable { return new(LotHeld) }},
		{KindContainerDefined, "container.defined", Workshop, 1, makers, func() visitable { return new(ContainerDefined) }},
		{KindFormulaSaved, "formula.saved", Workshop, 1, makers, func() visitable { return new(FormulaSaved) }},
		{KindFormulaChallenged, "formula.challenged", Workshop, 1, makers, func() visitable { return new(FormulaChallenged) }},
		{KindBatchStarted, "batch.started", Workshop, 1, makers, func() visitable { return new(BatchStarted) }},
		{KindBatchWeighed, "batch.weighed", Workshop, 1, makers, func() visitable { return new(BatchWeighed) }},
		{KindBatchRead, "batch.read", Workshop, 1, makers, func() visitable { return new(BatchRead) }},
		{KindBatchTreated, "batch.treated", Workshop, 1, makers, func() visitable { return new(BatchTreated) }},
		{KindBatchWore, "batch.wore", Workshop, 1, makers, func() visitable { return new(BatchWore) }},
		{KindBatchNoted, "batch.noted", Workshop, 1, makers, func() visitable { return new(BatchNoted) }},
		{KindBatchSplit, "batch.split", Workshop, 0, makers, nil},
		{KindBatchFilled, "batch.filled", Workshop, 1, makers, func() visitable { return new(BatchFilled) }},
		{KindBatchState, "batch.state", Workshop, 1, makers, func() visitable { return new(BatchState) }},
		{KindBatchLooked, "batch.looked", Workshop, 1, makers, func() visitable { return new(BatchLooked) }},
		{KindBatchAged, "batch.aged", Workshop, 1, makers, func() visitable { return new(BatchAged) }},
		{KindCorrected, "corrected", Workshop, 1, makers, func() visitable { return new(Corrected) }},
		{KindAccepted, "accepted", Workshop, 1, ownerOnly, func() visitable { return new(Accepted) }},
		{KindDemoRemoved, "demo.removed", Workshop, 1, ownerOnly, func() visitable { return new(DemoRemoved) }},
		{KindPhotoKept, "photo.kept", Workshop, 1, makers, func() visitable { return new(PhotoKept) }},
		{KindWorkshopChosen, "workshop.chosen", Workshop, 1, ownerOnly, func() visitable { return new(WorkshopChosen) }},
		{KindJarsMinted, "jars.minted", Shelf, 1, makers, func() visitable { return new(JarsMinted) }},
		{KindJarMoved, "jar.moved", Shelf, 1, everyone, func() visitable { return new(JarMoved) }},
		{KindPlaceNamed, "place.named", Shelf, 1, makers, func() visitable { return new(PlaceNamed) }},
		{KindCardPublished, "card.published", Shelf, 1, makers, func() visitable { return new(CardPublished) }},
		{KindBatchBarred, "batch.barred", Shelf, 1, makers, func() visitable { return new(BatchBarred) }},
		{KindJarCounted, "jar.counted", Shelf, 1, everyone, func() visitable { return new(JarCounted) }},
		{KindSold, "sold", Shelf, 1, everyone, func() visitable { return new(Sold) }},
		{KindPriced, "priced", Shelf, 1, makers, func() visitable { return new(Priced) }},
		{KindShelfDemoGone, "shelf.demo.removed", Shelf, 1, ownerOnly, func() visitable { return new(DemoRemoved) }},
		{KindStoreBegan, "store.began", Shelf, 1, nil, func() visitable { return new(StoreBegan) }},
		// Only sales, movements and counts can be corrected on the shelf, so a stall's correction touches no price.
		{KindShelfCorrected, "shelf.corrected", Shelf, 1, everyone, func() visitable { return new(Corrected) }},
		{KindShelfAccepted, "shelf.accepted", Shelf, 1, ownerOnly, func() visitable { return new(Accepted) }},
	}
}

var kindTable = func() map[uint32]Kind {
	m := map[uint32]Kind{}
	for _, k := range Kinds() {
		m[k.Number] = k
	}
	return m
}()

// KindOf answers the row of a kind, false when the number is not known here.
func KindOf(kind uint32) (Kind, bool) { k, ok := kindTable[kind]; return k, ok }

// Schema is the number of the set of kinds that this program knows: it grows by one whenever a kind or a version of one is
// added, and never shrinks, since none is removed.
func Schema() uint32 {
	var n uint32
	for _, k := range Kinds() {
		n += k.V
	}
	return n
}

// MayWrite says whether an entry of this kind by this role applies at once. An unknown kind of an owner or a maker does,
// once a program knows it; that of a stall is held, since only a later program can judge it and a stall may write so
// little. An unknown role writes nothing.
func MayWrite(role string, kind uint32) bool {
	k, known := kindTable[kind]
	if !known {
		return role == Owner || role == Maker
	}
	for _, r := range k.Writes {
		if r == role {
			return true
		}
	}
	return false
}

// Reads names the streams that a role is sent, whole. A stall device never sees the workshop.
func Reads(role string) []string {
	switch role {
	case Owner, Maker:
		return []string{Workshop, Shelf}
	case Stall:
		return []string{Shelf}
	}
	return nil
}

// blank answers an empty body of a kind and version, nil when either is not known here.
func blank(kind, v uint32) visitable {
	k, ok := kindTable[kind]
	if !ok || k.blank == nil || v == 0 || v > k.V {
		return nil
	}
	return k.blank()
}

// open decodes a body.
func open(kind, v uint32, body []byte) (visitable, error) {
	b := blank(kind, v)
	if b == nil {
		return nil, errKind
	}
	if err := decode(v, body, b); err != nil {
		return nil, err
	}
	return b, nil
}
