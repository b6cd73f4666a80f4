package e2e

import (
	"strings"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// The screen as it was drawn is kept with the device's own book, cannot be touched, and makes way for the live one.
func TestTheLastScreenIsKeptAndMakesWay(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, true)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/formulas", "formulas")
		p.Tap("Marsh hand cream")
		p.At("formula")
		var drawn struct{ At, HTML string }
		p.until("the screen to be kept", func() (bool, error) {
			err := p.Await(`const d = await new Promise((ok, no) => { const r = indexedDB.open('stillroom'); r.onsuccess = () => ok(r.result); r.onerror = () => no(r.error); });
try { const get = (store, key) => new Promise((ok, no) => { const r = d.transaction(store).objectStore(store).get(key); r.onsuccess = () => ok(r.result); r.onerror = () => no(r.error); });
const last = await get('drafts', 'last screen'), device = await get('meta', 'device');
return last && last.device === device.device ? { at: last.at, html: last.html } : { at: '', html: '' }; } finally { d.close(); }`, &drawn)
			return strings.HasPrefix(drawn.At, "/formulas/") && strings.Contains(drawn.HTML, "xanthan gum"), err
		})
		for _, never := range []string{"data-", "href=", "in the book 1"} {
			if strings.Contains(drawn.HTML, never) {
				t.Errorf("the picture of the screen holds %q: it must neither be found nor followed nor claim to be up to date", never)
			}
		}
		must(t, p.Reload())
		p.At("formula")
		p.Tap("sunflower oil")
		p.Has(`[name="remark"], [data-line] textarea, [data-line] input`)
		var left string
		must(t, p.Run(`return document.getElementById('last').innerHTML + document.documentElement.className`, &left))
		if left != "" {
			t.Errorf("the last screen still stands over the live one: %.200s", left)
		}
	})
}
