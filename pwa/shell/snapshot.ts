// The snapshot of the book on this phone: a cache beside its entries, by which a start need not fold all of them. It is
// written at a quiet moment and in one transaction, and dropped with whatever puts another log under it. Lost, damaged or
// of another engine, it is not used, the book is folded from its entries, and nobody is told.

import { call, Op } from './engine';
import { result, transact } from './idb';
import { mergeChunks, tailOf, write, type Chunk } from './keep';

/** Keys of its rows in meta: first the head, then pieces of bytes. */
const row = (n: number) => ['snapshot', n];
const rows = () => IDBKeyRange.bound(['snapshot'], ['snapshot', []]);

interface Head {
  /** the engine that wrote it: another one may fold otherwise */
  engine: string;
  /** as the door gave it and gets it back */
  head: string;
  sum: string;
  /** how far each stream is folded in it */
  heads: Record<string, number>;
}

export interface Quick extends Head {
  bytes: Uint8Array;
  /** of each stream the chunks from that on in which the snapshot ends */
  tail: Chunk[];
}

/** The snapshot, if this engine made one, and what follows it. */
export function readQuick(): Promise<Quick | undefined> {
  return transact(['meta', 'chunks'], 'readonly', (tx) => {
    const meta = tx.objectStore('meta');
    const tails: (() => Chunk[])[] = [];
    let head: Head | undefined;
    const pieces = result(meta.getAll(IDBKeyRange.bound(row(1), row(Infinity))) as IDBRequest<Uint8Array[]>);
    const there = meta.get(row(0)) as IDBRequest<Head | undefined>;
    there.onsuccess = () => {
      if (there.result?.engine !== __ENGINE_URL__) return;
      head = there.result;
      for (const [stream, seq] of Object.entries(head.heads)) tailOf(tx, stream, seq, (tail) => tails.push(tail));
    };
    return () => {
      if (!head) return undefined;
      const bytes = new Uint8Array(pieces().reduce((sum, piece) => sum + piece.length, 0));
      let at = 0;
      for (const piece of pieces()) {
        bytes.set(piece, at);
        at += piece.length;
      }
      return { ...head, bytes, tail: tails.flatMap((tail) => tail()) };
    };
  }).catch(() => undefined);
}

/** Part of a transaction over meta that puts another log under the book. */
export function dropIn(tx: IDBTransaction): void {
  tx.objectStore('meta').delete(rows());
}

export function dropSnapshot(): Promise<void> {
  return write(['meta'], (tx) => {
    dropIn(tx);
    return () => undefined;
  });
}

/**
 * Writes the book down as it is in the home store's order. Between two pieces whatever waits comes first; nothing may be
 * stored meanwhile. Chunks behind the last snapshot are joined before, since a quick start does not see them again.
 */
export async function makeSnapshot(since: Record<string, number>, stopped: () => boolean): Promise<Record<string, number> | undefined> {
  const pieces: Uint8Array[] = [];
  for (;;) {
    const answer = call(Op.snapshot, { on: pieces.length > 0 });
    if (!answer.ok || stopped()) return undefined;
    pieces.push(answer.raw.slice());
    const { more, ...said } = JSON.parse(answer.text) as Omit<Head, 'engine'> & { more: boolean };
    if (more) {
      await new Promise((resolve) => setTimeout(resolve));
      continue;
    }
    await joinTail(since, said.heads);
    await write(['meta'], (tx) => {
      dropIn(tx);
      tx.objectStore('meta').put({ ...said, engine: __ENGINE_URL__ }, row(0));
      pieces.forEach((piece, i) => tx.objectStore('meta').put(piece, row(i + 1)));
      return () => undefined;
    });
    return said.heads;
  }
}

async function joinTail(since: Record<string, number>, heads: Record<string, number>): Promise<void> {
  const tails: (() => Chunk[])[] = [];
  await transact(['chunks'], 'readonly', (tx) => {
    for (const stream of Object.keys(heads)) tailOf(tx, stream, since[stream] ?? 0, (tail) => tails.push(tail));
    return () => undefined;
  });
  await mergeChunks(
    tails.flatMap((tail) => tail()),
    2,
  );
}
