package e2e

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// A base that would contain itself, by way of another formula, is refused by the names of both, and what was typed stands
// there after a reload.
func TestABaseThatContainsItselfIsRefusedByName(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/formulas/new", "formula")
		p.InTheBook()
		p.Fill("Name of the formula", "Thrift water")
		p.AddLine(ingredient{"A", "glycerin", "glycerin", "100"})
		p.Tap("Save")
		p.See("revision 1")
		first, err := p.URL()
		must(t, err)

		p.Go("/formulas/new", "formula")
		p.Fill("Name of the formula", "Sedge water")
		p.AddLine(ingredient{"A", "sucrose", "sucrose (sugar)", "30"})
		p.addBase("Thrift water", "70")
		p.Tap("Save")
		p.See("revision 1")

		p.Go(first[strings.Index(first, "/formulas/"):], "formula")
		p.Fill("glycerin, per cent", "60")
		p.addBase("Sedge water", "40")
		p.See("a base cannot contain itself: Thrift water → Sedge water → Thrift water")
		p.disabled("Save")
		must(t, p.Reload())
		p.See("a base cannot contain itself: Thrift water → Sedge water → Thrift water")
		p.SeeIn("[data-line]", "Sedge water")
		if got := p.values("input.percent"); !slices.Equal(got, []string{"60", "40"}) {
			t.Errorf("the per cents are %q after the refusal and a reload, want 60 and 40 as typed", got)
		}
		p.Fill("Sedge water, per cent", "0")
		p.disabled("Save")
	})
}

// A code that no jar of this book has is told apart from a code that was read wrongly; both stay where they were typed.
// Who opens a jar's link without the app reads the jar's card: no lot, no supplier and no cost is on it.
func TestACodeThatIsUnknownOrMisreadAndAJarsPublicCard(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, true)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/make", "make")
		p.InTheBook()
		p.Tap("Marsh hand cream")
		p.At("batch")
		code := p.JarCodes()[0]

		p.Go("/scan", "scan")
		for typed, says := range map[string]string{
			"7K3QX-04-D":               "7K3QX-04-D",
			oneWrong(code):             "check character",
			store.URL("/j/7K3QX-04-D"): "sound but not in this book",
		} {
			p.FillAt(`input[name="code"]`, typed)
			p.Tap("Find")
			p.SeeIn("#code-trouble", says)
			if got := p.value(`input[name="code"]`); got != typed {
				t.Errorf("the code is %q, want %q as typed", got, typed)
			}
		}
		p.FindByTyping(strings.ToLower(code))
		p.See("Marsh hand cream")

		stranger := phone{t, openBrowser(t, engine, webdriver.Options{})}
		must(t, stranger.Open(store.URL("/j/"+code)))
		stranger.SeeIn("h1", "Marsh hand cream")
		stranger.See("This jar is invented")
		stranger.See("best before")
		stranger.See("ingredients")
		for _, secret := range []string{"lot", "supplier", "cost"} {
			if text := strings.ToLower(stranger.Screen()); slices.Contains(strings.Fields(text), secret) {
				t.Errorf("the public card says %q:\n%s", secret, text)
			}
		}
		stranger.Fits()
		res, err := http.Get(store.URL("/j/7K3QX04D"))
		must(t, err)
		must(t, res.Body.Close())
		if res.StatusCode != http.StatusNotFound {
			t.Errorf("the card of a jar that is not in the book answers %s, want 404", res.Status)
		}
	})
}

// oneWrong is a code with its third character misread as its neighbour.
func oneWrong(code string) string {
	const order = "0123456789ABCDEFGHJKMNPQRSTVWXYZ0"
	at := strings.IndexByte(order, code[2])
	return code[:2] + order[at+1:at+2] + code[3:]
}

// addBase writes a formula of this book into phase A as a base.
func (p phone) addBase(name, percent string) {
	p.t.Helper()
	p.Fill("Add to phase A", name)
	p.TapIn(`[role="listbox"][aria-busy="false"]`, name)
	p.Fill(name+", per cent", percent)
}

// values are what the fields hold that a CSS selector names.
func (p phone) values(css string) []string {
	p.t.Helper()
	var all []string
	must(p.t, p.Run(`return [...document.querySelectorAll(arguments[0])].map((e) => e.value)`, &all, css))
	return all
}
