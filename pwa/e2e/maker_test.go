package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"stillroom/pwa/e2e/webdriver"
)

// ingredient is one line of a formula as a maker writes it.
type ingredient struct{ phase, key, name, percent string }

// treatment of a phase.
type treatment struct{ phase, do, to string }

// scrub is the formula that the scenarios write: eight ingredients in four phases, water as the q.s. line. 3,000 g of it
// are 24 jars of 120 g with 4 % loss.
var scrub = struct {
	name  string
	lines []ingredient
	treat []treatment
}{
	name: "Heather whipped scrub",
	lines: []ingredient{
		{"A", "water", "water, distilled", ""},
		{"A", "glycerin", "glycerin", "5.6"},
		{"A", "betaine-30", "cocamidopropyl betaine solution 30 %", "9"},
		{"A", "sci-powder", "sodium cocoyl isethionate powder", "10"},
		{"B", "stearic-50", "stearic acid (grade 50)", "14"},
		{"C", "phenoxyethanol-ehg", "phenoxyethanol and ethylhexylglycerin 90/10", "1"},
		{"C", "parfum", "parfum", "0,9"}, // a comma is a decimal point too
		{"D", "sucrose", "sucrose (sugar)", "46.1"},
	},
	treat: []treatment{{"A", "heat", "75 C"}, {"B", "melt", "75 C"}, {"C", "cool", "100 F"}, {"D", "fold", ""}},
}

// openPhone opens the app of a store at a path and waits for the screen.
func openPhone(t *testing.T, engine string, s *homeStore, o webdriver.Options, path, screen string) phone {
	t.Helper()
	p := phone{t, openBrowser(t, engine, o)}
	must(t, p.Open(s.URL(path)))
	p.At(screen)
	return p
}

// Go opens another address of the app without loading the page anew, as touching a link does.
func (p phone) Go(path, screen string) {
	p.t.Helper()
	must(p.t, p.Run(`history.pushState(null, '', arguments[0]); dispatchEvent(new PopStateEvent('popstate'));`, nil, path))
	p.At(screen)
}

// ReadyForOffline waits until the whole shell is on the phone.
func (p phone) ReadyForOffline() {
	p.t.Helper()
	must(p.t, p.Await(`await navigator.serviceWorker.ready`, nil))
}

// InTheBook waits until the store answers and has everything that this phone has.
func (p phone) InTheBook() {
	p.t.Helper()
	p.until("everything in the book", func() (bool, error) {
		return p.has(`[data-part="link"][data-online="true"][data-unsent="0"]`)
	})
}

// Unsent is the number of rows that only this phone has.
func (p phone) Unsent() int {
	p.t.Helper()
	var n int
	must(p.t, p.Run(`return Number(document.querySelector('[data-part="link"]').dataset.unsent)`, &n))
	return n
}

func (p phone) has(css string) (bool, error) {
	var ok bool
	err := p.Run(`return !!document.querySelector(arguments[0])`, &ok, css)
	return ok, err
}

// Has waits until a CSS selector names something.
func (p phone) Has(css string) {
	p.t.Helper()
	p.until("find "+css, func() (bool, error) { return p.has(css) })
}

// AddLine writes an ingredient into a phase of the formula on the screen.
func (p phone) AddLine(i ingredient) {
	p.t.Helper()
	p.Fill("Add to phase "+i.phase, i.name)
	p.Choose(i.key)
	if i.percent != "" {
		p.Fill(i.name+", per cent", i.percent)
		return
	}
	p.TapIn(`[data-phase="`+i.phase+`"]`, i.name)
	p.TapAt("label.tick")
	p.TapIn(`[data-phase="`+i.phase+`"]`, i.name)
}

// Choose taps an ingredient in the open list once the list stands still: before that a person waits too.
func (p phone) Choose(key string) {
	p.t.Helper()
	p.Has(`[role="listbox"][aria-busy="false"] [data-key="` + key + `"]`)
	p.TapAt(`[role="listbox"][aria-busy="false"] [data-key="` + key + `"]`)
}

// WriteScrub writes the whole formula and leaves it unsaved.
func (p phone) WriteScrub(name string) {
	p.t.Helper()
	p.Go("/formulas/new", "formula")
	p.Fill("Name of the formula", name)
	phase := "A"
	for _, line := range scrub.lines {
		if line.phase != phase {
			phase = line.phase
			p.Tap("Add phase " + phase)
		}
		p.AddLine(line)
	}
	for _, t := range scrub.treat {
		part := `[data-phase="` + t.phase + `"]`
		p.TapAt(part + " .doing")
		p.TapIn(part, t.do)
		if t.to != "" {
			p.FillAt(part+` input[name="to"]`, t.to)
		}
		p.TapAt(part + " .doing")
	}
}

// Plan writes how much is to be made, on the formula or where a batch starts.
func (p phone) Plan(jars, fill, loss string) {
	p.t.Helper()
	p.FillAt(`input[name="jars"]`, jars)
	p.FillAt(`input[name="fill"]`, fill)
	p.FillAt(`input[name="loss"]`, loss)
}

// StartBatch makes a batch of the formula on the screen: 24 jars of 120 g, 4 % loss. It gives the batch's key.
func (p phone) StartBatch() string {
	p.t.Helper()
	p.Tap("Make a batch")
	p.At("start")
	p.Plan("24", "120", "4")
	p.See("3,000.0 g")
	p.Tap("Start")
	p.At("bench")
	url, err := p.URL()
	must(p.t, err)
	return url[strings.LastIndex(url, "/")+1:]
}

