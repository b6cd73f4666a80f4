package house

import (
	"slices"
	"strings"
	"testing"
)

// carried are the packages from outside the standard library that the engine may carry to a phone.
var carried = map[string]string{
	"github.com/shopspring/decimal":  "figures that people rely on are decimal",
	"github.com/skip2/go-qrcode":     "a jar's code is drawn without a network",
	"golang.org/x/sys/cpu":           "what hashes ask for",
	"golang.org/x/text/unicode/norm": "names are compared in one form",
	"golang.org/x/text/transform":    "what norm stands on",
}

// banned are packages that would make the engine heavy, slow or able to do what is the shell's to do. A name ending in
// a stroke bans all below it.
var banned = map[string]string{
	"net":                "the shell talks to the network; adds hundreds of kilobytes",
	"net/":               "the shell talks to the network; net/http alone adds more than a megabyte",
	"crypto/tls":         "the shell's browser does this",
	"crypto/x509":        "the shell's browser does this",
	"os/exec":            "there is nothing to run in a browser",
	"os/signal":          "there is nothing to signal in a browser",
	"regexp":             "heavy, and a hand-written reader gives better errors",
	"regexp/":            "heavy, and a hand-written reader gives better errors",
	"text/template":      "reflection over everything keeps the linker from dropping methods",
	"html/template":      "reflection over everything keeps the linker from dropping methods",
	"encoding/gob":       "a codec by reflection; bodies are binary with a written layout",
	"encoding/xml":       "a codec by reflection; bodies are binary with a written layout",
	"encoding/asn1":      "a codec by reflection; bodies are binary with a written layout",
	"database/":          "the shell keeps entries, in IndexedDB",
	"go/":                "compilers have no place on a phone",
	"testing":            "tests stay out of what is shipped",
	"embed":              "files travel by the shell; only tables that became strings of the program may",
	"archive/":           "the store makes archives",
	"mime/":              "the shell sends files",
	"time/tzdata":        "450 kB; the shell passes minutes east of UTC",
	"gonum.org/":         "adds megabytes; the arithmetic here is small",
	"google.golang.org/": "bodies have a layout of their own",
	"math/rand":          "randomness is passed in, so that every run can be played again",
	"math/rand/v2":       "randomness is passed in, so that every run can be played again",
}

// through are the only packages, with a space between them, by which a banned one may come in all the same, and why that is borne.
var through = map[string]struct{ by, why string }{
	"embed":               {"stillroom/calc/given stillroom/calc/law", "the given list and the law are text; the linker drops everything else of the package"},
	"database/sql/driver": {"github.com/shopspring/decimal", "an interface for databases; the linker drops it"},
	"regexp":              {"github.com/shopspring/decimal", "its reader of formatted strings; the linker drops what nobody calls"},
	"regexp/syntax":       {"regexp", "goes with regexp"},
	"math/rand":           {"math/big", "the search for primes; nobody calls it here"},
}

func TestTheEngineCarriesOnlyWhatItMay(t *testing.T) {
	deps := list(t, inBrowser, "-deps", "./pwa/engine")
	if len(deps) < 10 {
		t.Fatalf("go list names %d packages under the engine: it was not read", len(deps))
	}
	importers := map[string][]string{}
	for _, p := range deps {
		for _, to := range p.Imports {
			importers[to] = append(importers[to], p.ImportPath)
		}
	}
	for _, p := range deps {
		if !p.Standard && !strings.HasPrefix(p.ImportPath, module) && !isCarried(p.ImportPath) {
			t.Errorf("the engine carries %s, which is not on the list with a reason", p.ImportPath)
		}
		for name, why := range banned {
			if p.ImportPath != name && !(strings.HasSuffix(name, "/") && strings.HasPrefix(p.ImportPath, name)) {
				continue
			}
			for _, by := range importers[p.ImportPath] {
				if !slices.Contains(strings.Fields(through[p.ImportPath].by), by) {
					t.Errorf("the engine carries %s by way of %s: %s", p.ImportPath, by, why)
				}
			}
		}
	}
}

func isCarried(path string) bool {
	for name := range carried {
		if path == name || strings.HasPrefix(path, name+"/") {
			return true
		}
	}
	return false
}
