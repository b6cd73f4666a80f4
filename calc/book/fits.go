package book

import (
	"strings"

	"stillroom/calc"
)

// fit says whether a fill fits a container, with the density that earlier batches of the formula had. Where none was
// measured it says that it did not check: a density is never guessed, since foams of one formula differ by a third.
func (s *State) fit(formula string, fill calc.Mass, key string) (says, sum string, found []calc.Finding) {
	c := s.containers.get(key)
	if c == nil {
		return "not checked: this container is not in this book", "", []calc.Finding{{Rule: "fits", Level: calc.Unchecked, Says: "not checked: this container is not in this book", Source: "this book's own rule", Do: "choose one from the list"}}
	}
	cast := s.forecast(formula)
	f := calc.Fits(fill, cast.MgPerML, calc.Container{Name: c.body.Name, BrimMicroL: c.body.Brim})
	says = strings.TrimSuffix(f.Says, ".")
	if cast.DensityN > 0 {
		says = join(says, "density is the median of "+counted(cast.DensityN, "earlier batch", "earlier batches"))
	}
	for i := range f.Findings {
		f.Findings[i].Says = says
	}
	return says, f.Sum, f.Findings
}

// forecast is what earlier batches of a formula say of its density.
func (s *State) forecast(formula string) calc.Forecast {
	var earlier []calc.BatchMade
	s.batches.each(func(_ string, b *batch) bool {
		if formula != "" && b.body.Formula == formula {
			earlier = append(earlier, calc.BatchMade{Code: b.body.Code, MgPerML: b.density()})
		}
		return true
	})
	return calc.ForecastOf(earlier)
}

// fitAt says whether a fill fits a container at a density that was measured, in mg/mL.
func (s *State) fitAt(fill, density int64, key string) (says string, found []calc.Finding) {
	c := s.containers.get(key)
	if c == nil {
		return "", nil
	}
	f := calc.Fits(calc.Mass(fill), density, calc.Container{Name: c.body.Name, BrimMicroL: c.body.Brim})
	says = strings.TrimSuffix(f.Says, ".")
	for _, x := range f.Findings {
		says = join(says, x.Do)
	}
	return says, f.Findings
}

// fitSheet sets down on a sheet whether the fill fits the container of its plan.
func (s *State) fitSheet(v *calc.Sheet, d calc.Draft) {
	if d.Plan.Container == "" {
		return
	}
	fill, e := calc.ReadGrams(d.Plan.Fill)
	if e != nil {
		fill = 0
	}
	var found []calc.Finding
	v.Fits, v.FitsSum, found = s.fit(d.Key, fill, d.Plan.Container)
	for _, f := range found {
		v.Fits, v.FitsLevel = join(v.Fits, f.Do), string(f.Level)
	}
}

// wordOf is what one filled container of a batch is called.
func (s *State) wordOf(b *batch) string {
	return s.wordBy(b, s.revision(b.body.Formula, b.body.Revision))
}

func (s *State) wordBy(b *batch, rev *FormulaSaved) string {
	if c := s.containers.get(b.body.Container); c != nil {
		return c.body.Word
	}
	return rev.word()
}

// chosenContainer refuses a container that is not in the book; "" is none.
func (s *State) chosenContainer(key string) *Refusal {
	if key != "" && s.containers.get(key) == nil {
		return refuse("container unknown", "container", "this container is not in this book", "choose one from the list, or leave it empty")
	}
	return nil
}
