// Saves everything that is kept on this phone as a file, without the engine, the worker or the app: it works when they do
// not. It only reads. Every line of the file is JSON; server/rescue reads it back.

interface Kept {
  keys: IDBValidKey[];
  values: unknown[];
}

const says = document.getElementById('says') as HTMLElement;

function base64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

/** As it is, whatever its version: a page of another age must not change what stands there. */
function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open('stillroom');
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('it does not open'));
    request.onupgradeneeded = () => {
      request.transaction?.abort();
      reject(new Error('nothing was ever kept at this address'));
    };
  });
}

/** Everything but photos that the home store has: they may be many, and they are there. */
function read(db: IDBDatabase): Promise<Map<string, Kept>> {
  return new Promise((resolve, reject) => {
    const names = [...db.objectStoreNames];
    const tx = db.transaction(names, 'readonly');
    const all = new Map<string, Kept>();
    for (const name of names.filter((one) => one !== 'photos')) {
      const kept: Kept = { keys: [], values: [] };
      all.set(name, kept);
      tx.objectStore(name).openCursor().onsuccess = (event) => {
        const at = (event.target as IDBRequest<IDBCursorWithValue | null>).result;
        if (!at) return;
        kept.keys.push(at.key);
        kept.values.push(at.value);
        if (name === 'due') photo(at.key);
        at.continue();
      };
    }
    const photos: Kept = { keys: [], values: [] };
    all.set('photos', photos);
    const photo = (key: IDBValidKey) => {
      const one = tx.objectStore('photos').get(key);
      one.onsuccess = () => {
        photos.keys.push(key);
        photos.values.push(one.result);
      };
    };
    tx.oncomplete = () => resolve(all);
    tx.onabort = () => reject(tx.error ?? new Error('it cannot be read'));
  });
}

function plain(_: string, value: unknown): unknown {
  if (value instanceof Uint8Array) return base64(value);
  if (value instanceof ArrayBuffer) return base64(new Uint8Array(value));
  return value;
}

/** What a home store keeps of a token: it knows the phone by it again, and nobody becomes this phone with it. */
async function proofOf(token: string | undefined): Promise<string | undefined> {
  if (!token || !globalThis.crypto?.subtle) return undefined;
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(token)));
  return [...sum].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

async function lines(of: Map<string, Kept>): Promise<{ text: string; rows: number; pending: number; photos: number }> {
  const meta = of.get('meta');
  const known = meta?.values[meta.keys.indexOf('device')] as Record<string, string> | undefined;
  const own = known && { device: known.device, letter: known.letter, role: known.role, proof: await proofOf(known.token) };
  const out: string[] = [];
  let pending = 0;
  let photos = 0;
  const rows: string[] = [];
  for (const [store, { keys, values }] of of) {
    values.forEach((value, i) => {
      const key = keys[i];
      if (store === 'meta' && key === 'device') {
        // Never the token: whoever has the file must not become this phone.
        rows.push(JSON.stringify({ kept: store, key, value: own }));
        return;
      }
      if (store === 'pending') pending++;
      if (store === 'due') photos++;
      rows.push(JSON.stringify({ kept: store, key, value }, plain));
    });
  }
  out.push(JSON.stringify({ stillroom: 'rescue 1', device: own?.device ?? '', saved: new Date().toISOString() }), ...rows);
  return { text: out.join('\n') + '\n', rows: rows.length, pending, photos };
}

async function offer(): Promise<void> {
  const db = await open();
  const { text, rows, pending, photos } = await lines(await read(db));
  db.close();
  if (rows === 0) {
    says.textContent = 'Nothing is kept at this address.';
    return;
  }
  // A share sheet takes text files; .json is not among its types.
  const file = new File([text], `stillroom-phone-${new Date().toISOString().slice(0, 16).replace(/[-:]/g, '')}.txt`, { type: 'text/plain' });
  const ways = document.getElementById('ways') as HTMLElement;
  const shares = typeof navigator.canShare === 'function' && navigator.canShare({ files: [file] });
  if (shares) {
    const share = document.createElement('button');
    share.className = 'btn';
    share.textContent = 'Share the file';
    share.onclick = () => void navigator.share({ files: [file], title: 'Stillroom' }).catch(() => undefined);
    ways.append(share);
  }
  const save = document.createElement('a');
  save.className = shares ? 'btn second' : 'btn';
  save.id = 'save';
  save.textContent = 'Save the file';
  save.href = URL.createObjectURL(file);
  save.download = file.name;
  ways.append(save);
  const only = [pending > 0 && `${pending} ${pending === 1 ? 'row' : 'rows'}`, photos > 0 && `${photos} ${photos === 1 ? 'photo' : 'photos'}`].filter(Boolean).join(' and ');
  says.textContent = `Ready: ${Math.ceil(file.size / 1024)} kB, with ${only === '' ? 'nothing that is on this phone alone' : only + ' that may be on this phone alone'}. Keep the file where only you can read it.`;
}

offer().catch((error: unknown) => {
  says.textContent = `What is kept could not be read (${error instanceof Error ? error.message : String(error)}). Nothing was deleted. Do not clear this page’s data; load this page again.`;
});
