package book

// IngredientDefined is the maker's own word on an ingredient: a new one, or own figures over those of the given list.
// A figure that is 0 or "" is not said, and what the given list has of it stays.
type IngredientDefined struct {
	Key          string // 8 Crockford characters, or a key of the given list
	Name         string
	INCI         string
	Composition  []Part // sums to exactly 100 %, or is empty
	Charge       string // anionic, cationic, amphoteric, non-ionic, none
	Soluble      string // water, oil, both, neither
	PHLow        int64  // hundredths of a point
	PHHigh       int64
	UseLow       int64 // 0.0001 %
	UseHigh      int64
	Density      int64  // mg/mL
	Highest      string // highest temperature at which it may be added, as typed
	HighestMilli int64  // the same in m°C
	Airborne     bool   // a powder that flies
	Corrosive    bool
	Source       string // "" for the maker's own entry, else the document that it was read from
	Keeps        bool   // a preservative
	WorksLow     int64  // pH at which a preservative works, hundredths of a point
	WorksHigh    int64
	Counts       []CountsAs // what it counts as beside what it is called
	// What the supplier's certificate of a scent says. Scheme "" and no maxima: none was written down.
	Scheme       string        // whose categories they are
	Amendment    int64         // 0 when it was not said
	Certified    int64         // day of the certificate, 0 when it was not said
	Maxima       []CategoryMax // the most of it in a product, by category
	Flash        string        // flash point as typed
	FlashMilli   int64         // the same in m°C
	Allergens    []AllergenShare
	VanillinSaid bool  // so that none at all is a figure
	Vanillin     int64 // vanillin and ethyl vanillin, 0.0001 % of the scent
}

func (b *IngredientDefined) visit(v visitor) {
	v.text("key", &b.Key, maxKey)
	v.text("name", &b.Name, maxName)
	v.text("inci", &b.INCI, maxName)
	list(v, "composition", &b.Composition, 100)
	v.text("charge", &b.Charge, maxKey)
	v.text("soluble", &b.Soluble, maxKey)
	v.whole("phLow", &b.PHLow, 0, 1400)
	v.whole("phHigh", &b.PHHigh, 0, 1400)
	v.whole("useLow", &b.UseLow, 0, 1000000)
	v.whole("useHigh", &b.UseHigh, 0, 1000000)
	v.whole("density", &b.Density, 0, 25000)
	v.text("highest", &b.Highest, maxKey)
	v.whole("highestMilli", &b.HighestMilli, -273150, maxMilliC)
	v.flag("airborne", &b.Airborne)
	v.flag("corrosive", &b.Corrosive)
	v.text("source", &b.Source, maxName)
	v.flag("keeps", &b.Keeps)
	v.whole("worksLow", &b.WorksLow, 0, 1400)
	v.whole("worksHigh", &b.WorksHigh, 0, 1400)
	list(v, "counts", &b.Counts, 12)
	v.text("scheme", &b.Scheme, maxKey)
	v.whole("amendment", &b.Amendment, 0, 9999)
	v.whole("certified", &b.Certified, 0, 99991231)
	list(v, "maxima", &b.Maxima, 40)
	v.text("flash", &b.Flash, maxKey)
	v.whole("flashMilli", &b.FlashMilli, -273150, maxMilliC)
	list(v, "allergens", &b.Allergens, 100)
	v.flag("vanillinSaid", &b.VanillinSaid)
	v.whole("vanillin", &b.Vanillin, 0, 1000000)
}

// CategoryMax is the most of a scent in a finished product of one category, in 0.0001 %.
type CategoryMax struct {
	Category string
	Percent  int64
}

func (c *CategoryMax) visit(v visitor) {
	v.text("category", &c.Category, maxKey)
	v.whole("percent", &c.Percent, 0, 1000000)
}

// AllergenShare is how much of an allergen is in a scent, in 0.0001 %.
type AllergenShare struct {
	INCI    string
	Percent int64
}

func (a *AllergenShare) visit(v visitor) {
	v.text("inci", &a.INCI, maxName)
	v.whole("percent", &a.Percent, 0, 1000000)
}

// CountsAs is one word of what an ingredient counts as: water, plant powder, food for microbes, nut-derived, plastic, colour.
type CountsAs struct{ As string }

func (c *CountsAs) visit(v visitor) { v.text("as", &c.As, maxKey) }

// Part is the share of one substance in an ingredient as supplied, in 0.0001 %.
type Part struct {
	INCI    string
	Percent int64
	Listed  string // yes, no, or "" when not known, which counts as listed
}

func (p *Part) visit(v visitor) {
	v.text("inci", &p.INCI, maxName)
	v.whole("percent", &p.Percent, 0, 1000000)
	v.text("listed", &p.Listed, maxKey)
}

// ContainerDefined is a jar, bottle, tin, tube, mould or pouch that products are filled into. What is on hand are lots.
type ContainerDefined struct {
	Key         string // 8 Crockford characters
	Name        string
	Word        string // what one is called: jar, bottle, tin, tube, bar, pouch
	Brim        int64  // microlitres to the brim, 0 when not known
	Tare        int64  // mg, 0 when not known
	Material    string
	Closure     string
	LabelWidth  int64 // micrometres, 0 when not known
	LabelHeight int64
}

func (b *ContainerDefined) visit(v visitor) {
	v.text("key", &b.Key, maxKey)
	v.text("name", &b.Name, maxName)
	v.text("word", &b.Word, maxKey)
	v.whole("brim", &b.Brim, 0, maxWhole)
	v.whole("tare", &b.Tare, 0, maxWhole)
	v.text("material", &b.Material, maxName)
	v.text("closure", &b.Closure, maxName)
	v.whole("labelWidth", &b.LabelWidth, 0, 10000000)
	v.whole("labelHeight", &b.LabelHeight, 0, 10000000)
}
