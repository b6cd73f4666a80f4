package server

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"stillroom/server/folder"
	"stillroom/server/servertest"
	"stillroom/server/store"
)

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// start runs a home store in this process until the test ends.
func start(t testing.TB, o Options) *Server {
	t.Helper()
	if o.Dir == "" {
		o.Dir = t.TempDir()
	}
	o.Addr = "127.0.0.1:0"
	if o.Now == nil {
		o.Now = func() time.Time { return noon }
	}
	s, err := Open(o)
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- s.Run(context.Background()) }()
	t.Cleanup(func() {
		s.Close()
		if err := <-ended; err != nil {
			t.Errorf("the store ended with %v", err)
		}
	})
	return s
}

// get asks for a path with headers in pairs.
func get(t testing.TB, s *Server, path string, headers ...string) (*http.Response, string) {
	t.Helper()
	return do(t, s, "GET", path, nil, headers...)
}

func do(t testing.TB, s *Server, method, path string, body io.Reader, headers ...string) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequest(method, s.URL()+strings.TrimPrefix(path, "/"), body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Accept-Encoding", "identity")
	for i := 0; i < len(headers); i += 2 {
		if headers[i] == "Host" {
			r.Host = headers[i+1]
		}
		r.Header.Set(headers[i], headers[i+1])
	}
	answer, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	data, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer, string(data)
}

func TestDevicesAreTakenInOnlyFromOwnPages(t *testing.T) {
	s := start(t, Options{})
	a, b := servertest.Register(t, s.URL()), servertest.Register(t, s.URL())
	if a.Letter != "A" || b.Letter != "B" || a.Role != "owner" || a.Device == b.Device || len(a.Token) < 40 {
		t.Errorf("%+v and %+v", a, b)
	}
	tests := []struct {
		name   string
		header []string
		status int
	}{
		{"another site", []string{"Content-Type", "application/json", "Origin", "http://evil.example"}, http.StatusForbidden},
		{"another port here", []string{"Content-Type", "application/json", "Origin", "http://localhost:1"}, http.StatusForbidden},
		{"an opaque origin", []string{"Content-Type", "application/json", "Origin", "null"}, http.StatusForbidden},
		{"a form", []string{"Content-Type", "text/plain"}, http.StatusUnsupportedMediaType},
		{"another name for this computer", []string{"Content-Type", "application/json", "Host", "evil.example", "Origin", "http://evil.example"}, http.StatusMisdirectedRequest},
	}
	for _, test := range tests {
		if answer, body := do(t, s, "POST", "/api/devices", strings.NewReader("{}"), test.header...); answer.StatusCode != test.status {
			t.Errorf("%s: %d %s", test.name, answer.StatusCode, body)
		}
	}
	if got := len(s.folder.Devices.All()); got != 2 {
		t.Errorf("%d devices in the table", got)
	}
}

func TestHealth(t *testing.T) {
	s := start(t, Options{Demo: true})
	_, body := get(t, s, "/api/health")
	var h struct {
		OK      bool
		Epoch   string
		Streams []struct {
			Name string
			Seq  uint64
		}
	}
	if err := json.Unmarshal([]byte(body), &h); err != nil || !h.OK || len(h.Epoch) != 16 || len(h.Streams) != 2 || h.Streams[1].Seq == 0 {
		t.Errorf("%s: %v", body, err)
	}
}

func TestDemoIsWrittenOnce(t *testing.T) {
	dir := t.TempDir()
	s := start(t, Options{Dir: dir, Demo: true})
	head := s.folder.Store.Head("workshop")
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = start(t, Options{Dir: dir, Demo: true})
	if got := s.folder.Store.Head("workshop"); got != head || got.Seq == 0 {
		t.Errorf("head %d, was %d", got.Seq, head.Seq)
	}
}

func TestOnlyThisComputerIsServed(t *testing.T) {
	for _, addr := range []string{"0.0.0.0:0", ":8417", "192.168.1.20:8417", "[::]:0", "stillroom.example:80", "8417"} {
		var not *NotHere
		if _, err := Open(Options{Dir: t.TempDir(), Addr: addr}); !errors.As(err, &not) {
			t.Errorf("%s: %v", addr, err)
		}
	}
	for _, addr := range []string{"127.0.0.1:1", "localhost:0", "[::1]:8417", "127.9.9.9:1"} {
		if err := loopback(addr); err != nil {
			t.Errorf("%s: %v", addr, err)
		}
	}
}

