package calc

// Date is a day of the calendar.
type Date struct{ Year, Month, Day int }

// LabelAsk is what a label is made from.
type LabelAsk struct {
	Region     string // EU, UK or US
	Name       string
	Net        Mass // what is in the jar, at least
	Made       Date
	LifeMonths int // 0 when not said
	PAOMonths  int // 0 when not said
	BatchCode  string
	Person     string // responsible person (EU, UK) or contact (US), with address
	PanelSqMM  int64  // area of the principal panel in mm², 0 when not known
	Sale       bool
}

// Caution is one sentence for the label and why it stands there.
type Caution struct{ Says, Why, Source string }

// LabelContent is what a label must and may say.
type LabelContent struct {
	Net, NetSum      string // "110 g · 3.8 oz"
	HeightMM         string // least height of the figures, "3.0"
	HeightSource     string
	BestBefore       string
	BestBeforeNeeded bool
	PAO              string
	PAONeeded        bool
	BatchCode        string
	Person           string
	Cautions         []Caution
	Findings         []Finding
}
