package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

// ClassSheet is what a class of learners needs (G15). It has no place for a cost, a lot or a supplier, so that none can slip onto it.
type ClassSheet struct {
	Name      string
	Learners  int
	Each      Mass // one learner's batch, on the scale's grid
	All       Mass // of everyone and the spare
	Lines     []ClassLine
	Shopping  []ClassShopping
	Wear      []Finding
	Contains  []string // what someone may be allergic to, in words
	Unchecked []string // what could not be checked
	Findings  []Finding
}

// ClassLine is one line of a learner's page, with the grams to weigh and why it is here.
type ClassLine struct {
	ID, Phase, Name string
	Percent         Percent
	Grams           Mass
	Step            Mass
	Why             string
}

// ClassShopping is one ingredient as bought, bases taken apart, for all learners and the spare; rounded up, so that nobody runs short.
type ClassShopping struct {
	Name string
	Buy  Mass
	Sum  string
}

// mostLearners is far above a class.
const mostLearners = 1000

// ClassSheetOf works out a class: each learner makes a batch of each mass on a scale of the given step; spare is in per cent on top of what all need.
func ClassSheetOf(f Formula, k Known, learners int, each Mass, spare Percent, step Mass) (ClassSheet, *FieldError) {
	apart, err := TakeApart(f, k)
	if err != nil {
		return ClassSheet{}, err.under("formula")
	}
	if learners < 1 || learners > mostLearners {
		return ClassSheet{}, &FieldError{Field: "learners", Says: strconv.Itoa(learners) + " is not a class", Want: "1 to 1000 learners"}
	}
	scaled, err := Scale(ScaleLines(f, k), each, step)
	if err != nil {
		return ClassSheet{}, err
	}
	f.Lines = Total(f.Lines).Lines
	all := decimal.New(int64(scaled.Batch)*int64(learners), 0).Mul(decimal.New(int64(Hundred+spare), -6))
	s := ClassSheet{Name: f.Name, Learners: learners, Each: scaled.Batch, All: Mass(all.RoundCeil(0).IntPart()), Findings: scaled.Findings}
	for i, l := range f.Lines {
		why := l.Note
		if ing := k.Ingredients[l.Ingredient]; why == "" && l.Base == "" && ing != nil {
			why = ing.About
		}
		s.Lines = append(s.Lines, ClassLine{l.ID, l.Phase, k.name(l), l.Percent, scaled.Lines[i].Mass, scaled.Lines[i].Step, why})
	}
	for _, p := range apart.Supplied {
		if p.Percent.IsZero() {
			continue
		}
		need := all.Mul(p.Percent).Shift(-2)
		grid := Gram
		if need.LessThan(decimal.New(10*int64(Gram), 0)) {
			grid = Gram / 10
		}
		buy := Mass(need.DivRound(decimal.New(int64(grid), 0), quotientPlaces).RoundCeil(0).IntPart()) * grid
		s.Shopping = append(s.Shopping, ClassShopping{p.Name, buy, show(p.Percent) + " % of " + strconv.Itoa(learners) + " × " + plainGrams(scaled.Batch) + " g and " + spare.String() + " % spare: " + need.Shift(-3).Round(3).String() + " g, bought as " + plainGrams(buy) + " g"})
	}
	s.judge(&f, k, apart)
	return s, nil
}

// allergyWords are what CountsAs says of an ingredient, in the order in which a learner is asked.
var allergyWords = []string{"nut", "peanut", "sesame", "wheat", "soya", "milk"}

func (s *ClassSheet) judge(f *Formula, k Known, apart Apart) {
	for _, x := range judge(f, k, 0, weighed{}) {
		switch x.Level {
		case Wear:
			s.Wear = append(s.Wear, x)
		case Unchecked:
			s.Unchecked = append(s.Unchecked, x.Says)
		case Stop:
			s.Findings = append(s.Findings, x)
		}
	}
	scent := false
	for _, p := range apart.Supplied {
		ing := k.Ingredients[p.Key]
		scent = scent || does(ing, "scent") || does(ing, "fragrance") || ing.INCI == "Parfum"
		for _, word := range allergyWords {
			if says := word + ": " + ing.Name; ing.Counts(word) && !contains(s.Contains, says) {
				s.Contains = append(s.Contains, says)
			}
		}
	}
	if scent {
		s.Contains = append(s.Contains, scentSays(f, k))
	}
}

// scentSays names the allergens of a formula's scents above the threshold of a label, and says where some are not known.
func scentSays(f *Formula, k Known) string {
	const notKnown = "its allergens are not known to this book: read the scent's certificate"
	l, e := IngredientListOf(*f, k, "EU")
	if e != nil {
		return "scent: " + notKnown
	}
	var named []string
	for _, x := range l.Entries {
		if x.Allergen {
			named = append(named, x.Print)
		}
	}
	known := true
	for _, x := range l.Findings {
		known = known && x.Level != Unchecked
	}
	switch {
	case len(named) > 0 && known:
		return "scent: with " + list(named)
	case len(named) > 0:
		return "scent: with " + list(named) + "; more may be in it that is not known to this book"
	case known:
		return "scent: none of its allergens is above the threshold of a label"
	}
	return "scent: " + notKnown
}
