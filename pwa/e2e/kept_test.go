package e2e

import (
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// The browser is killed in mid-step, with a figure half typed and the store away: what was kept is there, and so is
// what was typed.
func TestAKilledBrowserInMidStepLosesNothing(t *testing.T) {
	need(t, "chromium")
	store := startStore(t, false)
	profile := t.TempDir()
	p := openPhone(t, "chromium", store, webdriver.Options{Profile: profile}, "/", "today")
	p.InTheBook()
	p.ReadyForOffline()
	p.WriteScrub(scrub.name)
	p.Tap("Save")
	p.See("revision 1")
	batch := p.StartBatch()
	store.Kill()
	p.DoUntil("weigh", "glycerin")
	p.DoStep()
	p.DoUntil("weigh", "cocamidopropyl")
	p.Pad("27")
	p.SeeIn(`[data-part="pad-text"]`, "27")
	unsent := p.Unsent()
	p.Kill()

	p = openPhone(t, "chromium", store, webdriver.Options{Profile: profile}, "/make/"+batch, "bench")
	p.SeeIn("h1", "cocamidopropyl")
	p.SeeIn(`[data-part="pad-text"]`, "27")
	if got := p.Unsent(); got != unsent {
		t.Errorf("%d rows are said to be on this phone alone after the kill, and %d before", got, unsent)
	}
	store.Start()
	p.InTheBook()
}

// A second tab of one phone does not write beside the first: it offers to go on there, and the first then steps back.
func TestOneOfTwoTabsWrites(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/formulas/new", "formula")
		p.Fill("Name of the formula", "Half typed")
		first, err := p.NewTab()
		must(t, err)
		must(t, p.Open(store.URL("/formulas/new")))
		p.See("open in another tab")
		p.Tap("Continue here")
		p.At("formula")
		var name string
		p.until("the half typed name", func() (bool, error) {
			err := p.Run(`return document.querySelector('[name="name"]')?.value || ''`, &name)
			return name == "Half typed", err
		})
		must(t, p.Look(first))
		p.See("open in another tab")
	})
}

// The book goes to another tab and comes back while it is still being opened: it opens in the end, and what was asked for
// meanwhile is done.
func TestABookThatIsTakenWhileItOpensStillOpens(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/formulas/new", "formula")
		p.Fill("Name of the formula", "Pulled about")
		p.AddLine(ingredient{"A", "glycerin", "glycerin", "100"})
		must(t, p.Await(`
const taken = () => navigator.locks.request('stillroom-book', { steal: true }, () => undefined);
const until = async (css) => { for (let i = 0; i < 3000; i++) { const e = document.querySelector(css); if (e) return e; await new Promise((ok) => setTimeout(ok, 5)); }
  throw new Error('no ' + css); };
for (let wait = 0; wait < 12; wait++) {
  await taken();
  (await until('[data-screen="elsewhere"] button')).click();
  await until('[data-screen="starting"], [data-screen="formula"]');
  await new Promise((ok) => setTimeout(ok, wait * 4));
}
await until('[data-screen="formula"]');`, nil))
		p.At("formula")
		p.Tap("Save")
		p.See("revision 1")
		p.InTheBook()
	})
}

// A reload with the store away shows the formula that was half typed.
func TestAHalfTypedFormulaSurvivesAReload(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/formulas/new", "formula")
		p.ReadyForOffline()
		p.Fill("Name of the formula", "Oat bar")
		p.AddLine(ingredient{"A", "glycerin", "glycerin", "12,5"})
		p.SeeIn(`[data-part="gap"]`, "87.50 % of air under the rim")
		store.Stop()
		must(t, p.Reload())
		p.At("formula")
		p.SeeIn(`[data-part="gap"]`, "87.50 % of air under the rim")
		var typed string
		must(t, p.Run(`return document.querySelector('input.percent').value`, &typed))
		if typed != "12,5" {
			t.Errorf("the per cent is %q after the reload, want 12,5 as typed", typed)
		}
	})
}
