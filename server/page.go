package server

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"
	"net/http"
)

// page is what a plain page says: the card behind a jar's link, or a sentence in its place.
type page struct {
	Title string
	// Kind marks the note above the rest: "stop", "note" or "".
	Kind, Note string
	Says       []string
	Rows       []row
	Foot       string
	// Back says that the page is one of the app's own, which may have no key of the browser's to leave it by.
	Back bool
	Jar  bool
}

type row struct{ Name, Value string }

//go:embed page.css
var pageCSS string

//go:embed page.html
var pageHTML string

var pageTemplate = template.Must(template.New("page").Parse(pageHTML))

// pagePolicy allows the one style sheet by its hash and nothing else: such a page runs no script at all.
var pagePolicy = func() string {
	sum := sha256.Sum256([]byte(pageCSS))
	return "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
}()

func plainPage(w http.ResponseWriter, status int, p page) {
	var out bytes.Buffer
	err := pageTemplate.Execute(&out, struct {
		page
		CSS template.CSS
	}{p, template.CSS(pageCSS)})
	if err != nil {
		http.Error(w, "The page could not be written.", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Security-Policy", pagePolicy)
	w.WriteHeader(status)
	w.Write(out.Bytes())
}
