package matter

// Ingredient is a raw material as supplied.
type Ingredient struct {
	// Key is a short stable slug: "betaine-30". Formulas point at it for ever.
	Key string `json:"key"`
	// Name is a trade-neutral name, INCI what a label would list first.
	Name string `json:"name"`
	INCI string `json:"inci"`
	// Also are the common words by which a notebook calls it: "betaine", "vit E". Generic words only, never a brand.
	Also []string `json:"also,omitempty"`
	// About says in one line what it is for.
	About string `json:"about"`
	// Composition sums to exactly 100.
	Composition []Share `json:"composition"`
	// Functions are words such as "preservative", "humectant", "surfactant", "emulsifier", "grit", "thickener".
	Functions []string `json:"functions"`
	// Soluble is water, oil, both or neither.
	Soluble string `json:"soluble"`
	// PHSupplied is the pH as delivered (or at the stated strength), not the pH at which it lasts.
	PHSupplied *PHRange `json:"phSupplied,omitempty"`
	// PHKeeps is the window in which it lasts or works.
	PHKeeps *PHRange `json:"phKeeps,omitempty"`
	// Usual is the usual or supplier's range of use in a finished product.
	Usual *Range `json:"usual,omitempty"`
	// Maximum is the supplier's maximum in a finished product, as supplied.
	Maximum *Limit `json:"maximum,omitempty"`
	// Highest is the highest temperature at which it may be added.
	Highest *Temperature `json:"highest,omitempty"`
	// Density at about 20 °C.
	Density *Density `json:"density,omitempty"`
	Hazards []Hazard `json:"hazards,omitempty"`
	// Melts is the range in which it sets, for fats and waxes; it follows the grade.
	Melts *TemperatureRange `json:"melts,omitempty"`
	// Grade tells apart what is sold under one name: "50" is a stearic acid of which half is palmitic.
	Grade string `json:"grade,omitempty"`
	// CountsAs are words that rules read of where it comes from and what it does: "water", "food for microbes", "plant powder", "nut",
	// "peanut", "sesame", "wheat", "soya", "milk", "plastic", "sharp", "sunlight" (expressed citrus and the like).
	CountsAs []string `json:"countsAs,omitempty"`
	// Own says that the maker wrote it down, and the given list has nothing of it.
	Own bool `json:"own,omitempty"`
	// Holds is what law counts inside it beside its composition: allergens and restricted substances of an essential oil or extract, each
	// at the most that is usual. The parts need not sum to anything.
	Holds []Share `json:"holds,omitempty"`
	// Unread are names of a supplier's statement that no table knows, as typed: what they stand for cannot be checked.
	Unread []string `json:"unread,omitempty"`
	// Vanillin is how much vanillin and ethyl vanillin is in a scent; nil is not known.
	Vanillin *Range `json:"vanillin,omitempty"`
	// HLB of an emulsifier, and WantsHLB what an oil asks of one, oil in water: one for each source, since tables differ.
	HLB      []HLB `json:"hlb,omitempty"`
	WantsHLB []HLB `json:"wantsHLB,omitempty"`
	// FlashPoint is a fire property, not where scent is lost.
	FlashPoint *Temperature `json:"flashPoint,omitempty"`
	// Certificate is what the supplier of a scent certifies of this one mixture; nil where the maker has none.
	Certificate *Certificate `json:"certificate,omitempty"`
}

// Certificate gives the most of a scent that one scheme lets into a product, by the scheme's own categories.
type Certificate struct {
	Scheme string `json:"scheme"`
	// Amendment of the scheme, 0 when it was not said.
	Amendment int           `json:"amendment"`
	Maxima    []CategoryMax `json:"maxima"`
	Cite
}

// CategoryMax is the most of a scent in a finished product of one category, such as 5A or 9.
type CategoryMax struct {
	Category string  `json:"category"`
	Percent  Percent `json:"percent"`
}

// Most is the maximum of a category; false when the certificate does not name it.
func (c *Certificate) Most(category string) (Percent, bool) {
	for _, m := range c.Maxima {
		if m.Category == category {
			return m.Percent, true
		}
	}
	return 0, false
}

// Counts tells whether an ingredient counts as something, by a word of CountsAs.
func (i *Ingredient) Counts(as string) bool {
	for _, c := range i.CountsAs {
		if c == as {
			return true
		}
	}
	return false
}

// HLB is a hydrophile-lipophile balance, or a range of it, in tenths: 149 is 14.9.
type HLB struct {
	Low  int `json:"low"`
	High int `json:"high"`
	Cite
}

// Share is the part of one substance in an ingredient as supplied.
type Share struct {
	INCI    string  `json:"inci"`
	Percent Percent `json:"percent"`
	// Listed is yes, no (an impurity or residue that the supplier does not list) or not known, which counts as listed.
	Listed string `json:"listed"`
	Cite
}

// Range is a range of use in per cent of the finished product.
type Range struct {
	Low  Percent `json:"low"`
	High Percent `json:"high"`
	Cite
}

// Limit is one maximum in per cent of the finished product.
type Limit struct {
	Percent Percent `json:"percent"`
	Cite
}

// PHRange is a pH window in hundredths of a point: 450 is pH 4.5.
type PHRange struct {
	Low  int `json:"low"`
	High int `json:"high"`
	// At is the strength at which it was measured: "as supplied", "10 % in water".
	At string `json:"at,omitempty"`
	Cite
}

// Temperature is one temperature in thousandths of a degree Celsius, with the words that it was stated in.
type Temperature struct {
	MilliC int64  `json:"milliC"`
	Text   string `json:"text"`
	Cite
}

// TemperatureRange is a range in thousandths of a degree Celsius.
type TemperatureRange struct {
	LowMilliC  int64 `json:"lowMilliC"`
	HighMilliC int64 `json:"highMilliC"`
	Cite
}

// Density in milligrams per millilitre: 1,260 is 1.26 g/mL.
type Density struct {
	MgPerML int64 `json:"mgPerML"`
	Cite
}

// Hazard is what can hurt the maker while an ingredient is handled as supplied.
type Hazard struct {
	// Kind is "airborne powder", "eye", "corrosive", "flammable" or "skin".
	Kind string `json:"kind"`
	// Says is the danger in one sentence, Wear what to put on before the tub is opened.
	Says string `json:"says"`
	Wear string `json:"wear"`
	Cite
}
