package e2e

import (
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// Another cleanser in place of the one in the formula is weighed up side by side, taken by one touch and put back by another; the pH ruler then says how
// much of the preservative works where the cursor stands.
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
	})
}