func TestWhatCannotOpenSaysWhy(t *testing.T) {
	s := start(t, Options{})
	var busy *store.Busy
	if _, err := Open(Options{Dir: s.o.Dir, Addr: "127.0.0.1:0"}); !errors.As(err, &busy) {
		t.Errorf("the same book twice: %v", err)
	}
	var use *InUse
	if _, err := Open(Options{Dir: t.TempDir(), Addr: s.listen.Addr().String()}); !errors.As(err, &use) {
		t.Errorf("the same address twice: %v", err)
	}
	var not *folder.NotABook
	if _, err := Open(Options{Dir: "testdata", Addr: "127.0.0.1:0"}); !errors.As(err, &not) {
		t.Errorf("a folder with other things: %v", err)
	}
}

// app is a small app as the build lays it down.
var app = fstest.MapFS{
	".keep":                    {},
	"index.html":               {Data: []byte("<!doctype html>plain page")},
	"index.html.br":            {Data: []byte("br page")},
	"index.html.gz":            {Data: []byte("gz page")},
	"app-5f90b0534642.js":      {Data: []byte("script")},
	"engine-93a44bbb96c7.wasm": {Data: []byte("\x00asm")},
	"sw.js":                    {Data: []byte("worker")},
	"icon-192.png":             {Data: []byte("png")},
}

func TestApp(t *testing.T) {
	handler := guard(appHandler(app))
	ask := func(path, accept, tag string) (int, http.Header, string) {
		w := &recorder{header: http.Header{}}
		r, _ := http.NewRequest("GET", path, nil)
		r.Host = "localhost:8417"
		r.Header.Set("Accept-Encoding", accept)
		r.Header.Set("If-None-Match", tag)
		handler.ServeHTTP(w, r)
		return w.status, w.header, w.body.String()
	}
	tests := []struct {
		path, accept, kind, cache, encoding, body string
		status                                    int
	}{
		{"/", "gzip, deflate, br, zstd", "text/html; charset=utf-8", "no-cache", "br", "br page", 200},
		{"/", "gzip", "text/html; charset=utf-8", "no-cache", "gzip", "gz page", 200},
		{"/", "br;q=0, gzip", "text/html; charset=utf-8", "no-cache", "gzip", "gz page", 200},
		{"/", "", "text/html; charset=utf-8", "no-cache", "", "<!doctype html>plain page", 200},
		{"/formulas/7K3QXABC", "", "text/html; charset=utf-8", "no-cache", "", "<!doctype html>plain page", 200},
		{"/app-5f90b0534642.js", "br", "text/javascript; charset=utf-8", "public, max-age=31536000, immutable", "", "script", 200},
		{"/engine-93a44bbb96c7.wasm", "", "application/wasm", "public, max-age=31536000, immutable", "", "\x00asm", 200},
		{"/sw.js", "", "text/javascript; charset=utf-8", "no-cache", "", "worker", 200},
		{"/icon-192.png", "", "image/png", "no-cache", "", "png", 200},
		{"/app-000000000000.js", "", "text/plain; charset=utf-8", "", "", "This file is not part of the app in this program.\n", 404},
		{"/index.html.br", "", "text/plain; charset=utf-8", "", "", "This file is not part of the app in this program.\n", 404},
	}
	for _, test := range tests {
		status, h, body := ask(test.path, test.accept, "")
		if status != test.status || body != test.body || h.Get("Content-Type") != test.kind || h.Get("Cache-Control") != test.cache || h.Get("Content-Encoding") != test.encoding {
			t.Errorf("%s (%s): %d %q %v", test.path, test.accept, status, body, h)
		}
		if h.Get("X-Content-Type-Options") != "nosniff" || !strings.Contains(h.Get("Content-Security-Policy"), "'wasm-unsafe-eval'") {
			t.Errorf("%s: %v", test.path, h)
		}
	}
	_, h, _ := ask("/", "br", "")
	if status, _, _ := ask("/", "br", h.Get("ETag")); status != http.StatusNotModified {
		t.Errorf("asked again with its tag: %d", status)
	}
	if status, _, _ := ask("/", "gzip", h.Get("ETag")); status != http.StatusOK {
		t.Errorf("another encoding under the same tag: %d", status)
	}
	handler = guard(appHandler(fstest.MapFS{".keep": {}}))
	if status, _, body := ask("/", "", ""); status != http.StatusServiceUnavailable || !strings.Contains(body, "go run ./cmd/build") {
		t.Errorf("without an app: %d %s", status, body)
	}
}

type recorder struct {
	status int
	header http.Header
	body   bytes.Buffer
}

func (r *recorder) Header() http.Header { return r.header }
func (r *recorder) WriteHeader(status int) {
	if r.status == 0 {
		r.status = status
	}
}
func (r *recorder) Write(b []byte) (int, error) { r.WriteHeader(200); return r.body.Write(b) }
