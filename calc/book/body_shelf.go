package book

// JarsMinted names a batch's jars, all in one entry. Numbers follow from key and count by calc's rule for codes.
type JarsMinted struct {
	Batch   string
	Code    string // batch code
	Product string
	Keys    []JarRun
	Place   string
	Net     int64 // mg in each
	Made    int64 // day
	Best    int64 // day, 0 when not known
	Purpose string
	Word    string
	Part    string
	Demo    bool // of an invented workshop
	Of      Ref  // entry whose jars these take the place of, after a filling was corrected; zero for the first
}

func (b *JarsMinted) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("code", &b.Code, maxKey)
	v.text("product", &b.Product, maxName)
	list(v, "keys", &b.Keys, 200)
	v.text("place", &b.Place, maxKey)
	v.whole("net", &b.Net, 0, maxWhole)
	v.whole("made", &b.Made, 0, maxDay)
	v.whole("best", &b.Best, 0, maxDay)
	v.text("purpose", &b.Purpose, maxKey)
	v.text("word", &b.Word, maxKey)
	v.text("part", &b.Part, maxName)
	v.flag("demo", &b.Demo)
	v.ref("of", &b.Of)
}

// JarRun is a key and how many of its jar numbers, from the first, are jars of the batch.
type JarRun struct {
	Key   string
	Count int64
}

func (r *JarRun) visit(v visitor) {
	v.text("key", &r.Key, maxKey)
	v.whole("count", &r.Count, 0, maxJars)
}

// PlaceNamed names a place. Inside makes a crate: a place inside a place.
type PlaceNamed struct {
	Key, Name, What, Inside, Code string
	Demo                          bool // named by an invented workshop
}

func (b *PlaceNamed) visit(v visitor) {
	v.text("key", &b.Key, maxKey)
	v.text("name", &b.Name, maxName)
	v.text("what", &b.What, maxKey) // home, stall, crate, shop, sold, given, kept back, discarded
	v.text("inside", &b.Inside, maxKey)
	v.text("code", &b.Code, maxKey)
	v.flag("demo", &b.Demo)
}

// CardPublished is what anyone who opens a jar's link may read, and nothing more.
type CardPublished struct {
	Batch       string
	Code        string
	Product     string
	Ingredients string // ingredient list, INCI, from what went in
	Made        int64  // day
	Best        int64  // day
	Net         int64  // mg
	Cautions    []Caution
	Maker       string
	Address     string
	Contact     string
	AfterOpen   int64 // months, 0 when not said
}

func (b *CardPublished) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("code", &b.Code, maxKey)
	v.text("product", &b.Product, maxName)
	v.text("ingredients", &b.Ingredients, 8000)
	v.whole("made", &b.Made, 0, maxDay)
	v.whole("best", &b.Best, 0, maxDay)
	v.whole("net", &b.Net, 0, maxWhole)
	list(v, "cautions", &b.Cautions, 50)
	v.text("maker", &b.Maker, maxName)
	v.text("address", &b.Address, maxText)
	v.text("contact", &b.Contact, maxName)
	v.whole("afterOpen", &b.AfterOpen, 0, 1200)
}

// Caution is one sentence for the buyer.
type Caution struct{ Says string }

func (c *Caution) visit(v visitor) { v.text("says", &c.Says, maxText) }

// BatchBarred is the shelf's copy of a hold or of a release, so that a stall knows without seeing the workshop.
type BatchBarred struct {
	Batch  string
	Barred bool
	State  string // held, resting, released, discarded
	Reason string
	// ForSale lets a trial be sold; any other purpose needs no such word.
	ForSale bool
}

func (b *BatchBarred) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.flag("barred", &b.Barred)
	v.text("state", &b.State, maxKey)
	v.text("reason", &b.Reason, maxText)
	v.flag("forSale", &b.ForSale)
}
