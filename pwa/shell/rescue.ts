// Saves everything that is kept on this phone as a file, without the engine, the worker or the app: it works when they do
// not. It only reads. Every line of the file is JSON; server/rescue reads it back.

import { rescueLines, type Rows } from './rescuefile';

const says = document.getElementById('says') as HTMLElement;

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
function read(db: IDBDatabase): Promise<Map<string, Rows>> {
  return new Promise((resolve, reject) => {
    const names = [...db.objectStoreNames];
    const tx = db.transaction(names, 'readonly');
    const all = new Map<string, Rows>();
    for (const name of names.filter((one) => one !== 'photos')) {
      const kept: Rows = { keys: [], values: [] };
      all.set(name, kept);
      tx.objectStore(name).openCursor().onsuccess = (event) => {
        const at = (event.target as IDBRequest<IDBCursorWithValue | null>).result;
        if (!at) return;
        // A snapshot says nothing that its entries do not.
        if (name !== 'meta' || !Array.isArray(at.key)) {
          kept.keys.push(at.key);
          kept.values.push(at.value);
        }
        if (name === 'due') photo(at.key);
        at.continue();
      };
    }
    const photos: Rows = { keys: [], values: [] };
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

function ask<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = (event) => {
      event.preventDefault();
      reject(request.error ?? new Error('it cannot be read'));
    };
  });
}

/** Row by row, without those that cannot be read: one of them would spoil the reading of all. */
async function readEach(db: IDBDatabase): Promise<Map<string, Rows>> {
  const all = new Map<string, Rows>();
  const rows = (name: string) => db.transaction(name, 'readonly').objectStore(name);
  for (const name of db.objectStoreNames) {
    const kept: Rows = { keys: [], values: [] };
    all.set(name, kept);
    for (const key of await ask(rows(name === 'photos' ? 'due' : name).getAllKeys())) {
      const value = await ask(rows(name).get(key) as IDBRequest<unknown>).catch(() => undefined);
      if (value === undefined) continue;
      kept.keys.push(key);
      kept.values.push(value);
    }
  }
  return all;
}

async function offer(): Promise<void> {
  const db = await open();
  const kept = await read(db).catch(() => readEach(db));
  db.close();
  const lines = await rescueLines(kept);
  const [pending, photos] = ['pending', 'due'].map((name) => kept.get(name)?.keys.length ?? 0) as [number, number];
  if (lines.length === 1) {
    says.textContent = 'Nothing is kept at this address.';
    return;
  }
  // A share sheet takes text files; .json is not among its types.
  const file = new File([lines.join('\n') + '\n'], `stillroom-phone-${new Date().toISOString().slice(0, 16).replace(/[-:]/g, '')}.txt`, { type: 'text/plain' });
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
