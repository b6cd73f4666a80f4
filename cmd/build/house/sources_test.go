package house

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A source is a document that a person can ask for by name: addresses move, and a copy on a page is not the law.
func TestNoSourceIsAWebAddress(t *testing.T) {
	address := regexp.MustCompile(`(?i)https?:|\b[a-z0-9-]+\.(com|org|net|eu|de|gov|info|biz|io|uk)\b`)
	cited := regexp.MustCompile(`Source: *"[^"]*"|\(([^()]|\([^()]*\))*; read\)`)
	seen := 0
	for _, glob := range []string{"calc/law/*.txt", "calc/given/*.txt", "calc/*.go", "calc/book/*.go"} {
		files, err := filepath.Glob(filepath.Join("..", "..", "..", glob))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			n := 0
			for line := range strings.Lines(string(text)) {
				n++
				if filepath.Ext(file) == ".go" {
					line = strings.Join(cited.FindAllString(line, -1), " ")
				}
				if line != "" {
					seen++
				}
				if a := address.FindString(line); a != "" {
					t.Errorf("%s:%d: a source names %s; name the document", file, n, a)
				}
			}
		}
	}
	if seen < 500 {
		t.Errorf("only %d lines were looked at", seen)
	}
	if !address.MatchString("read at example.org/law") || address.MatchString("Reg. (EU) 2023/1545") {
		t.Error("the search for addresses does not tell them from documents")
	}
}
