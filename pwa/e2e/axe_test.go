package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// stop is a screen of the demo workshop: its address, one that begins with + under the address before, or "" where a link
// of the screen before leads on.
type stop struct {
	path, follow, screen string
}

// everyScreen in an order in which the links lead from one to the next.
var everyScreen = []stop{
	{"/", "", "today"},
	{"/formulas", "", "formulas"},
	{"", `a[href^="/formulas/"]:not([href$="/new"]):not([href$="/notebook"])`, "formula"},
	{"+/compare", "", "compare"},
	{"/formulas", "", "formulas"},
	{"", `a[href^="/formulas/"]:not([href$="/new"]):not([href$="/notebook"])`, "formula"},
	{"+/challenge", "", "challenge"},
	{"/formulas/new", "", "formula"},
	{"/formulas/notebook", "", "notebook"},
	{"/ingredients/new?name=Fen+clay", "", "own-ingredient"},
	{"/ingredients/glycerin", "", "ingredient"},
	{"/make", "", "make"},
	{"/make/new", "", "start"},
	{"/make", "", "make"},
	{"", `a[href^="/make/"]:not([href^="/make/new"])`, "bench"},
	{"/make", "", "make"},
	{"", `a[href^="/batches/"]`, "batch"},
	{"+/look", "", "look"},
	{"/make", "", "make"},
	{"", `[data-part="batches-made"] .kv:last-of-type`, "batch"},
	{"+/ageing", "", "ageing"},
	{"/make", "", "make"},
	{"", `[data-part="batches-made"] .kv:last-of-type`, "batch"},
	{"+/reading", "", "reading"},
	{"/make", "", "make"},
	{"", `a[href^="/batches/"]`, "batch"},
	{"", `[data-part="jars"] a[href^="/j/"]`, "jar"},
	{"/shelf", "", "shelf"},
	{"", `a[href^="/shelf/lots/"]`, "lot"},
	{"/shelf/receive", "", "receive"},
	{"/stall", "", "stall"},
	{"/stall/out", "", "stall-out"},
	{"/stall/count", "", "stall-count"},
	{"/stall/back", "", "stall-back"},
	{"/scan", "", "scan"},
	{"/settings", "", "settings"},
	{"/settings/law", "", "law"},
	{"/settings/again", "", "again"},
	{"/nowhere", "", "missing"},
}

// Every screen of the demo workshop, by day and by evening, holds to WCAG 2.2 AA as far as a program can tell.
func TestEveryScreenCanBeReadAndTouchedByEverybody(t *testing.T) {
	need(t, "chromium")
	axe, err := os.ReadFile(filepath.Join(root, "pwa", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		t.Skip("SKIPPED ALOUD: axe-core is not here; go run ./cmd/build installs it:", err)
	}
	store := startStore(t, true)
	p := openPhone(t, "chromium", store, webdriver.Options{Profile: t.TempDir()}, "/", "today")
	p.InTheBook()
	// A window as long as the longest page: what the foot lies over for a moment is not out of reach, only not yet there.
	must(t, p.DevTools("Emulation.setDeviceMetricsOverride", map[string]any{"width": 390, "height": 12000, "deviceScaleFactor": 1, "mobile": true}))
	for _, light := range []string{"light", "dark"} {
		must(t, p.DevTools("Emulation.setEmulatedMedia", map[string]any{"features": []map[string]string{{"name": "prefers-color-scheme", "value": light}}}))
		for _, at := range everyScreen {
			if under, ok := strings.CutPrefix(at.path, "+"); ok {
				var here string
				must(t, p.Run(`return location.pathname`, &here))
				p.Go(here+under, at.screen)
			} else if at.path != "" {
				p.Go(at.path, at.screen)
			} else {
				p.Has(at.follow)
				must(t, p.Run(`document.querySelector(arguments[0]).click()`, nil, at.follow))
				p.At(at.screen)
			}
			p.stands()
			for _, says := range p.axe(string(axe)) {
				t.Errorf("%s, %s: %s", at.screen, light, says)
			}
		}
	}
}

// stands waits until a screen has its content.
func (p phone) stands() {
	p.t.Helper()
	p.until("the screen's content", func() (bool, error) {
		var ok bool
		err := p.Run(`return !document.querySelector('.not-yet')`, &ok)
		return ok, err
	})
}

// axe gives what axe-core finds against the screen.
func (p phone) axe(source string) []string {
	p.t.Helper()
	var there bool
	must(p.t, p.Run(`return !!window.axe`, &there))
	if !there {
		must(p.t, p.Run(source, nil))
	}
	var found []struct {
		ID, Help string
		Nodes    []struct{ HTML, FailureSummary string }
	}
	must(p.t, p.Await(`const r = await axe.run(document, { runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'] }, resultTypes: ['violations'] });
return r.violations.map((v) => ({ id: v.id, help: v.help, nodes: v.nodes.map((n) => ({ html: n.html, failureSummary: n.failureSummary })) }));`, &found))
	var says []string
	for _, v := range found {
		for _, n := range v.Nodes {
			says = append(says, fmt.Sprintf("%s (%s): %s %s", v.ID, v.Help, n.HTML, strings.Join(strings.Fields(n.FailureSummary), " ")))
		}
	}
	return says
}
