// What stands in IndexedDB and how it gets there. Every write is fenced: it first reads who owns the book on this
// phone, in its own transaction, so that a tab that lost the book to another can never write beside it.

import type { Action } from './actions';
import { join, split } from './engine';
import { result, transact, type StoreName } from './idb';
import { dropIn } from './snapshot';

export interface Device {
  device: string;
  token: string;
  letter: string;
  role: string;
}

/** Many envelopes of one stream, in order, as received and never encoded again. */
export interface Chunk {
  stream: string;
  epoch: string;
  from: number;
  to: number;
  /** running hash after `to`, hex */
  hash: string;
  /** the home store's mark on that head, hex */
  mac: string;
  bytes: Uint8Array;
}

export interface Pending {
  stream: string;
  seq: number;
  bytes: Uint8Array;
  /** the engine's sum over the bytes; a row of an earlier version has none */
  sum?: string;
}

export interface Kept {
  device: Device | undefined;
  acked: Record<string, number>;
  epochs: Record<string, string>;
  pending: Pending[];
  /** streams that are being mended, with the last number that was put aside */
  torn: Record<string, number>;
  /** pieces of the book, and rows, that are put aside */
  aside: { chunks: number; rows: number; handed: number };
}

/** Another tab has taken the book: what was asked was not kept. */
export class TakenAway extends Error {}
/** The same number of this device's entries holds other bytes: two copies of one phone. */
export class Forked extends Error {}

let owner = '';

/** A request that throws inside an event would end nothing and be told to nobody: it gives the transaction up instead. */
function guard(giveUp: (why: Error) => void, step: () => void): void {
  try {
    step();
  } catch (error) {
    giveUp(error instanceof Error ? error : new Error(String(error)));
  }
}

export function write<T>(names: readonly StoreName[], work: (tx: IDBTransaction, giveUp: (why: Error) => void) => () => T): Promise<T> {
  let why: Error | undefined;
  const all = names.includes('meta') ? names : [...names, 'meta' as const];
  return transact<T>(all, 'readwrite', (tx) => {
    const giveUp = (reason: Error) => {
      why ??= reason;
      try {
        tx.abort();
      } catch {
        // The browser has given it up already.
      }
    };
    let value: (() => T) | undefined;
    const fence = tx.objectStore('meta').get('owner');
    fence.onsuccess = () => {
      if (fence.result !== owner) {
        giveUp(new TakenAway('the book is open in another tab'));
        return;
      }
      guard(giveUp, () => {
        value = work(tx, giveUp);
      });
    };
    return () => (value as () => T)();
  }).catch((error: unknown) => {
    throw why ?? error;
  });
}

/** Makes this worker the one that may write. Every write that another began before is done by then, and none comes after. */
export async function own(): Promise<void> {
  owner = crypto.randomUUID();
  await transact(['meta'], 'readwrite', (tx) => {
    tx.objectStore('meta').put(owner, 'owner');
    return () => undefined;
  });
}

/** Everything that is kept but the chunks. */
export function readAll(): Promise<Kept> {
  return transact(['meta', 'pending', 'aside'], 'readonly', (tx) => {
    const meta = tx.objectStore('meta');
    const device = result(meta.get('device') as IDBRequest<Device | undefined>);
    const acked = result(meta.get('acked') as IDBRequest<Record<string, number> | undefined>);
    const epochs = result(meta.get('epochs') as IDBRequest<Record<string, string> | undefined>);
    const pending = result(tx.objectStore('pending').getAll() as IDBRequest<Pending[]>);
    const torn = result(meta.get('torn') as IDBRequest<Record<string, number> | undefined>);
    const aside = ['chunks', 'rows', 'handed'].map((kind) => result(tx.objectStore('aside').count(IDBKeyRange.bound([kind], [kind, []]))));
    return () => ({ device: device(), acked: acked() ?? {}, epochs: epochs() ?? {}, pending: pending(), torn: torn() ?? {}, aside: { chunks: aside[0]?.() ?? 0, rows: aside[1]?.() ?? 0, handed: aside[2]?.() ?? 0 } });
  });
}

/**
 * All chunks. A browser keeps a large value in a file of its own, and one that is gone spoils the reading of all: then each
 * is read by itself, and one that cannot be is given empty, so that it is found wanting as any other that went bad.
 */
export async function readChunks(): Promise<Chunk[]> {
  const read = <T>(ask: (rows: IDBObjectStore) => IDBRequest) => transact(['chunks'], 'readonly', (tx) => result(ask(tx.objectStore('chunks')) as IDBRequest<T>));
  try {
    return await read<Chunk[]>((rows) => rows.getAll());
  } catch {
    const chunks: Chunk[] = [];
    for (const key of await read<[string, number][]>((rows) => rows.getAllKeys())) {
      const [stream, from] = key;
      const lost: Chunk = { stream, epoch: '', from, to: from, hash: '', mac: '', bytes: new Uint8Array() };
      chunks.push(await read<Chunk>((rows) => rows.get(key)).catch(() => lost));
    }
    return chunks;
  }
}

