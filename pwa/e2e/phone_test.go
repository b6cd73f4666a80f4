package e2e

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/pwa/e2e/webdriver"
)

// phone is a browser seen as a person sees it: by what is written on it. Everything waits up to patience for what it
// looks for, and fails the test with the text of the screen when it does not come.
type phone struct {
	t *testing.T
	*webdriver.Session
}

// patience is long, since a machine that is busy with other things opens a book slowly; what comes at once is seen at once.
const patience = 30 * time.Second

// finders are the functions that look at a page as a person would. They are put in front of each script.
const finders = `
const shown = (e) => { const r = e.getBoundingClientRect(); const c = getComputedStyle(e);
  return !e.closest('[inert]') && r.width > 0 && r.height > 0 && c.visibility !== 'hidden' && c.display !== 'none'; };
const words = (s) => (s || '').replace(/\s+/g, ' ').trim();
const named = (e) => words(e.getAttribute('aria-label')) || words(e.innerText || e.textContent);
const first = (css, fits, scope) => { const all = [...(scope || document).querySelectorAll(css)].filter(shown);
  return all.find((e) => fits(e) === 2) || all.find((e) => fits(e) === 1) || null; };
const match = (name) => (text) => text === name ? 2 : text.startsWith(name) ? 1 : 0;
const control = (name, scope) => { const m = match(name);
  return first('button,a[href],summary,[role=button],[role=option],label:has(input[type=radio],input[type=checkbox])', (e) => m(named(e)),
    scope ? document.querySelector(scope) || document.createElement('p') : document); };
const field = (name) => { const m = match(name); const label = (e) => {
    const own = words(e.getAttribute('aria-label')); if (own) return own;
    const by = e.getAttribute('aria-labelledby'); if (by) return words(by.split(' ').map((i) => document.getElementById(i)?.textContent).join(' '));
    const l = e.labels && e.labels[0]; if (!l) return words(e.placeholder);
    const copy = l.cloneNode(true); copy.querySelectorAll('input,select,textarea').forEach((x) => x.remove()); return words(copy.textContent); };
  return first('input,textarea,select', (e) => m(label(e))); };
`

// until asks again and again until the answer is yes.
func (p phone) until(what string, ask func() (bool, error)) {
	p.t.Helper()
	var last error
	for end := time.Now().Add(patience); ; {
		ok, err := ask()
		if ok {
			return
		}
		var e *webdriver.Error
		if err != nil && !errors.As(err, &e) {
			p.t.Fatalf("%s: %v", what, err)
		}
		last = err
		if time.Now().After(end) {
			break
		}
		time.Sleep(40 * time.Millisecond)
	}
	p.Shot("failed " + p.t.Name())
	p.t.Fatalf("%s: not within %s (%v). The screen says:\n%s\nconsole: %s", what, patience, last, p.Screen(), strings.Join(p.Console(), "\n"))
}

// Screen is all the text that the page shows.
func (p phone) Screen() string {
	var text string
	if err := p.Run(`return document.body ? document.body.innerText : ''`, &text); err != nil {
		return "(" + err.Error() + ")"
	}
	return text
}

// Shot keeps a picture of the screen under .build/e2e.
func (p phone) Shot(name string) {
	png, err := p.Picture()
	if err != nil {
		p.t.Log("no picture:", err)
		return
	}
	dir := filepath.Join(root, ".build", "e2e")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		p.t.Log(err)
		return
	}
	path := filepath.Join(dir, strings.NewReplacer("/", "-", " ", "-").Replace(name)+".png")
	if err := os.WriteFile(path, png, 0o644); err != nil {
		p.t.Log(err)
	}
}

// Tap clicks the button, link or choice that is called so: exactly, or else one whose name begins so.
func (p phone) Tap(name string) {
	p.t.Helper()
	p.TapIn("", name)
}

// TapIn does so within the part of the screen that a CSS selector names.
func (p phone) TapIn(css, name string) {
	p.t.Helper()
	p.until("tap "+css+" "+name, func() (bool, error) {
		e, ok, err := p.Pick(finders+`const e = control(arguments[0], arguments[1]); return e && !e.disabled && e.getAttribute('aria-disabled') !== 'true' ? e : null;`, name, css)
		if err != nil || !ok {
			return false, err
		}
		return p.tapped(e)
	})
}

// TapAt clicks the element that a CSS selector names, data-at attributes above all.
func (p phone) TapAt(css string) {
	p.t.Helper()
	p.until("tap at "+css, func() (bool, error) {
		e, ok, err := p.Pick(finders+`return first(arguments[0], (e) => e.disabled ? 0 : 1);`, css)
		if err != nil || !ok {
			return false, err
		}
		return p.tapped(e)
	})
}

func (p phone) tapped(e webdriver.Element) (bool, error) {
	// What the frame's foot lies over is brought to the middle first, as a thumb would. What is in reach stays where it
	// is: scrolling to what sticks to the foot moves the page under it, and the tap then falls beside it.
	var before, now string
	if err := p.Run(`const e = arguments[0], r = e.getBoundingClientRect();
const at = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2);
if (!at || !e.contains(at)) e.scrollIntoView({ block: 'center', behavior: 'instant' });
`+whereItIs, &before, e); err != nil {
		return false, err
	}
	// A thumb goes for what stands still: notes that are still being written push what is below them.
	time.Sleep(35 * time.Millisecond) // two frames
	if err := p.Run(`const e = arguments[0];
window.fell = 'not yet';
addEventListener('click', (c) => { window.fell = e.contains(c.target) ? 'on it' : 'beside it'; }, { capture: true, once: true });
`+whereItIs, &now, e); err != nil || now != before {
		return false, err
	}
	if err := e.Click(); err != nil {
		return false, err
	}
	// When what is pressed is not what is let go, the browser tells their common parent, or nobody. A page that is gone
	// by now was tapped.
	fell := "not yet"
	for end := time.Now().Add(500 * time.Millisecond); fell == "not yet" && time.Now().Before(end); {
		if err := p.Run(`return window.fell || 'on a page that is gone';`, &fell); err != nil {
			return true, nil
		}
	}
	return fell != "beside it" && fell != "not yet", nil
}

