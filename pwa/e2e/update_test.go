package e2e

import (
	"bytes"
	"io"
	"net"
	"net/http"
	"net/http/httputil"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// front stands before a home store. It hands out the shell under another build's name once it is told to: what a phone
// meets when the store's program was replaced by a newer one. And it can take something away from the app's worker.
type front struct {
	addr  string
	newer atomic.Bool
	// worker is put before the app's worker, so that a test can take something away from it.
	worker string
}

// nextBuild marks the page of the newer build, so that a test sees which one runs.
const nextBuild = `<meta name="build" content="next">`

// buildName stands in the service worker by itself, other than the names of files.
var buildName = regexp.MustCompile(`"[0-9a-f]{12}"`)

func startFront(t *testing.T, store *homeStore) *front {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	to, err := url.Parse(store.URL(""))
	must(t, err)
	f := &front{addr: l.Addr().String()}
	proxy := &httputil.ReverseProxy{
		Rewrite: func(r *httputil.ProxyRequest) {
			r.SetURL(to)
			r.Out.Host = r.In.Host
			if dressed(r.In.URL.Path) {
				r.Out.Header.Del("Accept-Encoding")
				r.Out.Header.Del("If-None-Match")
			}
		},
		ModifyResponse: f.dress,
	}
	server := &http.Server{Handler: proxy}
	go func() { _ = server.Serve(l) }() // it ends by Close, on purpose
	t.Cleanup(func() { _ = server.Close() })
	return f
}

func (f *front) URL(path string) string { return "http://" + f.addr + path }

// dressed are the files that this front may change on their way.
func dressed(path string) bool {
	return path == "/" || path == "/sw.js" || strings.HasPrefix(path, "/worker-")
}

func (f *front) dress(res *http.Response) error {
	path := res.Request.URL.Path
	if !dressed(path) {
		return nil
	}
	body, err := io.ReadAll(res.Body)
	if err != nil {
		return err
	}
	switch newer := f.newer.Load(); {
	case newer && path == "/":
		body = bytes.Replace(body, []byte("<head>"), []byte("<head>"+nextBuild), 1)
	case newer && path == "/sw.js":
		body = buildName.ReplaceAll(body, []byte(`"0123456789ab"`))
	case path != "/" && path != "/sw.js":
		body = append([]byte(f.worker), body...)
	}
	res.Body = io.NopCloser(bytes.NewReader(body))
	res.ContentLength = int64(len(body))
	res.Header.Set("Content-Length", strconv.Itoa(len(body)))
	res.Header.Del("ETag")
	return nil
}

// F15: a newer build waits on the phone until it is asked for. It never breaks into a batch, and takes nothing that is half
// typed with it.
func TestAnUpdateWaitsForATapAndNeverBreaksIntoABatch(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		f := startFront(t, store)
		p := phone{t, openBrowser(t, engine, webdriver.Options{Profile: t.TempDir()})}
		must(t, p.Open(f.URL("/")))
		p.At("today")
		p.InTheBook()
		p.ReadyForOffline()
		p.WriteScrub(scrub.name)
		p.Tap("Save")
		p.See("revision 1")
		batch := p.StartBatch()
		p.DoUntil("weigh", "glycerin")
		p.Pad("16")
		p.SeeIn(`[data-part="pad-text"]`, "16")

		f.newer.Store(true)
		must(t, p.Await(`const r = await navigator.serviceWorker.getRegistration(); await r.update();
for (let i = 0; i < 400 && !r.waiting; i++) await new Promise((ok) => setTimeout(ok, 50));
if (!r.waiting) throw new Error('the newer build does not wait');`, nil))
		p.SeeIn(`[data-part="pad-text"]`, "16")
		p.Pad("8")
		p.SeeIn(`[data-part="pad-text"]`, "168")
		if n := p.Count(".update"); n != 0 {
			t.Error("the newer build speaks up while a batch is under way")
		}
		must(t, p.Reload())
		p.At("bench")
		p.SeeIn(`[data-part="pad-text"]`, "168")
		if p.runsNext() {
			t.Error("the newer build runs before anybody asked for it")
		}

		p.Go("/", "today")
		p.SeeIn(".update", "A newer Stillroom is on this phone.")
		p.Tap("Update")
		p.until("the newer build", func() (bool, error) { return p.has(`meta[name="build"][content="next"]`) })
		p.At("today")
		p.Go("/make/"+batch, "bench")
		p.SeeIn("h1", "glycerin")
		p.SeeIn(`[data-part="pad-text"]`, "168")

	})
}

// runsNext tells whether the page is the newer build's.
func (p phone) runsNext() bool {
	p.t.Helper()
	ok, err := p.has(`meta[name="build"][content="next"]`)
	must(p.t, err)
	return ok
}
