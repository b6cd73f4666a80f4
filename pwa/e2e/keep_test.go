package e2e

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/evanw/esbuild/pkg/api"

	"stillroom/pwa/e2e/webdriver"
)

// keepModule is pwa/shell/keep.ts alone, as a function's body that gives what it exports: run twice it is two tabs.
func keepModule(t *testing.T) string {
	t.Helper()
	built := api.Build(api.BuildOptions{
		EntryPoints: []string{filepath.Join(root, "pwa", "shell", "keep.ts")},
		Bundle:      true,
		Format:      api.FormatIIFE,
		GlobalName:  "keep",
		Target:      api.ES2022,
		Define:      map[string]string{"__ENGINE_URL__": `""`},
		Plugins: []api.Plugin{{Name: "no-engine", Setup: func(b api.PluginBuild) {
			b.OnResolve(api.OnResolveOptions{Filter: `^go:wasm_exec$`}, func(api.OnResolveArgs) (api.OnResolveResult, error) {
				return api.OnResolveResult{Path: "none", Namespace: "none"}, nil
			})
			b.OnLoad(api.OnLoadOptions{Filter: `.*`, Namespace: "none"}, func(api.OnLoadArgs) (api.OnLoadResult, error) {
				nothing := ""
				return api.OnLoadResult{Contents: &nothing}, nil
			})
		}}},
	})
	if len(built.Errors) > 0 {
		t.Fatal(built.Errors[0].Text)
	}
	return string(built.OutputFiles[0].Contents) + "\nreturn keep;"
}

