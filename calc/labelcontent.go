package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

// Date is a day of the calendar.
type Date struct{ Year, Month, Day int }

// LabelAsk is what a label is made from; a zero value means not said.
type LabelAsk struct {
	Region     string // EU, UK or US
	Net        Mass   // what is in each jar, at least
	Made       Date
	LifeMonths int // stated life, unopened
	PAOMonths  int // period after opening
	BatchCode  string
	Person     string // responsible person (EU, UK) or contact (US), with address
	PanelMM2   int64  // area of the principal display panel in mm²
	Sale       bool   // meant to be sold: what is missing weighs more
}

// Caution is one sentence for the label, why it stands there and by which source.
type Caution struct {
	Says   string `json:"says"`
	Why    string `json:"why"`
	Source string `json:"source"`
	// Date is from when the source is; Law says that a table of law asks for the sentence.
	Date string `json:"date"`
	Law  bool   `json:"law"`
}

// LabelContent is what a label must and may say.
type LabelContent struct {
	Net              string // "120 g" in the EU and UK, "Net Wt 4.2 oz (120 g)" in the US
	Grams, Ounces    string // rounded down, never overstated
	HeightMM         string // least height of the net figures, "" when it could not be worked out
	HeightSource     string
	BestBefore       string // "03/2027", "" when the life was not said
	BestBeforeNeeded bool
	PAO              string // "12M"
	PAONeeded        bool
	BatchCode        string
	Person           string
	Cautions         []Caution
	Findings         []Finding
}

const (
	downSource   = "NIST HB 130 UPLR §6: round down, at most three figures (from memory)"
	dateSource   = "EU 1223/2009 Art. 19(1)(c): best before up to 30 months, above that the period after opening"
	personSource = "EU 1223/2009 Art. 19(1)(a); US 21 USC 364e for the contact (read at second hand)"
	codeSource   = "EU 1223/2009 Art. 19(1)(e)"
)

// LabelContentOf works out what a label says. A formula is needed for the cautions only. It finds no label lawful: it says what is there,
// what is missing and by which source.
func LabelContentOf(a LabelAsk, f Formula, k Known) (LabelContent, *FieldError) {
	switch {
	case a.Region != "EU" && a.Region != "UK" && a.Region != "US":
		return LabelContent{}, &FieldError{Field: "region", Says: "“" + short(a.Region) + "” is not a region known here", Want: "write EU, UK or US"}
	case a.Net <= 0 || a.Net > heaviest:
		return LabelContent{}, &FieldError{Field: "net", Says: a.Net.String() + " g is not a net content", Want: "write grams above 0"}
	case a.LifeMonths < 0 || a.LifeMonths > 1200:
		return LabelContent{}, &FieldError{Field: "life", Says: "that is not a life in months", Want: "write months, such as 12"}
	case a.PAOMonths < 0 || a.PAOMonths > 120:
		return LabelContent{}, &FieldError{Field: "pao", Says: "that is not a period in months", Want: "write months, such as 6"}
	case a.Made != Date{} && (a.Made.Month < 1 || a.Made.Month > 12 || a.Made.Year < 1900 || a.Made.Year > 9000):
		return LabelContent{}, &FieldError{Field: "made", Says: "that is not a day", Want: "write year-month-day: 2026-03-10"}
	}
	out := LabelContent{BatchCode: a.BatchCode, Person: a.Person}
	out.net(a)
	out.height(a)
	out.dates(a)
	missing := func(there bool, what, do, source string) {
		if there {
			return
		}
		x := Finding{Rule: "label", Level: Note, Says: what + " is missing", Source: source, Do: do}
		if a.Sale {
			x.Level = Stop
		}
		out.Findings = append(out.Findings, x)
	}
	missing(a.BatchCode != "", "the batch code", "print it on the jar", codeSource)
	if a.Region == "US" {
		missing(a.Person != "", "the contact", "write a US address, phone or web page", personSource)
	} else {
		missing(a.Person != "", "the responsible person", "write name and address", personSource)
	}
	out.Cautions = cautionsOf(&f, k, a.Region)
	return out, nil
}

