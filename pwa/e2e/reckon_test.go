package e2e

import (
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// Another cleanser in place of the one in the formula is weighed up side by side, taken by one touch and put back by another; the pH ruler then says how
// much of the preservative works where the cursor stands, and no pH is made up for a wash. What is to be printed of it stands side by side, with a scent's
// certificate heeded.
func TestASwapIsWeighedUpAndTheRulerIsRead(t *testing.T) {
	const glucoside, sarcosinate = "decyl glucoside solution 52 %", "sodium lauroyl sarcosinate solution 30 %"
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/", "today")
		p.Go("/formulas/new", "formula")
		for _, line := range []ingredient{{"A", "water", "water, distilled", ""}, {"A", "betaine-30", "cocamidopropyl betaine solution 30 %", "20"}, {"A", "decyl-glucoside", glucoside, "10"}, {"A", "sodium-benzoate", "sodium benzoate", "0.5"}} {
			p.AddLine(line)
		}
		p.TapIn(`[data-phase="A"]`, glucoside)
		p.Tap("Swap")
		p.Fill("In place of "+glucoside, "sarcosinate")
		p.Choose("sarcosinate-30")
		p.SeeIn(`[data-part="held"]`, "5.20 %")
		p.SeeIn(`[data-part="lines-beside"]`, "17.3333")
		p.SeeIn(`[data-part="figures-beside"]`, "active matter")
		p.Tap("Take it")
		percent := `[data-phase="A"] input[aria-label="` + sarcosinate + `, per cent"]`
		p.Has(percent)
		if got := p.value(percent); got != "17.3333" {
			t.Errorf("the line that was taken holds %q, want 17.3333", got)
		}
		p.Tap("Undo")
		percent = `[data-phase="A"] input[aria-label="` + glucoside + `, per cent"]`
		p.Has(percent)
		if got := p.value(percent); got != "10" {
			t.Errorf("put back, the line holds %q, want 10 as typed", got)
		}
		p.TapAt(`[data-part="ruler"] > summary`)
		p.Has(`[data-part="ruler"] [data-bar]`)
		for _, c := range []struct{ stop, says string }{{"0", "at pH 3.0"}, {"20", "at pH 5.0"}, {"70", "at pH 10.0"}} {
			must(t, p.Run(`const e = document.querySelector('[data-part="ruler"] input[type="range"]');
e.value = arguments[0]; e.dispatchEvent(new Event('input', { bubbles: true }));`, nil, c.stop))
			p.SeeIn(`[data-part="shares"]`, c.says)
		}
		p.Tap("How it holds together")
		p.SeeIn(`[data-part="holds"]`, "Not worked out: the pH")
		// A scent's certificate is kept with its ingredient, bars what it does not allow, and names the allergens that the EU prints.
		p.Go("/ingredients/new?key=orange-oil&name=sweet+orange+essential+oil", "own-ingredient")
		p.TapAt(`[data-part="certificate"] > summary`)
		for _, f := range [][2]string{{"Scheme", "IFRA"}, {"Amendment", "51"}, {"Its date", "2026-03-01"}, {"Most in a product, by category", "9 0.1"}, {"Allergens in it", "limonene 91"}} {
			p.Fill(f[0], f[1])
		}
		p.Tap("Keep")
		p.At("ingredient")
		p.SeeIn(`[data-from="supplier"]`, "certificate of 1 Mar 2026")
		p.Go("/formulas/new", "formula")
		p.AddLine(ingredient{"A", "orange-oil", "sweet orange essential oil", "0.3"})
		p.SeeIn(`[data-rule="fragrance"]`, "than its certificate allows in category 9")
		p.TapAt(`[data-rule="fragrance"] .grounds > summary`)
		p.SeeIn(`[data-rule="fragrance"] dl`, "certificate of 1 Mar 2026")
		p.TapAt(`[data-part="printed"] > summary`)
		p.SeeIn(`[data-side="EU"] [data-part="list"]`, "Limonene")
		p.SeeIn(`[data-side="US"] [data-part="list"]`, "Citrus Aurantium Dulcis (Orange) Peel Oil")
		p.SeeIn(`[data-part="differ"]`, "an allergen of the scent")
	})
}
