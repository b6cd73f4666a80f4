package e2e

import (
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// The demo workshop goes by one key, asked about once, and stays away over a reload.
func TestTheDemoIsTakenOut(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, true)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/", "today")
		p.Has(`[data-part="demo"]`)
		p.Tap("Take the demo out")
		p.Tap("Yes, take it out")
		p.Has(`[data-part="first-run"]`)
		p.InTheBook()
		must(t, p.Reload())
		p.Has(`[data-part="first-run"]`)
		if n := p.Count(`[data-part="demo"]`); n != 0 {
			t.Error("the demo's note is still there")
		}
		// F14: these browsers promise nothing, as a private window does. The phone says so and works.
		p.Go("/settings", "settings")
		p.See("does not promise it")
	})
}
