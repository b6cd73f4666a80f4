package calc

import "github.com/shopspring/decimal"

// PHBar is one line of the pH ruler, in hundredths of a point.
type PHBar struct {
	Line, Name string // the line's id, "" for the skin
	Why        string // surfactant, preservative, thickener, colour, ingredient or skin
	Low, High  int
	Source     string
	Date       string // of the source, as matter.Cite.Dated
}

// PHWindow is what is left when every bar has had its say.
type PHWindow struct {
	Bars      []PHBar
	Low, High int // hundredths; Low above High means that no pH suits all
	// Lowest is the bar whose upper end is the strictest, Highest the one whose lower end is; both −1 without bars.
	Lowest, Highest int
	// Missing are the names of surfactants, preservatives and thickeners whose window is not known.
	Missing []string
}

// Empty tells whether no pH suits all bars.
func (w PHWindow) Empty() bool { return len(w.Bars) > 0 && w.Low > w.High }

// skinBar is what a product on skin is usually adjusted to; no law asks for it.
var skinBar = PHBar{Name: "skin", Why: "skin", Low: 450, High: 650, Source: "common practice", Date: rulesDate}

// PHBars gives the pH windows of all lines, bases taken apart, and their one intersection. A formula without water has none.
func PHBars(f Formula, k Known) PHWindow {
	f.Lines = Total(f.Lines).Lines
	return gatherEvidence(&f, k, 0).window()
}

func (e *evidence) window() PHWindow {
	w := PHWindow{Lowest: -1, Highest: -1}
	if !e.waterIn().IsPositive() {
		return w
	}
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if p.Percent.IsZero() {
			continue
		}
		why := "ingredient"
		for _, role := range []string{"surfactant", "preservative", "thickener", "colour"} {
			if does(ing, role) {
				why = role
				break
			}
		}
		if ing.PHKeeps == nil {
			if why != "ingredient" && why != "colour" && !does(ing, "grit") {
				w.Missing = append(w.Missing, ing.Name)
			}
			continue
		}
		w.add(PHBar{Line: first(p), Name: ing.Name, Why: why, Low: ing.PHKeeps.Low, High: ing.PHKeeps.High, Source: ing.PHKeeps.Cite.String(), Date: ing.PHKeeps.Dated()})
	}
	if len(w.Bars) > 0 {
		w.add(skinBar)
	}
	return w
}

func (w *PHWindow) add(b PHBar) {
	w.Bars = append(w.Bars, b)
	i := len(w.Bars) - 1
	if w.Lowest < 0 || b.High < w.High {
		w.Lowest, w.High = i, b.High
	}
	if w.Highest < 0 || b.Low > w.Low {
		w.Highest, w.Low = i, b.Low
	}
}

// ActiveClass is the active matter of one class of charge, in per cent of the formula, exact.
type ActiveClass struct {
	Charge  Charge
	Percent decimal.Decimal
	INCIs   []string
}

// Surfactants is the active matter (ASM) in per cent of the formula, by class, and the one window of pH. It says nothing of mildness.
type Surfactants struct {
	Total    decimal.Decimal
	Classes  []ActiveClass
	Window   PHWindow
	Findings []Finding
}

// SurfactantsOf sums active matter: Σ dose × active ÷ 100 (standards §5). Water, salt and fatty acid that come with it do not count.
func SurfactantsOf(f Formula, k Known) Surfactants {
	f.Lines = Total(f.Lines).Lines
	e := gatherEvidence(&f, k, 0)
	s := Surfactants{Window: e.window()}
	s.Total, s.Classes = e.active()
	s.Findings = append(ruleKeepingWindow(e), ruleAlkaline(e)...)
	return s
}

// active sums the surfactants in the order of their classes' first appearance.
func (e *evidence) active() (total decimal.Decimal, classes []ActiveClass) {
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		s := e.k.Substances[p.Key]
		if s == nil || !s.Does("surfactant") || p.Percent.IsZero() {
			continue
		}
		total = total.Add(p.Percent)
		at := -1
		for j := range classes {
			if classes[j].Charge == s.Charge {
				at = j
			}
		}
		if at < 0 {
			classes = append(classes, ActiveClass{Charge: s.Charge})
			at = len(classes) - 1
		}
		classes[at].Percent = classes[at].Percent.Add(p.Percent)
		classes[at].INCIs = append(classes[at].INCIs, p.Key)
	}
	return total, classes
}
