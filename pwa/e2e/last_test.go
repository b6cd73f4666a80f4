package e2e

import (
	"strings"
	"testing"

	"stillroom/pwa/e2e/webdriver"
	"stillroom/server/servertest"
)

// snapshot tells whether a snapshot of the book is kept, after something was done to the rows where it stands.
func (p phone) snapshot(do string) (there bool, err error) {
	return there, p.Await(`const d = await new Promise((ok, no) => { const r = indexedDB.open('stillroom'); r.onsuccess = () => ok(r.result); r.onerror = () => no(r.error); });
try { const rows = d.transaction('meta', 'readwrite').objectStore('meta'); `+do+`;
return await new Promise((ok, no) => { const r = rows.count(IDBKeyRange.bound(['snapshot'], ['snapshot', []])); r.onsuccess = () => ok(r.result > 1); r.onerror = () => no(r.error); }); } finally { d.close(); }`, &there)
}

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
		// F27: so many entries of others that the book is written down, and the next start begins there; where what is
		// written down is damaged, it begins with the entries, and shows the same.
		other := servertest.New(t, store.URL("/"))
		other.Connect()
		other.Write("workshop", 4_000_000, 2100)
		other.UntilAcked("workshop", 2100)
		p.until("a snapshot of the book", func() (bool, error) { return p.snapshot("") })
		must(t, p.Reload())
		p.At("formula")
		p.See("xanthan gum")
		p.InTheBook()
		if there, err := p.snapshot(""); err != nil || !there {
			t.Errorf("the start did not begin from the snapshot: it is gone (%v)", err)
		}
		_, err := p.snapshot(`rows.put(new Uint8Array(9), ['snapshot', 1])`)
		must(t, err)
		must(t, p.Reload())
		p.At("formula")
		p.InTheBook()
		if there, err := p.snapshot(""); err != nil || there {
			t.Errorf("a damaged snapshot is kept (%v)", err)
		}
		p.Tap("sunflower oil")
		p.Has(`[name="remark"], [data-line] textarea, [data-line] input`)
		var left string
		must(t, p.Run(`return document.getElementById('last').innerHTML + document.documentElement.className`, &left))
		if left != "" {
			t.Errorf("the last screen still stands over the live one: %.200s", left)
		}
	})
}