/** In a transaction: the chunks of a stream from that on in which a number stands. */
export function tailOf(tx: IDBTransaction, stream: string, seq: number, found: (chunks: () => Chunk[]) => void): void {
  const rows = tx.objectStore('chunks');
  const last = rows.openKeyCursor(IDBKeyRange.bound([stream, 0], [stream, seq]), 'prev');
  last.onsuccess = () => found(result(rows.getAll(IDBKeyRange.bound(last.result?.key ?? [stream, 0], [stream, Infinity])) as IDBRequest<Chunk[]>));
}

export function keepMeta(key: 'device' | 'acked' | 'epochs', value: unknown): Promise<void> {
  return write(['meta'], (tx) => {
    tx.objectStore('meta').put(value, key);
    return () => undefined;
  });
}

function same(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, i) => byte === b[i]);
}

/** Keeps new entries of this device, of whichever streams, all or none. */
export function keepEntries(entries: readonly Pending[]): Promise<void> {
  return write(['pending'], (tx, giveUp) => {
    const rows = tx.objectStore('pending');
    for (const entry of entries) {
      const key = [entry.stream, entry.seq];
      const there = rows.get(key) as IDBRequest<Pending | undefined>;
      there.onsuccess = () => {
        // Already there with the same bytes: a repeated try after a lost connection.
        if (!there.result) guard(giveUp, () => rows.put(entry, key));
        else if (!same(there.result.bytes, entry.bytes)) giveUp(new Forked(`entry ${entry.seq} of ${entry.stream} was written twice`));
      };
    }
    return () => undefined;
  });
}

/** A chunk that came, and which of this device's own entries are inside it. */
export interface Arrival {
  chunk: Chunk;
  mine: readonly number[];
}

export function arrival({ stream, epoch, after, last, hash, mac, mine }: Extract<Action, { do: 'persist' }>, bytes: Uint8Array): Arrival {
  return { chunk: { stream, epoch, from: after + 1, to: last, hash, mac, bytes }, mine: mine ?? [] };
}

/** Keeps envelopes and lets go of this device's own entries that are inside them, in one transaction. */
export function keepArrivals(arrivals: readonly Arrival[]): Promise<void> {
  const groups = neighbours(arrivals.map((one) => one.chunk));
  return write(['chunks', 'pending'], (tx, giveUp) => {
    const rows = tx.objectStore('chunks');
    for (const chunk of groups.map(mergeGroup)) {
      const key = [chunk.stream, chunk.from];
      const there = rows.get(key) as IDBRequest<Chunk | undefined>;
      there.onsuccess = () => {
        // A write of which the browser lost the answer may be on disk, and the next line cuts the same envelopes
        // differently: a shorter chunk in its place would take away envelopes whose pending rows are gone already.
        if (there.result && there.result.epoch === chunk.epoch && there.result.to > chunk.to) return;
        guard(giveUp, () => rows.put(chunk, key));
      };
    }
    for (const { chunk, mine } of arrivals) {
      for (const seq of mine) tx.objectStore('pending').delete([chunk.stream, seq]);
    }
    return () => undefined;
  });
}

/** The envelopes of a stream after one number to another, as they are kept. */
export function readEnvelopes(stream: string, after: number, last: number): Promise<Uint8Array> {
  return transact(['chunks'], 'readonly', (tx) => {
    const all = result(tx.objectStore('chunks').getAll(ofStream(stream)) as IDBRequest<Chunk[]>);
    return () => {
      const items: Uint8Array[] = [];
      for (const chunk of all()) {
        split(chunk.bytes).forEach((item, i) => {
          // A write that was made again may stand under two chunks.
          const seq = chunk.from + i;
          if (seq === after + items.length + 1 && seq <= last) items.push(item);
        });
      }
      return join(items);
    };
  });
}

function ofStream(stream: string): IDBKeyRange {
  return IDBKeyRange.bound([stream, 0], [stream, Infinity]);
}

