package servertest

import (
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// Book is a book that a past version wrote: its envelopes by stream, and the digest that they add up to.
type Book struct {
	File, Digest string
	Streams      map[string][][]byte
}

// Recorded reads the recorded books of every past version; testdata is where the house keeps them, from the test's folder.
func Recorded(t testing.TB, testdata string) (books []Book) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(testdata, "books", "*", "book.json"))
	if err != nil || len(files) < 2 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var r struct {
			Digest  string
			Streams map[string][]string
		}
		if err := json.Unmarshal(raw, &r); err != nil {
			t.Fatal(err)
		}
		b := Book{file, r.Digest, map[string][][]byte{}}
		for stream, texts := range r.Streams {
			for _, text := range texts {
				item, err := hex.DecodeString(text)
				if err != nil {
					t.Fatal(err)
				}
				b.Streams[stream] = append(b.Streams[stream], item)
			}
		}
		books = append(books, b)
	}
	return books
}
