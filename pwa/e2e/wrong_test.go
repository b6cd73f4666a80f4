package e2e

import (
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// Whatever is typed wrong gets a sentence, changes nothing and stays on the screen.
func TestWrongInputIsToldAndKeptOnTheScreen(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/", "today")
		p.InTheBook()
		p.Go("/formulas/new", "formula")
		p.Fill("Name of the formula", "Wrong on purpose")

		p.AddLine(ingredient{"A", "glycerin", "glycerin", "60"})
		p.SeeIn(`[data-part="gap"]`, "40.00 % of air under the rim")
		p.AddLine(ingredient{"A", "sucrose", "sucrose (sugar)", "60"})
		p.SeeIn(`[data-part="gap"]`, "20.00 % over the rim")
		p.disabled("Save")
		p.Fill("sucrose (sugar), per cent", "0")
		p.SeeIn(`[data-part="gap"]`, "40.00 % of air under the rim")
		for _, text := range []string{"-5", "x", "1e3", "9,5,1", "160"} {
			p.Fill("glycerin, per cent", text)
			p.Has(`[data-line] .trouble`)
			p.disabled("Save")
			if got := p.value("input.percent"); got != text {
				t.Errorf("the per cent is %q, want %q as typed", got, text)
			}
		}
		p.Fill("glycerin, per cent", "9,5")
		p.SeeIn(`[data-part="gap"]`, "90.50 % of air under the rim")

		p.AddLine(ingredient{"A", "water", "water, distilled", ""})
		p.Has(`[data-level="stop"], [data-level="care"]`) // water, and nothing that keeps it
		p.AddLine(ingredient{"A", "phenoxyethanol-ehg", "phenoxyethanol and ethylhexylglycerin 90/10", "1"})
		p.Tap("Save")
		p.See("revision 1")

		p.Go("/shelf/receive", "receive")
		p.Fill("Which ingredient", "glycerin")
		p.Choose("glycerin")
		for _, grams := range []string{"-3", "heavy", "99999999999"} {
			p.FillAt(`input[name="grams"]`, grams)
			p.Tap("Receive")
			p.Has(`.field.wrong input[name="grams"]`)
			if got := p.value(`input[name="grams"]`); got != grams {
				t.Errorf("the grams are %q, want %q as typed", got, grams)
			}
		}

		p.Go("/scan", "scan")
		for _, code := range []string{"7K3QX04M", "7K3QX-04-N", "hello", "https://example.org/elsewhere"} {
			p.FillAt(`input[name="code"]`, code)
			p.Tap("Find")
			p.Has("#code-trouble")
			if got := p.value(`input[name="code"]`); got != code {
				t.Errorf("the code is %q, want %q as typed", got, code)
			}
		}
	})
}

// disabled waits until a button cannot be touched.
func (p phone) disabled(name string) {
	p.t.Helper()
	p.until(name+" disabled", func() (bool, error) {
		var off bool
		err := p.Run(finders+`return control(arguments[0])?.disabled === true`, &off, name)
		return off, err
	})
}

// value is what a field holds.
func (p phone) value(css string) string {
	p.t.Helper()
	var text string
	must(p.t, p.Run(`return document.querySelector(arguments[0])?.value ?? ''`, &text, css))
	return text
}
