// What is put aside on this phone: pieces of the book that could not be read, and rows that an earlier name of this phone
// wrote and that no book can take. Nothing here is deleted before the home store has it.

import { transact, result } from './idb';
import { write, type Chunk, type Device, type Pending } from './keep';
import { dropIn } from './snapshot';
import type { Rows } from './rescuefile';

/** Puts pieces aside that cannot be read, and notes that their streams are torn until all of it is here again. */
export function setAside(chunks: readonly Chunk[]): Promise<void> {
  return write(['chunks', 'aside', 'meta'], (tx) => {
    const meta = tx.objectStore('meta');
    const torn = meta.get('torn') as IDBRequest<Record<string, number> | undefined>;
    torn.onsuccess = () => {
      const last = { ...torn.result };
      for (const chunk of chunks) {
        last[chunk.stream] = Math.max(last[chunk.stream] ?? 0, chunk.to);
        tx.objectStore('aside').put(chunk, ['chunks', chunk.stream, chunk.from, Date.now()]);
        tx.objectStore('chunks').delete([chunk.stream, chunk.from]);
      }
      meta.put(last, 'torn');
      dropIn(tx);
    };
    return () => undefined;
  });
}

/** All of it is here again. In another life of the home store its acknowledgements are what it has. */
export function mended(acked: Record<string, number>): Promise<void> {
  return write(['meta'], (tx) => {
    tx.objectStore('meta').delete('torn');
    tx.objectStore('meta').put(acked, 'acked');
    return () => undefined;
  });
}

/** Lets go of pieces that stand in the log once more: it was read from end to end, and the home store has compared it. */
export function dropMended(heads: Record<string, number>, epochs: Record<string, string>): Promise<void> {
  return write(['aside'], (tx) => {
    tx.objectStore('aside').openCursor(IDBKeyRange.bound(['chunks'], ['chunks', []])).onsuccess = (event) => {
      const at = (event.target as IDBRequest<IDBCursorWithValue | null>).result;
      if (!at) return;
      const { stream, to, epoch } = at.value as Chunk;
      if (epochs[stream] === epoch && to <= (heads[stream] ?? 0)) at.delete();
      at.continue();
    };
    return () => undefined;
  });
}

export interface ToHandOver {
  was: Device;
  /** the name that was given already, at a try that did not come to its end */
  next: Device | undefined;
  rows: Map<string, Rows>;
}

/** What this phone hands over to go on as a new device. */
export function readToHandOver(): Promise<ToHandOver> {
  return transact(['meta', 'chunks', 'pending'], 'readonly', (tx) => {
    const meta = tx.objectStore('meta');
    const was = result(meta.get('device') as IDBRequest<Device>);
    const next = result(meta.get('next') as IDBRequest<Device | undefined>);
    const of = (name: 'chunks' | 'pending') => {
      const keys = result(tx.objectStore(name).getAllKeys());
      const values = result(tx.objectStore(name).getAll() as IDBRequest<unknown[]>);
      return () => ({ keys: keys(), values: values() });
    };
    const chunks = of('chunks');
    const pending = of('pending');
    return () => ({ was: was(), next: next(), rows: new Map([['meta', { keys: ['device'], values: [was()] }], ['chunks', chunks()], ['pending', pending()]]) });
  });
}

export function keepNext(next: Device | undefined): Promise<void> {
  return write(['meta'], (tx) => {
    if (next) tx.objectStore('meta').put(next, 'next');
    else tx.objectStore('meta').delete('next');
    return () => undefined;
  });
}

/**
 * The one step by which this phone is another device: rows that the home store has on its disk go, all others are put
 * aside under the name that wrote them. Killed before it, the phone is what it was. Resolves with how many were put aside.
 */
export function becomeNew(was: Device, now: Device, has: Record<string, number[]>): Promise<number> {
  return write(['meta', 'pending', 'aside'], (tx, giveUp) => {
    const meta = tx.objectStore('meta');
    let left = 0;
    const there = meta.get('device') as IDBRequest<Device>;
    there.onsuccess = () => {
      if (there.result.device !== was.device) giveUp(new Error('this phone is another device by now'));
    };
    tx.objectStore('pending').openCursor().onsuccess = (event) => {
      const at = (event.target as IDBRequest<IDBCursorWithValue | null>).result;
      if (!at) return;
      const row = at.value as Pending;
      if (!has[row.stream]?.includes(row.seq)) {
        left++;
        tx.objectStore('aside').put({ ...row, device: was.device }, ['rows', was.device, row.stream, row.seq]);
      }
      at.delete();
      at.continue();
    };
    meta.put(now, 'device');
    dropIn(tx);
    meta.put({}, 'acked');
    meta.delete('next');
    meta.delete('torn');
    return () => left;
  });
}
