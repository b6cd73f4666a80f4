package server

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
	"time"

	"stillroom/pwa"
)

// asset is one file of the app with its compressed forms.
type asset struct {
	kind      string
	immutable bool
	plain     []byte
	packed    map[string][]byte // by the name of the encoding
	tag       string
}

// encodings are offered in this order, each with the ending of its file.
var encodings = []struct{ name, ending string }{{"br", ".br"}, {"gzip", ".gz"}}

// assets reads the app that is in this program. It is empty when the program was built without one.
func assets(dist fs.FS) (map[string]*asset, error) {
	found := map[string]*asset{}
	err := fs.WalkDir(dist, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Base(name) == ".keep" || packedName(name) {
			return err
		}
		data, err := fs.ReadFile(dist, name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(data)
		a := &asset{kind: kindOf(name), immutable: hashed(name), plain: data, packed: map[string][]byte{}, tag: hex.EncodeToString(sum[:8])}
		for _, e := range encodings {
			if data, err := fs.ReadFile(dist, name+e.ending); err == nil {
				a.packed[e.name] = data
			}
		}
		found["/"+name] = a
		return nil
	})
	return found, err
}

func packedName(name string) bool {
	for _, e := range encodings {
		if strings.HasSuffix(name, e.ending) {
			return true
		}
	}
	return false
}

// kindOf does not ask the system, which on some machines calls JavaScript text/plain.
func kindOf(name string) string {
	switch path.Ext(name) {
	case ".html":
		return "text/html; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".wasm":
		return "application/wasm"
	case ".webmanifest":
		return "application/manifest+json"
	case ".svg":
		return "image/svg+xml"
	case ".png":
		return "image/png"
	}
	if kind := mime.TypeByExtension(path.Ext(name)); kind != "" {
		return kind
	}
	return "application/octet-stream"
}

// hashed tells whether a name carries a hash of its content: app-5f90b0534642.js.
func hashed(name string) bool {
	base := strings.TrimSuffix(path.Base(name), path.Ext(name))
	i := strings.LastIndexByte(base, '-')
	if i < 0 || len(base)-i-1 < 8 {
		return false
	}
	return strings.Trim(base[i+1:], "0123456789abcdef") == ""
}

// app serves the app: its files by name, and its one page for every other address, which the app reads itself.
func (s *Server) app() http.Handler {
	dist, err := fs.Sub(pwa.Dist, "dist")
	if err != nil {
		panic(err) // the name is fixed in pwa/dist.go
	}
	return appHandler(dist)
}

func appHandler(dist fs.FS) http.Handler {
	files, err := assets(dist)
	page := files["/index.html"]
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", policy(r.Host))
		if err != nil || page == nil {
			withoutApp(w)
			return
		}
		a := files[r.URL.Path]
		if a == nil && path.Ext(r.URL.Path) != "" {
			// A file of another version of the app: saying so lets the service worker keep its old shell.
			http.Error(w, "This file is not part of the app in this program.", http.StatusNotFound)
			return
		}
		if a == nil {
			a = page
		}
		a.serve(w, r)
	})
}

func (a *asset) serve(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Type", a.kind)
	h.Set("Vary", "Accept-Encoding")
	h.Set("Cache-Control", "no-cache")
	if a.immutable {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	data, tag := a.plain, a.tag
	for _, e := range encodings {
		if packed, ok := a.packed[e.name]; ok && accepts(r.Header.Get("Accept-Encoding"), e.name) {
			data, tag = packed, a.tag+"-"+e.name
			h.Set("Content-Encoding", e.name)
			break
		}
	}
	h.Set("ETag", `"`+tag+`"`)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(data))
}

// accepts reads an Accept-Encoding header; q=0 refuses.
func accepts(header, encoding string) bool {
	for _, part := range strings.Split(header, ",") {
		name, q, _ := strings.Cut(strings.TrimSpace(part), ";")
		if strings.EqualFold(strings.TrimSpace(name), encoding) {
			q = strings.TrimSpace(q)
			return q != "q=0" && q != "q=0.0" && q != "q=0.00" && q != "q=0.000"
		}
	}
	return false
}

// policy lets the app run its own files and its engine, show what it made itself (blob:), and speak with this store.
func policy(host string) string {
	return "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; media-src 'self' blob:; " +
		"worker-src 'self' blob:; manifest-src 'self'; frame-src blob:; " +
		// 'self' does not cover WebSocket in every engine.
		"connect-src 'self' blob: ws://" + host + " wss://" + host + "; " +
		"base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
}
