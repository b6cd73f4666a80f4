package server

import "net/http"

// withoutApp answers for a program that was built without its app, as go build alone does on a fresh clone.
func withoutApp(w http.ResponseWriter) {
	w.Header().Set("Cache-Control", "no-store")
	plainPage(w, http.StatusServiceUnavailable, page{
		Title: "This program has no app in it",
		Says:  []string{"The home store runs and keeps its book, but the program was built without the app that shows it.", "Build it with: go run ./cmd/build"},
	})
}
