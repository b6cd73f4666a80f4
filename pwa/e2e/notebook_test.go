package e2e

import (
	"fmt"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// A notebook page becomes a formula, and survives a reload that comes right behind the last key. Whether a fill fits its
// container is not known before a density was measured, and the screen says so.
func TestANotebookPageBecomesAFormula(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/", "today")
		p.Tap("Type a notebook page")
		p.At("notebook")
		p.FillAt(`textarea[name="page"]`, "distilled water 212 g\nglycerin 100,5 g\nstearic acid 140\nsugar 47,5 g")
		must(t, p.Reload())
		p.At("notebook")
		p.SeeIn(`[data-part="page-total"]`, "500")
		p.Tap("Make it a formula")
		p.At("formula")
		p.See("100.00")
		if n := p.Count("[data-line]"); n != 4 {
			t.Errorf("the formula has %d lines, want the page's 4", n)
		}
		p.Fill("Name of the formula", "From the page")
		p.TapAt(`[data-part="plan"] > summary`)
		p.Plan("12", "120", "4")
		p.TapAt(`[data-part="containers"] > summary`)
		p.Tap("Another container")
		p.FillAt(`input[name="container-name"]`, "thimble 50 mL")
		p.FillAt(`input[name="container-brimful"]`, "50")
		p.Tap("Keep the container")
		p.SeeIn(`[data-part="fits"]`, "not checked")
	})
}

// What was saved stays in the list while the store acknowledges it, ten times over.
func TestASavedFormulaStaysInTheList(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/", "today")
		p.InTheBook()
		for n := range 10 {
			name := fmt.Sprintf("Kept %d", n)
			p.Go("/formulas/new", "formula")
			p.Fill("Name of the formula", name)
			p.AddLine(ingredient{"A", "glycerin", "glycerin", "100"})
			p.Tap("Save")
			p.See("revision 1")
			p.Go("/formulas", "formulas")
			p.See(name)
			p.InTheBook()
			for had := range n + 1 {
				p.See(fmt.Sprintf("Kept %d", had))
			}
		}
	})
}
