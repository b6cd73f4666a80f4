package book

import "stillroom/calc"

// The structs below are the words of contract-formula.ts.

// Choice is one thing that a word of a notebook page may mean.
type Choice struct {
	Key  string `json:"key"`
	Name string `json:"name"`
}

// NotebookLine is a line of a notebook page: what was typed, and what it was taken to mean.
type NotebookLine struct {
	Kind       string   `json:"kind"`
	Typed      string   `json:"typed"`
	Ingredient string   `json:"ingredient"`
	Name       string   `json:"name"`
	Sure       bool     `json:"sure"`
	Choices    []Choice `json:"choices"`
	Amount     string   `json:"amount"`
	Grams      string   `json:"grams"`
	Percent    string   `json:"percent"`
	Phase      string   `json:"phase"`
	QS         bool     `json:"qs"`
	Says       string   `json:"says"`
	Trouble    string   `json:"trouble"`
}

// NotebookView is the view notebook.
type NotebookView struct {
	Title     string         `json:"title"`
	Lines     []NotebookLine `json:"lines"`
	Total     string         `json:"total"`
	TotalSays string         `json:"totalSays"`
	Draft     calc.Draft     `json:"draft"`
	Unread    int            `json:"unread"`
}

// SubstanceShare is the part of one substance in an ingredient as supplied.
type SubstanceShare struct {
	INCI    string `json:"inci"`
	Percent string `json:"percent"`
	Listed  string `json:"listed"`
}

// SourcedFigure is a figure of an ingredient with where it comes from: own, supplier or given.
type SourcedFigure struct {
	What   string `json:"what"`
	Text   string `json:"text"`
	Source string `json:"source"`
	Mark   string `json:"mark"`
	From   string `json:"from"`
	Date   string `json:"date"`
}

// IngredientView is the view ingredient.
type IngredientView struct {
	Key         string           `json:"key"`
	Name        string           `json:"name"`
	INCI        string           `json:"inci"`
	About       string           `json:"about"`
	Own         bool             `json:"own"`
	Composition []SubstanceShare `json:"composition"`
	Figures     []SourcedFigure  `json:"figures"`
	Where       string           `json:"where"`
	// Typed is what the maker wrote down of it, as typed; nil when nothing was.
	Typed *ownIngredient `json:"typed,omitempty"`
}

// ownIngredient are the arguments of ingredient.define, as typed.
type ownIngredient struct {
	Key            string `json:"key"`
	Name           string `json:"name"`
	INCI           string `json:"inci"`
	Composition    string `json:"composition"`
	Charge         string `json:"charge"`
	Soluble        string `json:"soluble"`
	PHLow          string `json:"phLow"`
	PHHigh         string `json:"phHigh"`
	UseLow         string `json:"useLow"`
	UseHigh        string `json:"useHigh"`
	Density        string `json:"density"`
	MaxTemperature string `json:"maxTemperature"`
	Airborne       bool   `json:"airborne"`
	Corrosive      bool   `json:"corrosive"`
	Source         string `json:"source"`
	// Preservative, the pH at which it works, and what it counts as.
	Preservative bool     `json:"preservative,omitempty"`
	WorksLow     string   `json:"worksLow,omitempty"`
	WorksHigh    string   `json:"worksHigh,omitempty"`
	Counts       []string `json:"counts,omitempty"`
	// What the supplier's certificate of a scent says: lines "category maximum" and "allergen share".
	Scheme    string `json:"scheme,omitempty"`
	Amendment string `json:"amendment,omitempty"`
	Certified string `json:"certified,omitempty"`
	Maxima    string `json:"maxima,omitempty"`
	Flash     string `json:"flash,omitempty"`
	Allergens string `json:"allergens,omitempty"`
	Vanillin  string `json:"vanillin,omitempty"`
}

// ContainerRow is a container in a list.
type ContainerRow struct {
	Key      string `json:"key"`
	Name     string `json:"name"`
	Word     string `json:"word"`
	Brimful  string `json:"brimful"`
	Tare     string `json:"tare"`
	Material string `json:"material"`
	OnHand   string `json:"onHand"`
	Where    string `json:"where"`
}

// ownContainer are the arguments of container.define, as typed.
type ownContainer struct {
	Key         string `json:"key"`
	Name        string `json:"name"`
	Word        string `json:"word"`
	Brimful     string `json:"brimful"`
	Tare        string `json:"tare"`
	Material    string `json:"material"`
	Closure     string `json:"closure"`
	LabelWidth  string `json:"labelWidth"`
	LabelHeight string `json:"labelHeight"`
	Count       string `json:"count"`
	// Intent is the app's own mark of one filling-in of the form: the key pressed twice on it brings one lot.
	Intent string `json:"intent,omitempty"`
}

// CompareView is the view compare.
type CompareView struct {
	From  string        `json:"from"`
	To    string        `json:"to"`
	Says  string        `json:"says"`
	Lines []CompareLine `json:"lines"`
	Also  []string      `json:"also"`
}

// CompareLine is what became of one line.
type CompareLine struct {
	Name  string `json:"name"`
	Phase string `json:"phase"`
	From  string `json:"from"`
	To    string `json:"to"`
	// FromSum and ToSum say how the two came about; ToSum also by how much they differ.
	FromSum string `json:"fromSum"`
	ToSum   string `json:"toSum"`
	Change  string `json:"change"`
}
