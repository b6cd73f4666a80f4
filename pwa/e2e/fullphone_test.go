package e2e

import (
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// noRoom lets every write of the worker be refused as a full phone refuses it, from when the page says so.
const noRoom = `{ const says = new BroadcastChannel('room'); let room = true;
says.onmessage = (e) => { if (typeof e.data === 'boolean') { room = e.data; says.postMessage('heard'); } };
const put = IDBObjectStore.prototype.put;
IDBObjectStore.prototype.put = function (...what) {
  if (!room) throw new DOMException('no room', 'QuotaExceededError');
  return put.apply(this, what); }; }
`

// room tells the worker of the page whether there is any.
func (p phone) room(there bool) {
	p.t.Helper()
	must(p.t, p.Await(`const to = new BroadcastChannel('room');
await new Promise((ok) => { to.onmessage = ok; to.postMessage(args[0]); }); to.close();`, nil, there))
}

// A phone without room refuses the write: the screen says that it was not kept and what to do, what was kept before is
// there, and what was typed stands until there is room and it can be sent again.
func TestAPhoneWithoutRoomLosesNothingTyped(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		f := startFront(t, store)
		f.worker = noRoom
		p := phone{t, openBrowser(t, engine, webdriver.Options{Profile: t.TempDir()})}
		must(t, p.Open(f.URL("/")))
		p.At("today")
		p.InTheBook()
		p.ReceiveLot("glycerin", "glycerin", "G-17", "1000")
		p.InTheBook()

		p.Go("/shelf/receive", "receive")
		p.Fill("Which ingredient", "glycerin")
		p.Choose("glycerin")
		p.FillAt(`input[name="grams"]`, "250,5")
		p.room(false)
		p.FillAt(`input[name="code"]`, "G-18")
		p.Tap("Receive")
		p.See("This was not kept: the phone has no room left.")
		p.See("Make room on the phone, then try again.")
		if grams, code := p.value(`input[name="grams"]`), p.value(`input[name="code"]`); grams != "250,5" || code != "G-18" {
			t.Errorf("the screen holds %q and %q after the refusal, want 250,5 and G-18 as typed", grams, code)
		}
		if n := p.Unsent(); n != 0 {
			t.Errorf("%d rows are said to be on this phone, and none was kept", n)
		}
		p.Go("/shelf", "shelf")
		p.See("G-17")
		if ok, err := p.shows("body", "G-18"); err != nil || ok {
			t.Errorf("what was refused stands on the shelf (%v)", err)
		}

		p.room(true)
		p.Go("/shelf/receive", "receive")
		p.Has(`[data-part="chosen"]`)
		if code := p.value(`input[name="code"]`); code != "G-18" {
			t.Errorf("the screen holds %q when it is opened again, want G-18 as typed", code)
		}
		p.Tap("Receive")
		p.At("shelf")
		p.See("G-18")
		p.InTheBook()
		must(t, p.Reload())
		p.See("G-18")
	})
}
