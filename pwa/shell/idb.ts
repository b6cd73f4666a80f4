// IndexedDB with two promises kept: "done" is said only after the transaction is complete on disk, and a handle that
// the browser dropped in the background is replaced by a new one.

const NAME = 'stillroom';
const VERSION = 3;
const TRIES = 3;

export const stores = ['meta', 'chunks', 'pending', 'drafts', 'photos', 'due', 'aside'] as const;
export type StoreName = (typeof stores)[number];

let handle: Promise<IDBDatabase> | undefined;

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, VERSION);
    let blocked = false;
    request.onupgradeneeded = () => {
      // Migrations add. They never remove: something unsent may stand there.
      for (const name of stores) {
        if (!request.result.objectStoreNames.contains(name)) request.result.createObjectStore(name);
      }
    };
    request.onsuccess = () => {
      const database = request.result;
      if (blocked) {
        // It comes after all, when the other tab is gone; by then nobody waits for this one, and left open it would
        // block the next.
        database.close();
        return;
      }
      database.onclose = drop;
      // Another tab brings a newer version: let it through, it holds the same records.
      database.onversionchange = () => {
        database.close();
        drop();
      };
      resolve(database);
    };
    request.onerror = () => reject(request.error ?? new Error('the book on this phone could not be opened'));
    request.onblocked = () => {
      blocked = true;
      reject(new Error('another tab holds an older form of the book on this phone'));
    };
  });
}

function drop(): void {
  handle = undefined;
}

/** Whether a second try can help: the connection is gone, not the request wrong or the disk full. */
function isLost(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  if (error.name === 'InvalidStateError') return true;
  return error.name === 'UnknownError' && /connection|lost|closed/i.test(error.message);
}

async function attempt<T>(names: readonly StoreName[], mode: IDBTransactionMode, work: (tx: IDBTransaction) => () => T): Promise<T> {
  handle ??= open();
  const opening = handle;
  const database = await opening.catch((error: unknown) => {
    drop();
    throw error;
  });
  return new Promise<T>((resolve, reject) => {
    const tx = database.transaction(names, mode, { durability: 'strict' });
    let value: (() => T) | undefined;
    tx.oncomplete = () => resolve((value as () => T)());
    tx.onabort = () => reject(tx.error ?? new Error('the write was given up by the browser'));
    try {
      value = work(tx);
    } catch (error) {
      reject(error);
      tx.abort();
    }
  });
}

/**
 * Runs `work` in one transaction and resolves with what the function that it returned answers, after `complete`.
 * A lost connection is opened again, three times in all: an aborted transaction left nothing, so repeating it is safe.
 */
export async function transact<T>(names: readonly StoreName[], mode: IDBTransactionMode, work: (tx: IDBTransaction) => () => T): Promise<T> {
  for (let tries = 1; ; tries++) {
    try {
      return await attempt(names, mode, work);
    } catch (error) {
      if (tries >= TRIES || !isLost(error)) throw error;
      drop();
    }
  }
}

export function result<T>(request: IDBRequest<T>): () => T {
  return () => request.result;
}
