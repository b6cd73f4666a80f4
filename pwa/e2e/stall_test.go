package e2e

import (
	"encoding/json"
	"io"
	"net/http"
	"strings"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// The day after filling and the stall: no label before the release by name, a sample kept back and read, jars taken out, sold and counted without the
// home store, brought back, and all of it once on a second device.
func TestFromTheNextDayToTheStallAndHome(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/", "today")
		p.InTheBook()
		p.ReadyForOffline()
		p.WriteScrub(scrub.name)
		p.Tap("Save")
		p.See("revision 1")
		p.Tap("Make a batch")
		p.At("start")
		p.Tap("sale")
		p.Plan("24", "120", "4")
		p.See("3,000.0 g")
		p.Tap("Start")
		p.At("bench")
		batch := p.key()
		p.DoAll()
		codes := p.JarCodes()
		p.InTheBook()

		p.TapAt(`[data-part="labels"] summary`)
		p.SeeIn(`[data-part="labels"]`, "This batch rests.")
		p.disabled("Make 23 labels")
		if status, says := labelsOf(t, store, batch); status == http.StatusOK || !strings.Contains(says, "resting") {
			t.Errorf("the store answers %d %q for the labels of a resting batch, want a refusal that says why", status, says)
		}
		p.Tap("Look at it")
		p.At("look")
		p.Tap("firmer")
		p.Tap("Looked at")
		p.SeeIn(`[data-part="looks"]`, "firmer")
		p.Fill("Released by", "Ida Fenn")
		p.TapIn(`[data-part="release"]`, "Release")
		p.Tap("Make 23 labels")
		p.Has(`[data-part="labels"] a[download]`)
		p.InTheBook()
		readByAnother(t, printed(t, store, batch, 2), codes)

		p.Go("/batches/"+batch+"/ageing", "ageing")
		p.Tap("One jar is kept back")
		p.See("1 jar kept back")
		p.Tap("Write a reading")
		p.At("reading")
		p.Tap("room")
		p.Fill("pH", "5,42")
		p.Tap("Keep the reading")
		p.SeeIn(".trouble", "how it was read")
		p.Tap("meter")
		p.Tap("10 % in water")
		p.Tap("Keep the reading")
		p.At("ageing")
		p.SeeIn(`[data-part="aged-pH"]`, "room, meter, 10 % in distilled water")
		p.Tap("Drift of pH")
		p.SeeIn(`[data-part="sum"]`, "day 0: 5.42")

		p.Go("/stall/out", "stall-out")
		p.FillAt(`.count-row input`, "8")
		p.TapAt(`[data-part="move"]`)
		p.At("stall")
		p.SeeIn(`[data-part="tiles"]`, "8 left")
		p.TapAt(".sale-name")
		p.FillAt(`input[name="price"]`, "9,50")
		p.Tap("Keep the price")
		p.SeeIn(`[data-part="tiles"]`, "9.50")
		p.InTheBook()

		store.Stop()
		p.Has(`[data-part="calm"]`)
		p.TapAt(`[data-part="sell"]`)
		p.SeeIn(`[data-part="taken"]`, "9.50")
		dry()
		p.TapAt(`[data-part="sell"]`)
		p.SeeIn(`[data-part="taken"]`, "19.00")
		dry()
		p.Tap("Undo last")
		p.Has(`[data-struck="true"]`)
		p.SeeIn(`[data-part="taken"]`, "9.50")
		p.SeeIn(`[data-part="tiles"]`, "7 of 8 left")
		must(t, p.Reload())
		p.At("stall")
		p.SeeIn(`[data-part="taken"]`, "9.50")
		p.Tap("Count")
		p.At("stall-count")
		p.FillAt(`.count-row input`, "6")
		p.Tap("Keep the count")
		p.SeeIn(`[data-part="difference"]`, "7 expected")
		p.Go("/stall/back", "stall-back")
		p.TapIn(".count-row", "all")
		p.TapAt(`[data-part="move"]`)
		p.At("stall")
		p.SeeIn(`[data-part="tiles"]`, "0 of 8 left")
		if p.Unsent() == 0 {
			t.Error("nothing is said to be on this phone alone, with the home store away")
		}

		store.Start()
		p.InTheBook()
		second := openPhone(t, engine, store, webdriver.Options{}, "/stall", "stall")
		second.SeeIn(`[data-part="taken"]`, "9.50")
		if n, want := second.Count(`[data-part="sales"] [data-entry]`), p.Count(`[data-part="sales"] [data-entry]`); n != want {
			t.Errorf("the second device shows %d rows of the stall, the first %d", n, want)
		}
		second.Close()
		p.Close()
		store.Stop()
		onceEach(t, store.Export(), 20)
	})
}

// key is the last part of the address.
func (p phone) key() string {
	p.t.Helper()
	url, err := p.URL()
	must(p.t, err)
	return url[strings.LastIndex(url, "/")+1:]
}

// labelsOf asks the store for the labels of a batch, as a phone does: a PDF, or what speaks against it.
func labelsOf(t *testing.T, store *homeStore, batch string) (status int, answer string) {
	t.Helper()
	res, err := http.Post(store.URL("/api/devices"), "application/json", strings.NewReader("{}"))
	must(t, err)
	defer res.Body.Close()
	var device struct{ Token string }
	must(t, json.NewDecoder(res.Body).Decode(&device))
	req, err := http.NewRequest(http.MethodGet, store.URL("/api/labels?batch="+batch+"&sheet=a4-21"), nil)
	must(t, err)
	req.Header.Set("Authorization", "Bearer "+device.Token)
	res, err = http.DefaultClient.Do(req)
	must(t, err)
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	must(t, err)
	return res.StatusCode, string(body)
}