func (l *LabelContent) net(a LabelAsk) {
	grams := decimal.New(int64(a.Net), -3)
	l.Grams = netDown(grams, unitG).String() + " g"
	// a mass is kept to the milligram: half of one more keeps 8 oz, which is 226.796185 g, from becoming 7.9
	l.Ounces = netDown(grams.Add(decimal.New(5, -4)).DivRound(unitOZ.factor, quotientPlaces), unitOZ).String() + " oz"
	l.Net = l.Grams
	if a.Region == "US" {
		l.Net = "Net Wt " + l.Ounces + poundsOf(grams.Add(decimal.New(5, -4))) + " (" + l.Grams + ")"
	}
	if a.Net < 5*Gram && a.Region != "US" {
		l.Findings = append(l.Findings, Finding{Rule: "label", Level: Note, Says: "under 5 g no net content is asked for", Figure: l.Grams, Limit: "5 g", Source: "EU 1223/2009 Art. 19(1)(b)"})
	}
}

// poundsOf writes " (1 lb 8 oz)" from 1 lb up to below 4 lb (21 CFR 701.13(j), from memory).
func poundsOf(grams decimal.Decimal) string {
	lb := grams.Div(unitLB.factor)
	if lb.LessThan(decimal.New(1, 0)) || !lb.LessThan(decimal.New(4, 0)) {
		return ""
	}
	whole := lb.RoundFloor(0)
	rest := netDown(grams.DivRound(unitOZ.factor, quotientPlaces).Sub(whole.Mul(decimal.New(16, 0))), unitOZ)
	if rest.IsZero() {
		return " (" + whole.String() + " lb)"
	}
	return " (" + whole.String() + " lb " + rest.String() + " oz)"
}

// heightsEU: least height of the figures by nominal content (76/211 Annex I 3.1). heightsUS: by panel, 1/16 to 1/2 in, rounded up to 0.1 mm.
var (
	heightsEU = []struct {
		upTo Mass
		mm   string
	}{{50 * Gram, "2"}, {200 * Gram, "3"}, {1000 * Gram, "4"}, {heaviest, "6"}}
	heightsUS = []struct {
		upToMM2 int64 // 5, 25, 100 and 400 square inches, rounded down
		mm      string
	}{{3225, "1.6"}, {16129, "3.2"}, {64516, "4.8"}, {258064, "6.4"}, {1 << 62, "12.7"}}
)

func (l *LabelContent) height(a LabelAsk) {
	if a.Region != "US" {
		for _, h := range heightsEU {
			if a.Net <= h.upTo {
				l.HeightMM, l.HeightSource = h.mm, "76/211/EEC Annex I 3.1; UK SI 1987/1538 (read at second hand)"
				return
			}
		}
	}
	l.HeightSource = "21 CFR 701.13(i): by the area of the panel (1/16 and 1/8 in read at second hand, the rest from memory)"
	if a.PanelMM2 <= 0 {
		l.Findings = append(l.Findings, Finding{Rule: "label", Level: Unchecked, Says: "not checked: height of the figures; the area of the panel is missing", Source: l.HeightSource, Do: "give width and height of the label"})
		return
	}
	for _, h := range heightsUS {
		if a.PanelMM2 <= h.upToMM2 {
			l.HeightMM = h.mm
			return
		}
	}
}

// longestDated is the stated life in months up to which the EU and UK ask for a date; above it they ask for the period after opening.
const longestDated = 30

func (l *LabelContent) dates(a LabelAsk) {
	if a.PAOMonths > 0 {
		l.PAO = strconv.Itoa(a.PAOMonths) + "M"
	}
	law := a.Region != "US" // the US asks for no date in general
	l.BestBeforeNeeded = law && a.LifeMonths > 0 && a.LifeMonths <= longestDated
	l.PAONeeded = law && a.LifeMonths > longestDated
	f := Finding{Rule: "label", Level: Unchecked, Source: dateSource}
	switch {
	case a.LifeMonths == 0 && law:
		f.Says, f.Do = "not checked: best before; the stated life is missing", "say how long it keeps, from your own jars"
	case a.LifeMonths > 0 && a.Made == Date{}:
		f.Says, f.Do = "not checked: best before; the day of making is missing", "write the day"
	case l.PAONeeded && l.PAO == "":
		f.Level, f.Says, f.Do = Care, "the period after opening is missing", "say how many months it keeps once opened"
	}
	if f.Says != "" {
		l.Findings = append(l.Findings, f)
	}
	if a.LifeMonths > 0 && a.Made != (Date{}) {
		months := a.Made.Year*12 + a.Made.Month - 1 + a.LifeMonths
		month := strconv.Itoa(months%12 + 1)
		if len(month) == 1 {
			month = "0" + month
		}
		l.BestBefore = month + "/" + strconv.Itoa(months/12)
	}
}
