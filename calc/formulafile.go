package calc

import (
	"encoding/json"
	"errors"
	"strconv"
	"strings"
)

// FormulaFileFormat is the first field of a formula file; a later layout gets another number.
const FormulaFileFormat = "formula file 1"

// FormulaFile is a formula as one maker gives it to another: with the bases that it is made of and the ingredients that are the giver's
// own. It has no place for a cost, a lot or a supplier. testdata/schema/formula.schema.json documents it.
type FormulaFile struct {
	Stillroom   string             `json:"stillroom"`
	Says        string             `json:"says,omitempty"` // the caution that travels with it
	Formula     SharedFormula      `json:"formula"`
	Bases       []SharedFormula    `json:"bases"` // each after those that it is made of itself
	Ingredients []SharedIngredient `json:"ingredients"`
}

// SharedFormula is one revision of a formula. Figures are text, per cent with a point; lines name ingredients and bases by key.
type SharedFormula struct {
	Key       string        `json:"key"`
	Revision  string        `json:"revision,omitempty"`
	Name      string        `json:"name"`
	Credit    string        `json:"credit,omitempty"` // whose it is
	Wash      string        `json:"wash,omitempty"`
	Site      string        `json:"site,omitempty"`
	Age       string        `json:"age,omitempty"`
	Life      string        `json:"life,omitempty"`      // months unopened
	AfterOpen string        `json:"afterOpen,omitempty"` // months
	Word      string        `json:"word,omitempty"`      // what one filled container is called
	Phases    []SharedPhase `json:"phases"`
	Lines     []SharedLine  `json:"lines"`
}

// SharedPhase is a phase with its treatment as typed; To carries its unit.
type SharedPhase struct {
	Letter  string `json:"letter"`
	Do      string `json:"do,omitempty"`
	To      string `json:"to,omitempty"`
	HoldMin string `json:"holdMin,omitempty"`
	Pot     string `json:"pot,omitempty"`
}

// SharedLine is a line: an ingredient or a base by key, its name for who reads the file, and a share or q.s.
type SharedLine struct {
	Phase      string `json:"phase"`
	Ingredient string `json:"ingredient,omitempty"`
	Base       string `json:"base,omitempty"`
	Name       string `json:"name,omitempty"`
	Percent    string `json:"percent,omitempty"`
	QS         bool   `json:"qs,omitempty"`
	Note       string `json:"note,omitempty"` // why it is here
	Compatible bool   `json:"compatible,omitempty"`
}

// SharedIngredient is an ingredient of the giver's own. Where its figures were read is not told: a supplier's document would name the supplier.
type SharedIngredient struct {
	Key            string        `json:"key"`
	Name           string        `json:"name"`
	INCI           string        `json:"inci"`
	Composition    []SharedShare `json:"composition"`
	Charge         string        `json:"charge,omitempty"`
	Soluble        string        `json:"soluble,omitempty"`
	PHLow          string        `json:"phLow,omitempty"`
	PHHigh         string        `json:"phHigh,omitempty"`
	WorksLow       string        `json:"worksLow,omitempty"`
	WorksHigh      string        `json:"worksHigh,omitempty"`
	UseLow         string        `json:"useLow,omitempty"`
	UseHigh        string        `json:"useHigh,omitempty"`
	Density        string        `json:"density,omitempty"`
	MaxTemperature string        `json:"maxTemperature,omitempty"`
	Airborne       bool          `json:"airborne,omitempty"`
	Corrosive      bool          `json:"corrosive,omitempty"`
	Preservative   bool          `json:"preservative,omitempty"`
	Counts         []string      `json:"counts,omitempty"`
}

// SharedShare is one substance of an ingredient.
type SharedShare struct {
	INCI    string `json:"inci"`
	Percent string `json:"percent"`
}

// most of each that a file may hold: far above any formula, and small enough to be folded at once.
const (
	mostBases       = 50
	mostIngredients = 200
)

// IsFormulaFile tells whether a text means to be a formula file rather than a table.
func IsFormulaFile(text string) bool {
	return strings.HasPrefix(strings.TrimSpace(strings.TrimPrefix(text, "\uFEFF")), "{")
}

