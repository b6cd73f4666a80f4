package sync

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"runtime"
	"sync/atomic"
	"testing"
)

var (
	simSeeds = flag.Int("sim.seeds", 2000, "how many seeds the simulation runs")
	simSeed  = flag.Uint64("sim.seed", 0, "run this one seed of the simulation")
)

// simulate runs one seed: a rough time, a calm one in which all must come together, and the reckoning.
func simulate(seed uint64, broken sabotage, calm bool) *simWorld {
	rnd := rand.New(rand.NewPCG(seed, 0x5717))
	w := &simWorld{rnd: rnd, broken: broken, calm: calm, seen: map[string]int{}, had: map[address]map[*simPhone]bool{}}
	w.faults = simFaults{
		lose: rnd.Float64() * 0.10, double: rnd.Float64() * 0.15, delay: rnd.Int64N(60), cut: 3000 + rnd.Int64N(20_000),
		phoneCrash: 5000 + rnd.Int64N(30_000), storeCrash: 3000 + rnd.Int64N(20_000), cutAtSync: rnd.Float64() * 0.1,
		sync: 2 + rnd.Int64N(150), disk: 2 + rnd.Int64N(100),
		backup: 1000 + rnd.Int64N(8000), restore: 6000 + rnd.Int64N(30_000), gone: 15_000 + rnd.Int64N(60_000),
	}
	w.faults.damage = 15_000 + rnd.Int64N(60_000)
	if seed%4 == 0 {
		// A store and a phone that are both brought back from old copies may truly have two histories.
		w.faults.old = 10_000 + rnd.Int64N(20_000)
	}
	names := []string{"shelf", "workshop"}
	w.store = newSimStore(w, names)
	for i := range 3 + rnd.IntN(3) {
		w.phones = append(w.phones, newSimPhone(w, i, names))
	}
	n := 0
	for i, p := range w.phones {
		burst := 1
		if seed%25 == 0 && i == 0 {
			burst = 1500 // F7: more than a window of full batches
		}
		var act func()
		act = func() {
			if w.now > 30_000 || p.replica == nil {
				return
			}
			for range burst {
				n++
				p.write(names[rnd.IntN(len(names))], n)
			}
			w.in(w.within(800*int64(burst)), act)
		}
		w.in(w.within(800), act)
	}
	w.weather()
	var second func()
	second = func() {
		w.store.tick()
		for _, p := range w.phones {
			p.do(p.conn, p.replica.Tick(p.clock()))
			p.wayBack()
			p.handAgain()
			if p.conn == nil && (w.calm || rnd.IntN(3) == 0) {
				p.connect()
			}
		}
		w.in(1000, second)
	}
	w.in(0, second)
	w.run(30_000, nil)
	w.calm = true
	w.run(w.now+300_000, w.together)
	if len(w.failed) == 0 && !w.together() {
		w.fail("after five calm minutes the phones and the store do not agree")
	}
	w.reckon()
	return w
}

// together tells whether nothing is left to be said.
func (w *simWorld) together() bool {
	for _, p := range w.phones {
		if p.gone || w.store.revoked[p.device] {
			continue
		}
		if p.replica == nil || p.anew || p.shut() || p.writing > 0 || p.replica.Unsent() > 0 {
			return false
		}
		for _, name := range w.store.names {
			g := w.store.logs[name]
			if part := p.replica.Part(name); !part.Epoch.IsZero() && part.Epoch != w.store.epoch {
				return false // it has not met the store's new life
			}
			if g.durable != len(g.envelopes) || len(p.disk[name].envelopes) < g.durable || w.broken != blindPhone && p.replica.Part(name).Down.Seq < uint64(g.durable) {
				return false
			}
		}
	}
	return true
}

