package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/server/folder"
)

// imported runs the program's import on a file in a book that is there and answers the exit code and what was printed.
func imported(t *testing.T, dir, content string, args ...string) (code int, out, wrong string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "sheet.csv")
	if err := os.WriteFile(file, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
	var o, e strings.Builder
	code = run(context.Background(), console{strings.NewReader(""), &o, &e}, append([]string{"import", "-book", dir, file}, args...))
	return code, o.String(), e.String()
}

func emptyBook(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "book")
	f, err := folder.Open(dir, folder.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

func entriesIn(t *testing.T, dir string) uint64 {
	t.Helper()
	n := uint64(0)
	if err := reading(context.Background(), dir, func(f *folder.Folder) error { n = f.Store.Head("workshop").Seq; return nil }); err != nil {
		t.Fatal(err)
	}
	return n
}

// TestImportKeepsAllOrNothing: the exit code tells what became of the file, and the journal agrees.
func TestImportKeepsAllOrNothing(t *testing.T) {
	const good = "ingredient,%\nshea butter,60\nsunflower oil,40\n"
	dir := emptyBook(t)
	for _, c := range []struct {
		name, content string
		args          []string
		code          int
		after         uint64
		says          string
	}{
		{"tried", good, nil, exitOK, 0, "Nothing is kept yet"},
		{"a row that cannot be read", good + "moon dust,5\n", []string{"-yes"}, exitFailed, 0, "line 4, column A, ingredient"},
		{"nothing in it", "", []string{"-yes"}, exitFailed, 0, "No heading was found"},
		{"a word too much", good, []string{"more"}, exitMisuse, 0, "too much"},
		{"a switch that is none", good, []string{"-lots=maybe", "-yes"}, exitMisuse, 0, "import"},
		{"too much for one go", many(400), []string{"-yes"}, exitFailed, 0, "formulas"},
		{"kept", good, []string{"-yes"}, exitOK, 1, "All of it is in the book"},
		{"kept before", good, []string{"-yes"}, exitOK, 1, "Nothing new"},
		{"many", many(60), []string{"-yes"}, exitOK, 61, "All of it is in the book"},
		{"lots too many for one go", manyLots(501), []string{"-lots", "-yes"}, exitFailed, 61, "501 entries"},
		{"lots", manyLots(300), []string{"-lots", "--yes"}, exitOK, 361, "All of it is in the book"},
	} {
		code, out, wrong := imported(t, dir, c.content, c.args...)
		if got := entriesIn(t, dir); code != c.code || got != c.after || !strings.Contains(out+wrong, c.says) {
			t.Errorf("%s: exit %d and %d entries, want %d and %d\n%s%s", c.name, code, got, c.code, c.after, out, wrong)
		}
		if strings.Contains(wrong, "error:") != (code != exitOK) || code != exitOK && !strings.Contains(wrong, "hint:") {
			t.Errorf("%s: an error without its next step: %s", c.name, wrong)
		}
	}
}

func many(n int) string {
	var b strings.Builder
	b.WriteString("recipe;ingredient;%\n")
	for i := range n {
		fmt.Fprintf(&b, "Recipe %d;shea butter;%d\nRecipe %d;sunflower oil;%d\n", i, 1+i%90, i, 99-i%90)
	}
	return b.String()
}

func manyLots(n int) string {
	var b strings.Builder
	b.WriteString("ingredient;g;supplier lot\n")
	for i := range n {
		fmt.Fprintf(&b, "glycerin;%d;no-%d\n", 100+i, i)
	}
	return b.String()
}