// ReadFormulaFile reads a formula file strictly: unknown and repeated fields are refused. An error names the line and column, or the field, in which
// reading ended. What the formula says is not judged here.
func ReadFormulaFile(text string) (FormulaFile, *FieldError) {
	var f FormulaFile
	data := []byte(strings.TrimPrefix(text, "\uFEFF"))
	var probe json.RawMessage
	if err := json.Unmarshal(data, &probe); err != nil && len(data) <= largestRequest {
		at := len(data)
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) {
			at = min(at, int(syntax.Offset))
		}
		before := string(data[:at])
		line, column := strings.Count(before, "\n")+1, len([]rune(before[strings.LastIndexByte(before, '\n')+1:]))
		says := "the file does not parse at line " + strconv.Itoa(line) + ", character " + strconv.Itoa(column)
		if at >= len(strings.TrimRight(string(data), " \n\r\t")) {
			says += ": it ends too soon"
		}
		return f, &FieldError{Says: says, Want: "it may have been cut off or changed on its way; ask for it once more"}
	}
	if err := strict(data, &f); err != nil {
		err.Says = strings.ReplaceAll(err.Says, "the request", "the file")
		return FormulaFile{}, err
	}
	switch {
	case f.Stillroom == "":
		return f, &FieldError{Field: "stillroom", Says: "this is not a formula file", Want: "choose a file that Share made, or a table with a heading"}
	case f.Stillroom != FormulaFileFormat:
		return f, &FieldError{Field: "stillroom", Says: "this is “" + short(f.Stillroom) + "”, and this program reads “" + FormulaFileFormat + "”", Want: "update the app"}
	case len(f.Bases) > mostBases:
		return f, &FieldError{Field: "bases", Says: "there are more than " + strconv.Itoa(mostBases) + " bases", Want: "share the bases by themselves"}
	case len(f.Ingredients) > mostIngredients:
		return f, &FieldError{Field: "ingredients", Says: "there are more than " + strconv.Itoa(mostIngredients) + " ingredients", Want: "share fewer at once"}
	}
	keys := map[string]bool{}
	for i, b := range append([]SharedFormula{f.Formula}, f.Bases...) {
		field := "formula"
		if i > 0 {
			field = "bases[" + strconv.Itoa(i-1) + "]"
		}
		switch {
		case strings.TrimSpace(b.Name) == "":
			return f, &FieldError{Field: field + ".name", Says: "it has no name", Want: "give it one"}
		case b.Key == "" || keys[b.Key]:
			return f, &FieldError{Field: field + ".key", Says: "it has no key of its own", Want: "give each formula of the file another key"}
		case len(b.Lines) > mostOfOne:
			return f, &FieldError{Field: field + ".lines", Says: "there are more than " + strconv.Itoa(mostOfOne) + " lines", Want: "part the formula"}
		}
		keys[b.Key] = true
	}
	return f, nil
}

// Draft is the shared formula as it would be typed; ingredients and bases map the file's keys to those of the book, and a key without an entry stays.
func (f *SharedFormula) Draft(ingredients, bases map[string]string) Draft {
	d := Draft{Name: f.Name, Wash: f.Wash, Site: f.Site, Age: f.Age, Life: f.Life, AfterOpen: f.AfterOpen, Phases: []DraftPhase{}, Lines: []DraftLine{}}
	for _, p := range f.Phases {
		d.Phases = append(d.Phases, DraftPhase{Letter: p.Letter, Treatment: DraftTreatment{p.Do, p.To, p.HoldMin}, Pot: p.Pot})
	}
	for i, l := range f.Lines {
		line := DraftLine{ID: strconv.Itoa(i + 1), Phase: l.Phase, Percent: l.Percent, QS: l.QS, Note: l.Note, Compatible: l.Compatible}
		if l.Ingredient != "" {
			line.Ingredient = nameOr(ingredients[l.Ingredient], l.Ingredient)
		}
		if l.Base != "" {
			line.Base = nameOr(bases[l.Base], l.Base)
		}
		d.Lines = append(d.Lines, line)
	}
	return d
}
