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

/** All of it is here again. */
export function mended(): Promise<void> {
  return write(['meta'], (tx) => {
    tx.objectStore('meta').delete('torn');
    return () => undefined;
  });
}

/** Lets go of what stands in the log once more, pieces and rows: it was read from end to end, and the home store has compared it. */
export function dropMended(heads: Record<string, number>, epochs: Record<string, string>): Promise<void> {
  return write(['aside'], (tx) => {
    tx.objectStore('aside').openCursor().onsuccess = (event) => {
      const at = (event.target as IDBRequest<IDBCursorWithValue | null>).result;
      if (!at) return;
      const { stream, to, epoch } = at.value as Partial<Handed>;
      if (stream && to && epochs[stream] === epoch && to <= (heads[stream] ?? 0)) at.delete();
      at.continue();
    };
    return () => undefined;
  });
}

/** A row that the home store has taken under an earlier name of this phone; it stays until it stands in the log here. */
export interface Handed extends Pending {
  device: string;
  token: string;
  /** the end of the home store's log in which it stands, and its life */
  to: number;
  epoch: string;
}

/** Where rows are that were handed over: by stream their numbers, the end of the log that has them, and its life. */
export interface Taken {
  has: Record<string, number[]>;
  heads: Record<string, number>;
  epoch: string;
}

const HANDED = IDBKeyRange.bound(['handed'], ['handed', []]);

export function readHanded(): Promise<Handed[]> {
  return transact(['aside'], 'readonly', (tx) => result(tx.objectStore('aside').getAll(HANDED) as IDBRequest<Handed[]>));
}

/** They were handed over once more, to another life of the home store. */
export function keepHanded(rows: readonly Handed[], { has, heads, epoch }: Taken): Promise<void> {
  return write(['aside'], (tx) => {
    for (const row of rows) {
      const { device, stream, seq } = row;
      if (has[stream]?.includes(seq)) tx.objectStore('aside').put({ ...row, to: heads[stream] ?? 0, epoch }, ['handed', device, stream, seq]);
    }
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
 * The one step by which this phone is another device. Its rows are put aside under the name that wrote them: those that
 * the home store has on its disk until they come back in the log, all others for good. Killed before it, the phone is what
 * it was. Resolves with how many stay for good.
 */
export function becomeNew(was: Device, now: Device, { has, heads, epoch }: Taken): Promise<number> {
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
      const taken = has[row.stream]?.includes(row.seq);
      if (!taken) left++;
      tx.objectStore('aside').put(
        { ...row, device: was.device, ...(taken && { token: was.token, to: heads[row.stream] ?? 0, epoch }) },
        [taken ? 'handed' : 'rows', was.device, row.stream, row.seq],
      );
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