// What is on disk is only ever added to: a shorter chunk does not take a longer one's place, an entry's number is not
// written twice, and a tab that lost the book writes no more.
func TestWhatIsKeptIsNotWrittenOver(t *testing.T) {
	module := keepModule(t)
	inBoth(t, func(t *testing.T, engine string) {
		url, stop := site(t)
		defer stop()
		s := openBrowser(t, engine, webdriver.Options{Profile: t.TempDir()})
		must(t, s.Open(url))
		var got struct {
			To               []int
			Bytes            []int
			Pending          []int
			Forked, Taken    string
			AfterTaken, Last int
			Early, Kept      string
			Before           int
			Back             []int
			Swapped          []string
			Stale            bool
		}
		must(t, s.Await(`
const load = () => new Function(args[0])();
const one = load(), two = load();
const read = async (k) => ({ ...(await k.readAll()), chunks: await k.readChunks() });
const framed = (...items) => { const out = []; for (const i of items) out.push(i.length, 0, 0, 0, ...i); return new Uint8Array(out); };
const chunk = (from, to, epoch) => ({ stream: 'workshop', epoch, from, to, hash: '', mac: '',
  bytes: framed(...Array.from({ length: to - from + 1 }, (_, i) => [from + i])) });
const why = (error) => error.message;
await one.own();
await one.keepEntries([{ stream: 'workshop', seq: 1, bytes: new Uint8Array([7]) }, { stream: 'workshop', seq: 2, bytes: new Uint8Array([8]) }]);
await one.keepArrivals([{ chunk: chunk(1, 5, 'e'), mine: [1] }]);
await one.keepArrivals([{ chunk: chunk(1, 3, 'e'), mine: [] }]);   // cut differently after a lost answer
await one.keepArrivals([{ chunk: chunk(6, 7, 'e'), mine: [] }]);
await one.keepArrivals([{ chunk: chunk(6, 9, 'e'), mine: [] }]);   // a longer one may take its place
await one.keepEntries([{ stream: 'workshop', seq: 2, bytes: new Uint8Array([8]) }]); // a repeated try
const forked = await one.keepEntries([{ stream: 'workshop', seq: 2, bytes: new Uint8Array([9]) }]).then(() => '', why);
await two.own();
const taken = await one.keepArrivals([{ chunk: chunk(10, 11, 'e'), mine: [2] }]).then(() => '', why);
const all = await read(two);
await two.keepArrivals([{ chunk: chunk(1, 2, 'next'), mine: [] }]); // another epoch is another history
const last = await read(two);
// A restored store's end takes the place of the own one, in one stroke, when the own one is what was said.
for (const [from, to] of [[1, 4], [5, 8]]) await two.keepArrivals([{ chunk: { ...chunk(from, to, 'old'), stream: 'shelf' }, mine: [] }]);
await two.keepEntries([{ stream: 'shelf', seq: 1, bytes: new Uint8Array([1]) }, { stream: 'shelf', seq: 2, bytes: new Uint8Array([2]) }]);
const swap = { stream: 'shelf', epoch: 'new', after: 2, last: 9, hash: 'h', mac: 'm', mine: [1], seq: 1 };
const meta = { acked: { shelf: 2 }, epochs: { shelf: 'old' } };
const end = framed(...Array.from({ length: 7 }, (_, i) => [30 + i]));
const early = await two.swapEnd({ ...swap, was: 7 }, end, meta).then(() => '', why);
const before = (await read(two)).chunks.filter((c) => c.stream === 'shelf').length;
const back = [...(await two.readEnvelopes('shelf', 2, 6))].filter((_, i) => i % 5 === 4);
await two.keepMeta(['snapshot', 0], {});   // of the log as it was
await two.swapEnd({ ...swap, was: 8 }, end, meta);
const stale = await new Promise((ok) => { const r = indexedDB.open('stillroom'); r.onsuccess = () => { const q = r.result.transaction('meta').objectStore('meta').get(['snapshot', 0]); q.onsuccess = () => { r.result.close(); ok(q.result !== undefined); }; }; });
const after = await read(two);
const shelf = after.chunks.filter((c) => c.stream === 'shelf');
const swapped = shelf.map((c) => [c.from, c.to, c.epoch, c.mac, [...c.bytes].filter((_, i) => i % 5 === 4).join(' ')].join(','));
const kept = [after.acked.shelf, after.epochs.shelf, after.pending.filter((r) => r.stream === 'shelf').map((r) => r.seq).join(' ')].join(',');
return { to: all.chunks.map((c) => c.to), bytes: all.chunks.map((c) => c.bytes.length), pending: all.pending.map((r) => r.bytes[0]),
  forked, taken, afterTaken: all.chunks.length, last: last.chunks[0].to, early, before, back, swapped, kept, stale };`, &got, module))
		if len(got.To) != 2 || got.To[0] != 5 || got.To[1] != 9 {
			t.Errorf("chunks reach to %v, want 5 and 9: nothing that was written is taken away", got.To)
		}
		if len(got.Bytes) == 2 && (got.Bytes[0] != 25 || got.Bytes[1] != 20) {
			t.Errorf("chunks have %v bytes, want 25 and 20", got.Bytes)
		}
		if len(got.Pending) != 1 || got.Pending[0] != 8 {
			t.Errorf("entries not yet in the book: %v, want the second alone, as it was first written", got.Pending)
		}
		if got.Forked == "" || got.Taken == "" || got.AfterTaken != 2 {
			t.Errorf("two entries of one number: %q; a write after the book was taken: %q, %d chunks", got.Forked, got.Taken, got.AfterTaken)
		}
		if got.Early == "" || got.Before != 2 || fmt.Sprint(got.Back) != "[3 4 5 6]" {
			t.Errorf("a swap of less than is kept: %q, %d chunks left; read back %v", got.Early, got.Before, got.Back)
		}
		if fmt.Sprint(got.Swapped) != "[1,9,new,m,1 2 30 31 32 33 34 35 36]" || got.Kept != "1,new,2" {
			t.Errorf("after the swap: %q, %q", got.Swapped, got.Kept)
		}
		if got.Stale {
			t.Error("a snapshot of the log as it was before the swap is still kept")
		}
		if got.Last != 2 {
			t.Errorf("a chunk of another epoch reaches to %d, want 2", got.Last)
		}
	})
}

// A browser that dropped the connection to IndexedDB in the background, as phones do, costs nothing: it is opened again and
// what was asked is written once.
func TestALostHandleIsOpenedAgain(t *testing.T) {
	module := keepModule(t)
	inBoth(t, func(t *testing.T, engine string) {
		url, stop := site(t)
		defer stop()
		s := openBrowser(t, engine, webdriver.Options{Profile: t.TempDir()})
		must(t, s.Open(url))
		var got struct{ Opened, Rows int }
		must(t, s.Await(`
const handles = [];
const open = IDBFactory.prototype.open;
IDBFactory.prototype.open = function (...what) {
  const request = open.apply(this, what);
  request.addEventListener('success', () => handles.push(request.result));
  return request;
};
const keep = new Function(args[0])();
const row = (seq) => [{ stream: 'workshop', seq, bytes: new Uint8Array([seq]) }];
await keep.own();
await keep.keepEntries(row(1));
handles.at(-1).close();
await keep.keepEntries(row(2));
handles.at(-1).close();
const all = { ...(await keep.readAll()), chunks: await keep.readChunks() };
return { opened: handles.length, rows: all.pending.length };`, &got, module))
		if got.Opened != 3 || got.Rows != 2 {
			t.Errorf("opened %d times with %d rows, want 3 times and both rows", got.Opened, got.Rows)
		}
	})
}