// whereItIs tells where an element stands on the screen.
const whereItIs = `const b = e.getBoundingClientRect(); return [b.x, b.y, b.width, b.height].join(' ');`

// Fill puts text in place of what a field holds; the field is found by its label.
func (p phone) Fill(label, text string) {
	p.t.Helper()
	p.fill("fill "+label, finders+`return field(arguments[0]);`, label, text)
}

// FillAt does the same for a field that a CSS selector names.
func (p phone) FillAt(css, text string) {
	p.t.Helper()
	p.fill("fill at "+css, finders+`return first(arguments[0], () => 1);`, css, text)
}

func (p phone) fill(what, find, name, text string) {
	p.t.Helper()
	p.until(what, func() (bool, error) {
		e, ok, err := p.Pick(find, name)
		if err != nil || !ok {
			return false, err
		}
		var kind string
		if err := p.Run(`const e = arguments[0]; e.focus(); if (e.select) e.select(); return e.tagName;`, &kind, e); err != nil {
			return false, err
		}
		if kind == "SELECT" {
			return p.choose(e, text)
		}
		if text == "" {
			text = "\ue003" // the protocol's backspace
		}
		err = e.Type(text)
		return err == nil, err
	})
}

// choose picks the option of a select that reads or begins so.
func (p phone) choose(e webdriver.Element, text string) (bool, error) {
	var ok bool
	err := p.Run(finders+`const e = arguments[0], m = match(arguments[1]); const all = [...e.options];
const o = all.find((o) => m(words(o.text)) === 2) || all.find((o) => m(words(o.text)) === 1);
if (!o) return false; e.value = o.value; e.dispatchEvent(new Event('input', { bubbles: true })); e.dispatchEvent(new Event('change', { bubbles: true })); return true;`, &ok, e, text)
	return ok, err
}

// screen is what the app draws, without the picture of the last screen; another page is a screen as a whole.
const screen = "#app, body:not(:has(#app))"

// See waits until the screen shows the words.
func (p phone) See(text string) {
	p.t.Helper()
	p.until("see "+text, func() (bool, error) { return p.shows(screen, text) })
}

// SeeIn waits until the part of the screen that a CSS selector names shows the words.
func (p phone) SeeIn(css, text string) {
	p.t.Helper()
	p.until("see "+text+" in "+css, func() (bool, error) { return p.shows(css, text) })
}

// Gone waits until the screen does not show the words.
func (p phone) Gone(text string) {
	p.t.Helper()
	p.until("no more "+text, func() (bool, error) {
		ok, err := p.shows(screen, text)
		return err == nil && !ok, err
	})
}

func (p phone) shows(css, text string) (bool, error) {
	var ok bool
	err := p.Run(finders+`return [...document.querySelectorAll(arguments[0])].some((e) => shown(e) && words(e.innerText).includes(arguments[1]));`, &ok, css, text)
	return ok, err
}

// At waits for a screen: formula, bench, batch, lot, lots, today, formulas, scan, jar, start or settings.
func (p phone) At(screen string) {
	p.t.Helper()
	p.until("screen "+screen, func() (bool, error) {
		var ok bool
		err := p.Run(`return !!document.querySelector('[data-screen="' + arguments[0] + '"]')`, &ok, screen)
		return ok, err
	})
}

// Fits fails where the screen is wider than the phone: what runs over the edge cannot be read, and moves what is touched.
func (p phone) Fits() {
	p.t.Helper()
	var wide struct {
		Screen, Window int
		Over           []string
	}
	must(p.t, p.Run(`const w = document.documentElement.clientWidth;
return { screen: document.documentElement.scrollWidth, window: w, over: [...document.querySelectorAll('body *')].filter((e) => e.getBoundingClientRect().right > w + 1 || e.getBoundingClientRect().left + e.scrollWidth > w + 1)
  .map((e) => e.tagName.toLowerCase() + '.' + [...e.classList].join('.') + ' "' + (e.textContent || '').slice(0, 40) + '"') };`, &wide))
	if wide.Screen > wide.Window {
		p.Shot("too wide " + p.t.Name())
		p.t.Errorf("the screen is %d wide in a window of %d: %s", wide.Screen, wide.Window, strings.Join(wide.Over, ", "))
	}
}

// TextAt is the text of the first element that a CSS selector names, waited for.
func (p phone) TextAt(css string) string {
	p.t.Helper()
	var text string
	p.until("text at "+css, func() (bool, error) {
		e, ok, err := p.Pick(finders+`return first(arguments[0], () => 1);`, css)
		if err != nil || !ok {
			return false, err
		}
		text, err = e.Text()
		return err == nil, err
	})
	return text
}

// Count tells how many shown elements a CSS selector names.
func (p phone) Count(css string) int {
	p.t.Helper()
	var n int
	must(p.t, p.Run(finders+`return [...document.querySelectorAll(arguments[0])].filter(shown).length`, &n, css))
	return n
}