// dry waits until a second tap on the same spot is a finger again and not a drop of water.
func dry() { time.Sleep(330 * time.Millisecond) }

// Pad types a figure on the number pad.
func (p phone) Pad(figure string) {
	p.t.Helper()
	last := rune(0)
	for _, digit := range figure {
		if digit == last {
			dry()
		}
		p.TapAt(fmt.Sprintf(`[data-key="%c"]`, digit))
		last = digit
	}
}

// Step tells where the bench stands: what is to be done, and the step's name. what is "" away from any step.
func (p phone) Step() (what, id string) {
	p.t.Helper()
	var at struct{ What, ID string }
	must(p.t, p.Run(`const s = document.querySelector('[data-step]'); return { what: s?.dataset.step || '', id: s?.dataset.stepId || '' };`, &at))
	return at.What, at.ID
}

// DoStep does the step on the screen as planned and waits for the next. It gives what was done, "" when none was left.
func (p phone) DoStep() string {
	p.t.Helper()
	p.until("the bench", func() (bool, error) { return p.has(`[data-screen="bench"] .body`) })
	what, id := p.Step()
	p.Fits()
	dry()
	switch what {
	case "":
		return ""
	case "wear":
		p.Tap("On")
	case "weigh":
		p.TapAt(`[data-part="as-planned"]`)
	case "heat":
		p.Pad("75")
		p.Tap("It reads 75")
	case "cool":
		p.Pad("98")
		p.Tap("It reads 98")
	case "rescue":
		p.Tap("Decide later")
	case "treat":
		p.Tap("Done")
	case "combine":
		p.TapAt(`[data-part="combine"]`)
	case "ph":
		p.Pad("5.2")
		p.Tap("pH 5.2")
	case "fill":
		p.Pad("23")
		p.Tap("23 jars filled")
	default:
		p.t.Fatalf("the bench shows a step %q that no scenario knows", what)
	}
	p.stepAfter(id)
	return what
}

// stepAfter waits until another step than this is shown, or the bench is done. A screen that draws itself anew shows no
// step for a moment: that is not the end of the bench.
func (p phone) stepAfter(id string) {
	p.t.Helper()
	p.until("the step after "+id, func() (bool, error) {
		var now string
		err := p.Run(`const s = document.querySelector('[data-step]');
			if (s) return s.dataset.stepId || '';
			const bench = document.querySelector('[data-screen="bench"]');
			return !bench || bench.textContent.includes('Everything of this batch is written down') ? 'none left' : '';`, &now)
		return err == nil && now != "" && now != id, err
	})
}

// Weigh types what the scale reads for the weighing on the screen, and waits for the next step.
func (p phone) Weigh(grams string) {
	p.t.Helper()
	_, id := p.Step()
	p.Pad(grams)
	p.SeeIn(`[data-part="pad-text"]`, grams)
	p.Tap("Weighed")
	p.stepAfter(id)
}

// DoUntil does steps as planned until one of a kind, at a line's name where one is given, is to be done next.
func (p phone) DoUntil(what, name string) {
	p.t.Helper()
	for range 40 {
		p.Has("[data-step]")
		now, _ := p.Step()
		if now == what {
			if ok, err := p.shows("h1", name); name == "" || err == nil && ok {
				return
			}
		}
		p.DoStep()
	}
	p.t.Fatalf("no step %s %s came", what, name)
}

// DoAll does every step that is left and ends on the record.
func (p phone) DoAll() {
	p.t.Helper()
	for range 40 {
		if p.DoStep() == "fill" {
			p.At("batch")
			return
		}
	}
	p.t.Fatal("filling never came")
}

// JarCodes are the codes of the batch on the screen, without dashes.
func (p phone) JarCodes() []string {
	p.t.Helper()
	var codes []string
	p.until("jar codes", func() (bool, error) {
		err := p.Run(`return [...document.querySelectorAll('[data-part="jars"] a[href^="/j/"]')].map((a) => a.getAttribute('href').slice(3))`, &codes)
		return len(codes) > 0, err
	})
	return codes
}

// ReceiveLot writes down a delivery.
func (p phone) ReceiveLot(key, name, code, grams string) {
	p.t.Helper()
	p.Go("/shelf/receive", "receive")
	p.Fill("Which ingredient", name)
	p.Choose(key)
	p.Has(`[data-part="chosen"]`)
	p.FillAt(`input[name="grams"]`, grams)
	p.FillAt(`input[name="code"]`, code)
	p.Tap("Receive")
	p.At("shelf")
	p.See(code)
}

// CorrectWeight corrects a weighing from the bench's list of steps and goes back to the step that was under way.
func (p phone) CorrectWeight(title, grams, reason string) {
	p.t.Helper()
	p.TapAt("button.where")
	p.Tap("Correct " + title)
	p.FillAt(`.correct-form input[name="value"]`, grams)
	p.FillAt(`.correct-form input[name="reason"]`, reason)
	p.TapIn(".correct-form", "Correct")
	p.SeeIn(`[data-struck="true"]`, reason)
	p.TapAt("button.where")
	p.Has("[data-step]")
}

// FindByTyping types a jar's code on the scanner's screen and waits for the jar.
func (p phone) FindByTyping(code string) {
	p.t.Helper()
	p.Go("/scan", "scan")
	p.FillAt(`input[name="code"]`, code)
	p.Tap("Find")
	p.At("jar")
}
