package e2e

import (
	"os"
	"path/filepath"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// A spreadsheet with mistakes is told row by row and leaves nothing behind, also over a reload; mended, it is kept, and what was kept can be shared.
func TestASpreadsheetComesInWholeOrNotAtAll(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		dir := t.TempDir()
		table := func(name, text string) string {
			path := filepath.Join(dir, name)
			must(t, os.WriteFile(path, []byte(text), 0o600))
			return path
		}
		bad := table("bad.csv", "recipe;phase;ingredient;%\nMild rinse;A;Distilled water;q.s.\nMild rinse;A;Glycerin;5,5\nDusty;A;moon dust;40\nDusty;A;Glycerin;nine\n")
		good := table("good.csv", "recipe;phase;ingredient;%\nMild rinse;A;Distilled water;q.s.\nMild rinse;A;Glycerin;5,5\n")
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/formulas", "formulas")
		p.Tap("bring formulas in")
		p.At("import")
		choose := func(path string) {
			p.Has(`input[name="file"]`)
			e, err := p.Find(`input[name="file"]`)
			must(t, err)
			must(t, e.Type(path))
		}
		choose(bad)
		p.SeeIn(`[data-part="dry-run"]`, "Nothing is kept yet")
		p.See("line 4, column C, ingredient")
		p.See("line 5, column D, %")
		if n := p.Count(`[data-part="row-trouble"]`); n != 2 {
			t.Errorf("%d rows are told, want 2", n)
		}
		p.Go("/formulas", "formulas")
		p.Gone("Mild rinse")
		p.Go("/formulas/import", "import")
		p.Tap("Another file")
		choose(good)
		p.See("94.50")
		p.Tap("Keep all of it")
		p.At("formula")
		p.See("revision 1")
		p.Tap("Share")
		p.At("share")
		p.SeeIn(`[data-part="file"]`, "Keep as a file")
		p.Tap("Formula card")
		p.At("card")
		p.SeeIn(`[data-part="counts"]`, "not checked")
	})
}