/** Puts a new end in the place of what follows number `after` of a stream, with its epoch, and lets go of own entries in it. */
export function swapEnd(
  { stream, epoch, was, after, last, hash, mac, mine, seq }: Extract<Action, { do: 'swap' }>,
  end: Uint8Array,
  meta: { acked: Record<string, number>; epochs: Record<string, string> },
): Promise<void> {
  return write(['chunks', 'pending', 'meta'], (tx, giveUp) => {
    const rows = tx.objectStore('chunks');
    const there = rows.getAll(ofStream(stream)) as IDBRequest<Chunk[]>;
    there.onsuccess = () => {
      guard(giveUp, () => {
        const chunks = there.result;
        if (chunks.some((chunk) => chunk.to > was)) throw new Error('more is kept than was said');
        // The new end begins inside a chunk, or right behind one: that one is written anew with it.
        const first = chunks.find((chunk) => chunk.from <= after && chunk.to >= after);
        const kept = first ? split(first.bytes).slice(0, after - first.from + 1) : [];
        for (const chunk of chunks) if (chunk === first || chunk.to > after) rows.delete([stream, chunk.from]);
        const from = first?.from ?? after + 1;
        if (last >= from) rows.put({ stream, epoch, from, to: last, hash, mac, bytes: join([...kept, ...split(end)]) }, [stream, from]);
        for (const own of mine ?? []) tx.objectStore('pending').delete([stream, own]);
        dropIn(tx);
        tx.objectStore('meta').put({ ...meta.acked, [stream]: seq }, 'acked');
        tx.objectStore('meta').put({ ...meta.epochs, [stream]: epoch }, 'epochs');
      });
    };
    return () => undefined;
  });
}

const MANY = 48;
const LARGE = 256 << 10;

function follows(a: Chunk, b: Chunk): boolean {
  return a.stream === b.stream && a.epoch === b.epoch && a.to + 1 === b.from;
}

/** Runs of chunks of one stream that follow one another and are not too large together. */
function neighbours(chunks: readonly Chunk[]): Chunk[][] {
  const groups: Chunk[][] = [];
  let size = 0;
  for (const chunk of chunks) {
    const group = groups.at(-1);
    const last = group?.at(-1);
    if (group && last && follows(last, chunk) && size + chunk.bytes.length <= LARGE) {
      group.push(chunk);
      size += chunk.bytes.length;
    } else {
      groups.push([chunk]);
      size = chunk.bytes.length;
    }
  }
  return groups;
}

/** Joins small neighbours when there are many: ten rows are read far faster than a thousand. Returns what now stands. */
export async function mergeChunks(chunks: readonly Chunk[], many = MANY): Promise<Chunk[]> {
  if (chunks.length < many) return [...chunks];
  const groups = neighbours(chunks);
  const merged = groups.map(mergeGroup);
  await write(['chunks'], (tx) => {
    const rows = tx.objectStore('chunks');
    groups.forEach((group, i) => {
      if (group.length === 1) return;
      for (const old of group) rows.delete([old.stream, old.from]);
      const whole = merged[i] as Chunk;
      rows.put(whole, [whole.stream, whole.from]);
    });
    return () => undefined;
  });
  return merged;
}

function mergeGroup(group: readonly Chunk[]): Chunk {
  const first = group[0] as Chunk;
  const last = group.at(-1) as Chunk;
  if (group.length === 1) return first;
  return { ...last, from: first.from, bytes: join(group.flatMap((one) => split(one.bytes))) };
}

export function keepDraft(name: string, value: unknown): Promise<void> {
  return write(['drafts'], (tx) => {
    if (value === undefined) tx.objectStore('drafts').delete(name);
    else tx.objectStore('drafts').put(value, name);
    return () => undefined;
  });
}

export function readDraft(name: string): Promise<unknown> {
  return transact(['drafts'], 'readonly', (tx) => result<unknown>(tx.objectStore('drafts').get(name)));
}

/** Keeps a photo whole, and that the home store does not have it yet. */
export function keepPhoto(name: string, bytes: ArrayBuffer): Promise<void> {
  return write(['photos', 'due'], (tx) => {
    tx.objectStore('photos').put(bytes, name);
    tx.objectStore('due').put(bytes.byteLength, name);
    return () => undefined;
  });
}

export function readPhoto(name: string): Promise<ArrayBuffer | undefined> {
  return transact(['photos'], 'readonly', (tx) => result(tx.objectStore('photos').get(name) as IDBRequest<ArrayBuffer | undefined>));
}

/** Names of the photos that are on this phone alone. */
export function duePhotos(): Promise<string[]> {
  return transact(['due'], 'readonly', (tx) => result(tx.objectStore('due').getAllKeys() as IDBRequest<string[]>));
}

/**
 * A home store that began anew, as after a restore, may lack photos that an earlier one had: in each life of it, told by
 * `epochs`, every photo of this phone is due once more.
 */
export function photosDueIn(epochs: string): Promise<void> {
  return write(['photos', 'due', 'meta'], (tx, giveUp) => {
    const meta = tx.objectStore('meta');
    const last = meta.get('photosIn') as IDBRequest<string | undefined>;
    last.onsuccess = () => {
      if (last.result === epochs) return;
      const all = tx.objectStore('photos').getAllKeys();
      all.onsuccess = () =>
        guard(giveUp, () => {
          for (const name of all.result) tx.objectStore('due').put(0, name);
          meta.put(epochs, 'photosIn');
        });
    };
    return () => undefined;
  });
}

/** The home store has all of a photo. The picture stays here as well. */
export function photoArrived(name: string): Promise<void> {
  return write(['due'], (tx) => {
    tx.objectStore('due').delete(name);
    return () => undefined;
  });
}
