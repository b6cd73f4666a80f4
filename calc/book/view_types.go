package book

import "stillroom/calc"

// The structs below are the values of the views, with the JSON names of contract.ts.

// Layer is the part of the jar that one phase fills.
type Layer = calc.Layer

// Note is a finding in the margin.
type Note = calc.MarginNote

// WorkshopView is the view workshop and the arguments of workshop.name.
type WorkshopView struct {
	Maker   string `json:"maker"`
	Address string `json:"address"`
	Contact string `json:"contact"`
	Region  string `json:"region"`
}

// FormulaRow is a formula in a list.
type FormulaRow struct {
	Key      string  `json:"key"`
	Name     string  `json:"name"`
	Revision string  `json:"revision"`
	Number   int     `json:"number"`
	Kind     string  `json:"kind"`
	Layers   []Layer `json:"layers"`
	Batches  int     `json:"batches"`
	Forked   bool    `json:"forked"`
	Where    string  `json:"where"`
}

// RevisionRow is one revision of a formula in its list.
type RevisionRow struct {
	Revision string `json:"revision"`
	Number   int    `json:"number"`
	Saved    string `json:"saved"`
	By       string `json:"by"`
	Where    string `json:"where"`
}

// FormulaView is the view formula.
type FormulaView struct {
	Row       FormulaRow    `json:"row"`
	From      string        `json:"from"`
	Draft     calc.Draft    `json:"draft"`
	Revisions []RevisionRow `json:"revisions"`
	Batches   []BatchRow    `json:"batches"`
}

// IngredientRow is an ingredient of the given list.
type IngredientRow struct {
	Key    string `json:"key"`
	Name   string `json:"name"`
	INCI   string `json:"inci"`
	About  string `json:"about"`
	Lots   int    `json:"lots"`
	OnHand string `json:"onHand"`
}

// BatchRow is a batch in a list.
type BatchRow struct {
	Key     string `json:"key"`
	Code    string `json:"code"`
	Name    string `json:"name"`
	Purpose string `json:"purpose"`
	State   string `json:"state"`
	Says    string `json:"says"`
	Started string `json:"started"`
	Jars    string `json:"jars"`
	Where   string `json:"where"`
}

// RowView is a row of a batch record.
type RowView struct {
	Entry  string `json:"entry"`
	What   string `json:"what"`
	Title  string `json:"title"`
	Value  string `json:"value"`
	Detail string `json:"detail"`
	At     string `json:"at"`
	By     string `json:"by"`
	Struck bool   `json:"struck"`
	Reason string `json:"reason"`
	Now    string `json:"now"`
	Where  string `json:"where"`
	Clash  string `json:"clash"`
}

// JarRow is one jar.
type JarRow struct {
	Code   string `json:"code"`
	Shown  string `json:"shown"`
	Number int    `json:"number"`
	Place  string `json:"place"`
	Where  string `json:"where"`
}

// PlaceCount is how many jars are at a place.
type PlaceCount struct {
	Place string `json:"place"`
	Count int    `json:"count"`
}

// WentIn is one line of what really went into a batch.
type WentIn struct {
	Line   string `json:"line"`
	Name   string `json:"name"`
	Target string `json:"target"`
	Actual string `json:"actual"`
	// ActualSum adds up what was weighed, lot by lot.
	ActualSum string    `json:"actualSum"`
	Lots      []LotPart `json:"lots"`
	Percent   Figure    `json:"percent"`
}

// LotPart is how much of a lot went into a line.
type LotPart struct {
	Key   string `json:"key"`
	Code  string `json:"code"`
	Grams string `json:"grams"`
}

// BatchView is the view batch.
type BatchView struct {
	Row            BatchRow     `json:"row"`
	Formula        string       `json:"formula"`
	Revision       string       `json:"revision"`
	RevisionNumber int          `json:"revisionNumber"`
	Layers         []Layer      `json:"layers"`
	Mass           Figure       `json:"mass"`
	Made           string       `json:"made"`
	Rows           []RowView    `json:"rows"`
	WentIn         []WentIn     `json:"wentIn"`
	Findings       []Note       `json:"findings"`
	Jars           []JarRow     `json:"jars"`
	JarsSays       string       `json:"jarsSays"`
	Places         []PlaceCount `json:"places"`
	Looks          []RowView    `json:"looks"`
	CanLook        bool         `json:"canLook"`
	CanFill        bool         `json:"canFill"`
	CanRelease     bool         `json:"canRelease"`
	CanHold        bool         `json:"canHold"`
	Barred         string       `json:"barred"`
	CanGive        bool         `json:"canGive"`
	// Words are findings on what would be printed in the maker's own words, WordsWhy the reasons why it may be, "" while one has none.
	Words    []Note `json:"words"`
	WordsWhy string `json:"wordsWhy"`
}

