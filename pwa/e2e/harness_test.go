package e2e

import (
	"context"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"stillroom/pwa/e2e/webdriver"
)

// platformPage is a page that uses what the app stands on, with none of the app in it.
const platformPage = `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>platform</title><h1>platform</h1><label>Grams <input inputmode="decimal"></label><button>Keep</button><p></p>
<script>
const db = () => new Promise((ok, no) => { const r = indexedDB.open('proof', 1);
  r.onupgradeneeded = () => r.result.createObjectStore('kept'); r.onsuccess = () => ok(r.result); r.onerror = () => no(r.error); });
async function keep(value) { const d = await db(); const tx = d.transaction('kept', 'readwrite', { durability: 'strict' });
  tx.objectStore('kept').put(value, 'grams'); await new Promise((ok, no) => { tx.oncomplete = ok; tx.onabort = () => no(tx.error); }); return tx.durability; }
async function kept() { const d = await db(); const r = d.transaction('kept').objectStore('kept').get('grams');
  return new Promise((ok) => { r.onsuccess = () => ok(r.result ?? ''); }); }
document.querySelector('button').onclick = async () => {
  document.querySelector('p').textContent = 'kept ' + await keep(document.querySelector('input').value); };
</script>`

// platformWorker keeps the page and its wasm, and answers from what it kept.
const platformWorker = `self.oninstall = (e) => e.waitUntil(caches.open('s').then((c) => c.addAll(['/', '/add.wasm'])).then(() => self.skipWaiting()));
self.onactivate = (e) => e.waitUntil(self.clients.claim());
self.onfetch = (e) => e.respondWith(caches.match(e.request).then((r) => r || fetch(e.request)));`

// addWASM exports add(i32, i32) i32.
const addWASM = "\x00asm\x01\x00\x00\x00\x01\x07\x01\x60\x02\x7f\x7f\x01\x7f\x03\x02\x01\x00\x07\x07\x01\x03add\x00\x00\x0a\x09\x01\x07\x00\x20\x00\x20\x01\x6a\x0b"

// site serves the platform page until it is closed.
func site(t *testing.T) (url string, stop func()) {
	t.Helper()
	mux := http.NewServeMux()
	serve := func(path, kind, body string) {
		mux.HandleFunc("GET "+path, func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Type", kind)
			if _, err := w.Write([]byte(body)); err != nil {
				t.Log(err)
			}
		})
	}
	serve("/{$}", "text/html", platformPage)
	serve("/sw.js", "text/javascript", platformWorker)
	serve("/add.wasm", "application/wasm", addWASM)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := &http.Server{Handler: mux}
	go server.Serve(l)
	return "http://" + l.Addr().String() + "/", func() { server.Close() }
}

// What everything else rests on: WASM, IndexedDB with strict durability, a service worker, and a reload of a page whose
// server is gone.
func TestThePlatformHoldsWhatTheAppStandsOn(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		url, stop := site(t)
		s := openBrowser(t, engine, webdriver.Options{Profile: t.TempDir()})
		must(t, s.Open(url))

		var sum int
		must(t, s.Await(`const m = await WebAssembly.instantiateStreaming(fetch('/add.wasm')); return m.instance.exports.add(17, 25);`, &sum))
		if sum != 42 {
			t.Errorf("17 + 25 in wasm = %d, want 42", sum)
		}
		must(t, s.Await(`await navigator.serviceWorker.register('/sw.js'); await navigator.serviceWorker.ready;
if (!navigator.serviceWorker.controller) await new Promise((ok) => navigator.serviceWorker.addEventListener('controllerchange', ok, { once: true }));`, nil))

		p := phone{t, s}
		p.Fill("Grams", "299,7")
		p.Tap("Keep")
		p.See("kept strict")

		stop()
		must(t, s.Reload())
		var kept string
		must(t, s.Await(`const m = await WebAssembly.instantiateStreaming(fetch('/add.wasm'));
if (m.instance.exports.add(1, 2) !== 3) throw new Error('wasm from the service worker'); return kept();`, &kept))
		if kept != "299,7" {
			t.Errorf("after a reload without the server the page holds %q, want 299,7", kept)
		}
		var width int
		must(t, s.Run(`return innerWidth`, &width))
		if want, _ := phoneSize(engine); width != want {
			t.Errorf("the window is %d wide, want %d", width, want)
		}
		if _, err := s.Picture(); err != nil {
			t.Error("no picture:", err)
		}
	})
}

// A browser that is killed in mid-step and started again on the same profile is the same phone.
func TestAKilledBrowserComesBackWithWhatItKept(t *testing.T) {
	need(t, "chromium")
	url, stop := site(t)
	defer stop()
	profile := t.TempDir()
	s := openBrowser(t, "chromium", webdriver.Options{Profile: profile})
	must(t, s.Open(url))
	p := phone{t, s}
	p.Fill("Grams", "12.5")
	p.Tap("Keep")
	p.See("kept strict")
	s.Kill()

	s = openBrowser(t, "chromium", webdriver.Options{Profile: profile})
	must(t, s.Open(url))
	var kept string
	must(t, s.Await(`return kept()`, &kept))
	if kept != "12.5" {
		t.Errorf("after the kill the page holds %q, want 12.5", kept)
	}
}

// An error in the page is an error in the test, with the page's words.
func TestARejectionInThePageIsToldToTheTest(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		url, stop := site(t)
		defer stop()
		s := openBrowser(t, engine, webdriver.Options{})
		must(t, s.Open(url))
		err := s.Await(`throw new Error('spilled')`, nil)
		if err == nil || !strings.Contains(err.Error(), "spilled") {
			t.Errorf("got %v, want the page's own words", err)
		}
	})
}

// A driver that is not there says so at once and leaves no process behind.
func TestAnEngineThatIsNotKnownIsRefused(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	if _, err := webdriver.Start(ctx, "lynx", webdriver.Options{}); err == nil || !strings.Contains(err.Error(), "lynx") {
		t.Errorf("got %v, want an error that names it", err)
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
