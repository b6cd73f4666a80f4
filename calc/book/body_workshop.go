package book

// WorkshopNamed says who makes here. Demo marks a book that holds the invented workshop.
type WorkshopNamed struct {
	Maker, Address, Contact, Region string
	Demo                            bool
	Money                           string // ISO 4217 code of what costs are in
}

func (b *WorkshopNamed) visit(v visitor) {
	v.text("maker", &b.Maker, maxName)
	v.text("address", &b.Address, maxText)
	v.text("contact", &b.Contact, maxName)
	v.text("region", &b.Region, maxName)
	v.flag("demo", &b.Demo)
	v.text("money", &b.Money, 3)
}

// LotReceived is one delivery of an ingredient, of containers, or of a base that was made here.
type LotReceived struct {
	Key         string // 8 Crockford characters
	Ingredient  string // key of an ingredient, of a formula for a made base, or of a container
	Code        string // what is written on the tub
	Supplier    string
	SupplierLot string
	Mass        int64  // mg; 0 for what is counted
	Expiry      int64  // day, 0 when none is stated
	Cost        int64  // minor units of money for the whole lot
	Received    int64  // day
	SourceBatch string // key of the batch that a made base came from
	SourcePart  string // the part of that batch
	Count       int64  // pieces, for containers
	What        string // "" ingredient, "base", "container"
	Opened      int64  // day, 0 when sealed
	Text        string // mass as typed
}

func (b *LotReceived) visit(v visitor) {
	v.text("key", &b.Key, maxKey)
	v.text("ingredient", &b.Ingredient, maxKey)
	v.text("code", &b.Code, maxName)
	v.text("supplier", &b.Supplier, maxName)
	v.text("supplierLot", &b.SupplierLot, maxName)
	v.whole("mass", &b.Mass, 0, maxWhole)
	v.whole("expiry", &b.Expiry, 0, maxDay)
	v.whole("cost", &b.Cost, 0, maxWhole)
	v.whole("received", &b.Received, 0, maxDay)
	v.text("sourceBatch", &b.SourceBatch, maxKey)
	v.text("sourcePart", &b.SourcePart, maxKey)
	v.whole("count", &b.Count, 0, maxWhole)
	v.text("what", &b.What, maxKey)
	v.whole("opened", &b.Opened, 0, maxDay)
	v.text("text", &b.Text, maxKey)
}

// LotHeld holds a lot or lets it go again.
type LotHeld struct {
	Lot    string
	Held   bool
	Reason string
}

func (b *LotHeld) visit(v visitor) {
	v.text("lot", &b.Lot, maxKey)
	v.flag("held", &b.Held)
	v.text("reason", &b.Reason, maxText)
}

// Corrected puts Body, of Kind and version V, in the place of what the entry Of said.
type Corrected struct {
	Of     Ref
	Reason string
	Kind   int64
	V      int64
	Body   []byte
}

func (b *Corrected) visit(v visitor) {
	v.ref("of", &b.Of)
	v.text("reason", &b.Reason, maxText)
	v.whole("kind", &b.Kind, 0, 1<<32-1)
	v.whole("v", &b.V, 0, 1<<32-1)
	v.nested("body", b.Kind, b.V, &b.Body)
}

// Accepted lets an entry apply that was held because of its device's role.
type Accepted struct {
	Entry  Ref
	Reason string
}

func (b *Accepted) visit(v visitor) {
	v.ref("entry", &b.Entry)
	v.text("reason", &b.Reason, maxText)
}