// LotChoice is a lot that a line may be weighed from.
type LotChoice struct {
	Key  string `json:"key"`
	Code string `json:"code"`
	Says string `json:"says"`
	Held bool   `json:"held"`
}

// Step is one thing to do at the bench.
type Step struct {
	ID     string      `json:"id"`
	What   string      `json:"what"`
	Phase  string      `json:"phase"`
	Title  string      `json:"title"`
	Says   string      `json:"says"`
	Line   string      `json:"line"`
	Target Figure      `json:"target"`
	Reads  string      `json:"reads"`
	Actual string      `json:"actual"`
	ToGo   string      `json:"toGo"`
	Before float64     `json:"before"`
	After  float64     `json:"after"`
	Done   bool        `json:"done"`
	Lots   []LotChoice `json:"lots"`
	Wear   []Note      `json:"wear"`
	Entry  string      `json:"entry"`
	Last   string      `json:"last"`
}

// BenchView is the view bench.
type BenchView struct {
	Row         BatchRow  `json:"row"`
	Steps       []Step    `json:"steps"`
	Now         int       `json:"now"`
	Layers      []Layer   `json:"layers"`
	Rows        []RowView `json:"rows"`
	PlannedJars int       `json:"plannedJars"`
	Pots        []Pot     `json:"pots"`
	// PH says that the last pH stands outside what is wanted, "" when it does not.
	PH string `json:"ph"`
}

// Pot is a vessel that stands beside another until the two are combined.
type Pot struct {
	Name        string   `json:"name"`
	Phases      []string `json:"phases"`
	Temperature string   `json:"temperature"`
	Aim         string   `json:"aim"`
	Ready       bool     `json:"ready"`
	Says        string   `json:"says"`
}

// LotRow is a lot in a list.
type LotRow struct {
	Key         string `json:"key"`
	Code        string `json:"code"`
	Ingredient  string `json:"ingredient"`
	Name        string `json:"name"`
	OnHand      Figure `json:"onHand"`
	Expiry      string `json:"expiry"`
	Supplier    string `json:"supplier"`
	SupplierLot string `json:"supplierLot"`
	Held        bool   `json:"held"`
	Where       string `json:"where"`
}

// LotBatch is a batch that a lot went into.
type LotBatch struct {
	Batch BatchRow `json:"batch"`
	Grams string   `json:"grams"`
}

// LotView is the view lot.
type LotView struct {
	Row      LotRow       `json:"row"`
	Received string       `json:"received"`
	Source   string       `json:"source"`
	Batches  []LotBatch   `json:"batches"`
	Jars     []JarRow     `json:"jars"`
	Places   []PlaceCount `json:"places"`
	Says     string       `json:"says"`
	// JarsCount is how many jars there are; Jars lists the first of them unless all were asked for, and More says what is
	// not listed, "" when nothing is.
	JarsCount int    `json:"jarsCount"`
	More      string `json:"more"`
}

// JarView is the view jar.
type JarView struct {
	Code       string    `json:"code"`
	Shown      string    `json:"shown"`
	Read       string    `json:"read"`
	Batch      BatchView `json:"batch"`
	Number     int       `json:"number"`
	Of         int       `json:"of"`
	Place      string    `json:"place"`
	BestBefore string    `json:"bestBefore"`
	Net        string    `json:"net"`
	// BestSum and NetSum say how the best before and the net content came about.
	BestSum string `json:"bestSum"`
	NetSum  string `json:"netSum"`
}

// TodayView is the view today.
type TodayView struct {
	Date     string     `json:"date"`
	Making   []BatchRow `json:"making"`
	Resting  []BatchRow `json:"resting"`
	Held     []BatchRow `json:"held"`
	Formulas int        `json:"formulas"`
	Lots     int        `json:"lots"`
	Demo     bool       `json:"demo"`
	Maker    string     `json:"maker"`
}
