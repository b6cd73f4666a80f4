package book

// JarMoved takes jars of a batch from one place to another. With codes it says which jars, else only how many.
type JarMoved struct {
	Batch, From, To string
	Count           int64
	Jars            []JarItem
	Reason          string
}

func (b *JarMoved) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("from", &b.From, maxKey)
	v.text("to", &b.To, maxKey)
	v.whole("count", &b.Count, 0, maxJars)
	list(v, "jars", &b.Jars, 1000)
	v.text("reason", &b.Reason, maxText)
}

// JarItem is a jar by its code.
type JarItem struct{ Code string }

func (j *JarItem) visit(v visitor) { v.text("code", &j.Code, maxKey) }

// JarCounted says "there were n here". Expected is what the writer's book said at that moment.
type JarCounted struct {
	Place, Batch    string
	Count, Expected int64
}

func (b *JarCounted) visit(v visitor) {
	v.text("place", &b.Place, maxKey)
	v.text("batch", &b.Batch, maxKey)
	v.whole("count", &b.Count, 0, maxJars)
	v.whole("expected", &b.Expected, -maxJars, maxJars)
}

// Sold is one sale, or a gift when Given. A tap on a table with two batches of a product names no batch.
type Sold struct {
	Place, Product string
	Batch          string // "" when the tap did not say
	Jar            string // "" when no code was read
	Count          int64
	Price          int64 // of one piece, minor units
	Given          bool
	Day            int64 // local day of the device
	// Among are the places at Place that what was sold may have stood at, crates mostly; none means Place itself.
	Among []AmongItem
}

// AmongItem is one place of several.
type AmongItem struct{ Place string }

func (i *AmongItem) visit(v visitor) { v.text("place", &i.Place, maxKey) }

func (b *Sold) visit(v visitor) {
	v.text("place", &b.Place, maxKey)
	v.text("product", &b.Product, maxName)
	v.text("batch", &b.Batch, maxKey)
	v.text("jar", &b.Jar, maxKey)
	v.whole("count", &b.Count, 0, maxJars)
	v.whole("price", &b.Price, 0, maxWhole)
	v.flag("given", &b.Given)
	v.whole("day", &b.Day, 0, maxDay)
	list(v, "among", &b.Among, 100)
}

// Priced is what one piece of a product costs from now on.
type Priced struct {
	Product string
	Price   int64  // minor units
	Money   string // ISO 4217 code, "" when not said
}

func (b *Priced) visit(v visitor) {
	v.text("product", &b.Product, maxName)
	v.whole("price", &b.Price, 0, maxWhole)
	v.text("money", &b.Money, 3)
}

// BatchLooked is the look on the day after filling; every word may be absent.
type BatchLooked struct {
	Batch  string
	Firm   string // softer, same, firmer, hard
	Colour string // paler, same, deeper
	Smell  string // good, faint, off
	Level  string // level, sunk, risen
	Top    string // dry, wet, drops
	PH     int64  // thousandths, 0 when not measured
	Note   string
	Day    int64 // local day
	// Appended: how the pH was read, and two words that only some products have.
	Method   string // strip, meter
	Dilution int64  // 0.0001 % of product in distilled water, 0 for neat
	Fluff    string // less, same, more
	Grit     string // sharp, softer, gone
}

func (b *BatchLooked) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("firm", &b.Firm, maxKey)
	v.text("colour", &b.Colour, maxKey)
	v.text("smell", &b.Smell, maxKey)
	v.text("level", &b.Level, maxKey)
	v.text("top", &b.Top, maxKey)
	v.whole("ph", &b.PH, 0, 14000)
	v.text("note", &b.Note, maxText)
	v.whole("day", &b.Day, 0, maxDay)
	v.text("method", &b.Method, maxKey)
	v.whole("dilution", &b.Dilution, 0, 1000000)
	v.text("fluff", &b.Fluff, maxKey)
	v.text("grit", &b.Grit, maxKey)
}

// DemoRemoved takes all that a device of the invented workshop wrote to a stream out of sight, for good.
type DemoRemoved struct{ Device string }

func (b *DemoRemoved) visit(v visitor) { v.text("device", &b.Device, maxKey) }

// StoreBegan is written by the home store itself, before the first entry of a new life after a restore: from here on its
// numbers are not those that phones of its life before had seen.
type StoreBegan struct {
	Backup int64 // when the backup was made, ms since 1970; 0 when that is not known
}

func (b *StoreBegan) visit(v visitor) { v.whole("backup", &b.Backup, 0, maxWhole) }

// Body gives the bytes; a time that a body cannot carry is written as not known.
func (b StoreBegan) Body() []byte {
	out, err := encode(&b)
	if err != nil {
		out, _ = encode(&StoreBegan{}) // nothing in it can be wrong
	}
	return out
}