// reckon checks what must hold at the end.
func (w *simWorld) reckon() {
	for _, p := range w.phones {
		for _, h := range p.handed {
			if w.broken != letsGoAtOnce {
				p.putAside(h.at)
			}
		}
	}
	w.reckonLost()
	for _, p := range w.phones {
		if p.gone || w.store.revoked[p.device] {
			continue
		}
		for _, name := range w.store.names {
			g, d := w.store.logs[name], p.disk[name]
			if len(w.failed) > 0 {
				return
			}
			if at := differ(g.envelopes, d.envelopes); at >= 0 {
				w.fail("phone %s and the store differ in %s at number %d (%d and %d envelopes)", p.device, name, at+1, len(d.envelopes), len(g.envelopes))
			}
			var mine [][]byte
			for i, raw := range g.envelopes {
				v, err := ParseEnvelope(raw)
				if err != nil || v.Seq != uint64(i+1) {
					w.fail("envelope %d of %s: number %d, %v", i+1, name, v.Seq, err)
				}
				if v.Device == p.device {
					mine = append(mine, v.Entry)
				}
			}
			for i, raw := range mine {
				if e, err := ParseEntry(raw); err != nil || e.Seq != uint64(i+1) {
					w.fail("own chain of %s in %s is not dense: number %d at place %d, %v", p.device, name, e.Seq, i+1, err)
				}
			}
			if at := differ(mine, d.own); at >= 0 {
				w.fail("what %s wrote in %s and what the store has of it differ at %d (%d and %d entries)", p.device, name, at+1, len(d.own), len(mine))
			}
			if p.acked[name].Seq > uint64(len(mine)) {
				w.fail("%s was told that %d entries of %s are kept; the store has %d", p.device, p.acked[name].Seq, name, len(mine))
			}
			if w.broken == blindPhone {
				continue
			}
			part := p.replica.Part(name)
			if seq, h := (simSource{w.store, &simConn{device: p.device}}).Head(name, Down); part.Down != (Head{seq, h}) || len(part.Mine) > 0 {
				w.fail("phone %s: head %d of %s where %d is held, %d entries pending", p.device, part.Down.Seq, name, seq, len(part.Mine))
			}
		}
	}
}

// reckonLost checks that whatever a phone that still lives ever had on its disk is in the store, once, also what others
// wrote who are gone; and that every device's own line is dense.
func (w *simWorld) reckonLost() {
	there, last := map[address]bool{}, map[address]uint64{}
	for _, name := range w.store.names {
		for _, raw := range w.store.logs[name].envelopes {
			v, err := ParseEnvelope(raw)
			if err != nil {
				w.fail("an envelope of %s: %v", name, err)
				return
			}
			e, _ := ParseEntry(v.Entry)
			line := address{stream: name, device: v.Device}
			if last[line]++; w.broken != blindStore && e.Seq != last[line] {
				w.fail("number %d of %s in %s stands where %d belongs", e.Seq, v.Device, name, last[line])
			}
			there[address{name, v.Device, e.Seq}] = true
		}
	}
	for at, by := range w.had {
		for p := range by {
			if there[at] {
				if len(by) > 0 && w.goneFor(at.device) {
					w.seen["an entry of a device that is gone"]++
				}
				break
			}
			if !p.gone && !w.store.revoked[p.device] {
				w.fail("phone %s had number %d of %s in %s, and the store has lost it", p.device, at.seq, at.device, at.stream)
				break
			}
		}
	}
}

func (w *simWorld) goneFor(d DeviceID) bool {
	for _, p := range w.phones {
		if p.device == d {
			return p.gone
		}
	}
	return false
}

// differ gives the first place where two logs are not the same, or -1.
func differ(a, b [][]byte) int {
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) || !bytes.Equal(a[i], b[i]) {
			return i
		}
	}
	return -1
}

