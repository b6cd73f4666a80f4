package house

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// pure are the parts that compute from what they are given and nothing else.
var pure = []string{"calc", "sync"}

// impure are packages through which a clock, a file, a network, randomness or a thread would come in.
var impure = map[string]string{
	"os": "files", "io/fs": "files", "io/ioutil": "files", "embed": "files", "path/filepath": "files",
	"net": "network", "net/http": "network", "syscall": "the system", "syscall/js": "the browser", "os/exec": "the system",
	"math/rand": "randomness", "math/rand/v2": "randomness", "crypto/rand": "randomness",
	"sync": "threads", "sync/atomic": "threads", "context": "threads", "runtime": "threads",
	"log": "output", "log/slog": "output", "unsafe": "memory", "plugin": "the system",
}

// clocks are the names of package time that read the clock, wait, or depend on where the machine stands.
var clocks = []string{"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker", "Local", "LoadLocation"}

func TestPurePackagesTakeNothingFromTheWorld(t *testing.T) {
	seen := 0
	for _, p := range list(t, nil, "./...") {
		name := strings.TrimPrefix(p.ImportPath, module)
		if top, _, _ := strings.Cut(name, "/"); top != pure[0] && top != pure[1] {
			continue
		}
		for _, file := range p.GoFiles {
			seen++
			checkPure(t, filepath.Join(p.Dir, file), filepath.Join(name, file))
		}
	}
	if seen == 0 {
		t.Fatal("no pure file was read")
	}
}

func checkPure(t *testing.T, path, shown string) {
	t.Helper()
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, nil, parser.SkipObjectResolution)
	if err != nil {
		t.Errorf("%s: %v", shown, err)
		return
	}
	for _, imp := range file.Imports {
		name, err := strconv.Unquote(imp.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		if name == "embed" && imp.Name != nil && imp.Name.Name == "_" {
			continue // for a text that the compiler makes a string of the program: nothing is read when it runs
		}
		if what, bad := impure[name]; bad {
			t.Errorf("%s imports %s: %s is passed in, never taken", shown, name, what)
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		line := func() int { return set.Position(n.Pos()).Line }
		switch n := n.(type) {
		case *ast.GoStmt, *ast.SelectStmt, *ast.SendStmt, *ast.ChanType:
			t.Errorf("%s:%d starts or talks to a goroutine: what is pure runs in order", shown, line())
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); ok && x.Name == "time" {
				for _, c := range clocks {
					if n.Sel.Name == c {
						t.Errorf("%s:%d uses time.%s: the clock is passed in", shown, line(), c)
					}
				}
			}
		case *ast.FuncDecl:
			if n.Name.Name == "init" && n.Recv == nil {
				t.Errorf("%s:%d has an init: what a package knows is written where it is declared", shown, line())
			}
		}
		return true
	})
}
