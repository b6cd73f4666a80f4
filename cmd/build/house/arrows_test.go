package house

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// arrows tells for each part of the house which other parts it may import. The longest name that fits counts; a part may
// always import what lies inside it, except where another row speaks of that.
var arrows = []struct {
	part string
	may  []string
	why  string
}{
	{"calc", nil, "what is true of formulas knows nothing of books, stores and screens"},
	{"calc/book", []string{"calc", "sync"}, "the book knows calc, and of sync the entry"},
	{"sync", nil, "how entries travel knows nothing of what they say"},
	{"server", []string{"calc", "calc/book", "sync", "pwa", "testdata", "server/store", "server/label"}, "the store serves the app and folds the book"},
	{"server/store", []string{"sync"}, "the journal keeps bytes and knows nothing of cosmetics"},
	{"server/label", []string{"calc"}, "a label is drawn from what it is told"},
	{"testdata", []string{"calc", "calc/book", "sync"}, "what is recorded and given, embedded"},
	{"pwa", nil, "the built app, embedded"},
	{"pwa/engine", []string{"calc", "calc/book", "sync"}, "the engine is the pure packages behind one door"},
	{"pwa/e2e", []string{"calc", "calc/book", "sync", "server", "server/label", "pwa/e2e/webdriver"}, "scenarios play with the real program"},
	{"pwa/e2e/webdriver", nil, "a client of browsers, of use anywhere"},
	{"cmd/stillroom", []string{"calc", "calc/book", "sync", "server", "server/store", "server/label", "pwa"}, "the program wires everything"},
	{"cmd/build", []string{"pwa/e2e/webdriver"}, "the tool builds the house and is no part of it"},
}

const module = "stillroom/"

// part finds the row that speaks of a package.
func part(path string) (int, bool) {
	best, found := 0, false
	for i, a := range arrows {
		if (path == a.part || strings.HasPrefix(path, a.part+"/")) && (!found || len(a.part) > len(arrows[best].part)) {
			best, found = i, true
		}
	}
	return best, found
}

type listed struct {
	ImportPath string
	Dir        string
	Standard   bool
	GoFiles    []string
	Imports    []string
}

// list asks the go command about packages.
func list(t *testing.T, env []string, args ...string) []listed {
	t.Helper()
	c := exec.Command("go", append([]string{"list", "-e", "-json=ImportPath,Dir,Standard,GoFiles,Imports"}, args...)...)
	c.Dir = root(t)
	c.Env = append(os.Environ(), env...)
	out, err := c.Output()
	if err != nil {
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			t.Fatalf("go list: %v: %s", err, exit.Stderr)
		}
		t.Fatal(err)
	}
	var all []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

// root is the folder of go.mod.
func root(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs(filepath.Join("..", "..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

var inBrowser = []string{"GOOS=js", "GOARCH=wasm"}

// everyPackage lists ours for this system, and the engine's as the browser sees them.
func everyPackage(t *testing.T) []listed {
	return append(list(t, nil, "./..."), list(t, inBrowser, "./pwa/engine/...")...)
}

func TestImportsRunOneWay(t *testing.T) {
	for _, p := range everyPackage(t) {
		from := strings.TrimPrefix(p.ImportPath, module)
		row, ok := part(from)
		if !ok {
			t.Errorf("%s stands in no row of the arrows: say what it may import", p.ImportPath)
			continue
		}
		for _, to := range p.Imports {
			inner, ours := strings.CutPrefix(to, module)
			if !ours {
				continue
			}
			target, ok := part(inner)
			if !ok {
				t.Errorf("%s imports %s, which stands in no row of the arrows", p.ImportPath, to)
				continue
			}
			if target != row && !slices.Contains(arrows[row].may, arrows[target].part) {
				t.Errorf("%s imports %s, and may not: %s", p.ImportPath, to, arrows[row].why)
			}
			if strings.HasPrefix(inner, "cmd/") && target != row {
				t.Errorf("%s imports %s: nothing imports a command", p.ImportPath, to)
			}
		}
	}
}
