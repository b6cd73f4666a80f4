package book

// The structs below are the words of contract-share.ts.

// ShareView is the view share: a formula as others may have it, never with a cost, a lot or a supplier.
type ShareView struct {
	Name     string   `json:"name"`
	Number   int      `json:"number"`
	Credit   string   `json:"credit"`
	From     string   `json:"from"`
	File     string   `json:"file"`
	FileName string   `json:"fileName"`
	FileSays string   `json:"fileSays"`
	Table    string   `json:"table"`
	TableAs  string   `json:"tableAs"`
	LeftOut  []string `json:"leftOut"`
	Caution  string   `json:"caution"`
}

// CardLine is one line of a formula card.
type CardLine struct {
	Name    string `json:"name"`
	INCI    string `json:"inci"`
	Percent string `json:"percent"`
	Why     string `json:"why"`
}

// PageCode is a formula as a code to scan: a page of a notebook, drawn as the path of an SVG. Path is "" where the page is too long for a code.
type PageCode struct {
	Path string `json:"path"`
	Side int    `json:"side"` // modules with the quiet zone
	MM   string `json:"mm"`   // the smallest size in print
	Text string `json:"text"`
}

// CardPhase is one phase of a formula card.
type CardPhase struct {
	Letter    string     `json:"letter"`
	Treatment string     `json:"treatment"`
	Lines     []CardLine `json:"lines"`
}

// CardView is the view card: a formula on paper.
type CardView struct {
	Name        string      `json:"name"`
	Number      int         `json:"number"`
	Kind        string      `json:"kind"`
	Credit      string      `json:"credit"`
	From        string      `json:"from"`
	Keeps       string      `json:"keeps"`
	Phases      []CardPhase `json:"phases"`
	Total       string      `json:"total"`
	Ingredients string      `json:"ingredients"`
	Cautions    []string    `json:"cautions"`
	Wear        []Note      `json:"wear"`
	Findings    []Note      `json:"findings"`
	Unchecked   []Note      `json:"unchecked"`
	Counts      string      `json:"counts"`
	Sources     []string    `json:"sources"`
	Code        PageCode    `json:"code"`
	Foot        string      `json:"foot"`
}

// ClassLine is one line of a learner's page.
type ClassLine struct {
	Phase string `json:"phase"`
	Name  string `json:"name"`
	Grams string `json:"grams"`
	Why   string `json:"why"`
}

// ClassBuy is one thing to buy for a class.
type ClassBuy struct {
	Name string `json:"name"`
	Buy  string `json:"buy"`
	Sum  string `json:"sum"`
}

// ClassPhase is what is done with a phase on a learner's page.
type ClassPhase struct {
	Letter    string      `json:"letter"`
	Treatment string      `json:"treatment"`
	Lines     []ClassLine `json:"lines"`
}

// ClassView is the view class.
type ClassView struct {
	Name      string       `json:"name"`
	Credit    string       `json:"credit"`
	Learners  int          `json:"learners"`
	Each      string       `json:"each"`
	All       string       `json:"all"`
	Phases    []ClassPhase `json:"phases"`
	Shopping  []ClassBuy   `json:"shopping"`
	Wear      []Note       `json:"wear"`
	Ask       string       `json:"ask"`
	Contains  []string     `json:"contains"`
	Cautions  []string     `json:"cautions"`
	Findings  []Note       `json:"findings"`
	Unchecked []string     `json:"unchecked"`
	Counts    string       `json:"counts"`
	LeftOut   []string     `json:"leftOut"`
	Code      PageCode     `json:"code"`
	Foot      string       `json:"foot"`
}

// ImportLine is one row of a file as it was understood.
type ImportLine struct {
	Place   string `json:"place"`
	Phase   string `json:"phase"`
	Typed   string `json:"typed"`
	Name    string `json:"name"`
	Amount  string `json:"amount"`
	Percent string `json:"percent"`
	Says    string `json:"says"`
	Trouble string `json:"trouble"`
}

// ImportFormula is one formula of a file.
type ImportFormula struct {
	Name   string       `json:"name"`
	Credit string       `json:"credit"`
	Total  string       `json:"total"`
	Says   string       `json:"says"`
	New    bool         `json:"new"`
	Lines  []ImportLine `json:"lines"`
}

// ImportTrouble is what stands in the way, with its place.
type ImportTrouble struct {
	Place   string `json:"place"`
	Formula string `json:"formula"`
	Says    string `json:"says"`
	Do      string `json:"do"`
}

// ImportView is the view import: what a file would bring, before anything is kept.
type ImportView struct {
	Kind        string          `json:"kind"`
	Formulas    []ImportFormula `json:"formulas"`
	Ingredients []string        `json:"ingredients"`
	Troubles    []ImportTrouble `json:"troubles"`
	Notes       []string        `json:"notes"`
	Ready       bool            `json:"ready"`
	Says        string          `json:"says"`
}