// Covers F1 (cut anywhere), F2 (acknowledgement lost after the durable write), F3 (twice, out of order, late), F4 (dark
// sockets), F7 (a burst against a window), F11 (a phone killed anywhere), F16, F17 and F23 (the store killed anywhere,
// its unsynced tail gone), F20 (restored from any older backup, more than once), F25 (wrong clocks), F28 (taken off the
// list in mid-push), F12 (a phone brought back from an old copy of itself), copies that go bad on a phone, and phones that are
// lost for good.
func TestSimulationLosesNothingAndAppliesNothingTwice(t *testing.T) {
	first, last := uint64(1), uint64(*simSeeds)
	if *simSeed != 0 {
		first, last = *simSeed, *simSeed
	}
	seen, worlds := map[string]int{}, make(chan *simWorld)
	var next atomic.Uint64
	next.Store(first - 1)
	for range runtime.GOMAXPROCS(0) {
		go func() {
			for seed := next.Add(1); seed <= last; seed = next.Add(1) {
				w := simulate(seed, sound, false)
				if w.seed = seed; len(w.failed) > 0 {
					next.Store(last)
				}
				worlds <- w
			}
			worlds <- nil
		}()
	}
	done := 0
	for working := runtime.GOMAXPROCS(0); working > 0; {
		w := <-worlds
		if w == nil {
			working--
			continue
		}
		if len(w.failed) > 0 {
			t.Errorf("seed %d (go test ./sync -run Simulation -sim.seed=%d):\n%s", w.seed, w.seed, lines(w.failed))
		}
		for what, n := range w.seen {
			seen[what] += n
		}
		if done++; done%10_000 == 0 {
			t.Logf("%d seeds", done)
		}
	}
	t.Logf("seeds %d to %d", first, last)
	if *simSeed != 0 || *simSeeds < 500 {
		return
	}
	for _, what := range []string{"a message lost", "a message twice", "a cut", "a dark socket", "a have", "a crash of a phone",
		"an uncommitted entry lost", "a crash of the store", "an unsynced tail lost", "an acknowledgement cut off after the sync",
		"an entry that the store had already", "a restore from an older backup", "an entry taken back",
		"an entry taken back under another number", "a log swapped", "a device revoked while connected",
		"a phone gone for good", "an entry of a device that is gone", "a copy that cannot be read", "a copy that was mended",
		"a copy that another life cannot mend", "a phone restored from its own old copy", "a stop of a phone that is an old copy",
		"a phone that goes on as a new device", "a row put aside", "a row handed over once more"} {
		if seen[what] == 0 {
			t.Errorf("in %d seeds there was never %s", *simSeeds, what)
		}
	}
	t.Log(seen)
}

// A simulation that passes whatever is done to it shows nothing. Each rule is broken once, and must be noticed; in calm
// weather the same broken side must pass, or it would be the harness that was noticed.
func TestSimulationNoticesBrokenRules(t *testing.T) {
	for name, broken := range map[string]sabotage{
		"acknowledged before synced":                   ackBeforeSync,
		"store does not compare numbers":               blindStore,
		"phone does not compare numbers":               blindPhone,
		"phone offers what is not on its disk":         offerBeforeCommit,
		"phone throws pending entries away at a start": forgetsPending,
		"restored without a new epoch":                 keepsEpoch,
		"restored store takes nothing back":            takesNothingBack,
		"a copy is mended from another life":           mendsFromAnotherLife,
		"what was handed over is let go of at once":    letsGoAtOnce,
	} {
		t.Run(name, func(t *testing.T) {
			for seed := uint64(1); seed <= 3; seed++ {
				if w := simulate(seed, broken, true); len(w.failed) > 0 {
					t.Fatalf("calm seed %d fails, so this shows nothing:\n%s", seed, lines(w.failed))
				}
			}
			for seed := uint64(1); seed <= 200; seed++ {
				if w := simulate(seed, broken, false); len(w.failed) > 0 {
					t.Logf("noticed with seed %d: %s", seed, w.failed[0])
					return
				}
			}
			t.Fatal("200 seeds ran through as though nothing were wrong")
		})
	}
}

// The same seed is the same run, or a printed seed would be of no use.
func TestSimulationReplays(t *testing.T) {
	for seed := uint64(1); seed <= 5; seed++ {
		a, b := simulate(seed, sound, false), simulate(seed, sound, false)
		if fmt.Sprint(a.seen, a.now, a.n, a.store.logs["shelf"].running) != fmt.Sprint(b.seen, b.now, b.n, b.store.logs["shelf"].running) {
			t.Fatalf("seed %d ran in two ways", seed)
		}
	}
}

func lines(of []string) string {
	out := ""
	for _, s := range of {
		out += "  " + s + "\n"
	}
	return out
}
