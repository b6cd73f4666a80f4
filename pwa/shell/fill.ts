// Filling the engine with what is kept on this phone.

import { setAside } from './aside';
import { asResult, call, join, Op, type Answer } from './engine';
import { mergeChunks, readAll, readChunks, type Chunk, type Kept } from './keep';
import type { Quick } from './snapshot';
import { sentence, Unreadable } from './trouble';

function must(answer: Answer): void {
  if (answer.ok) return;
  const refused = asResult(answer);
  throw new Unreadable(refused.ok ? '' : sentence(refused.error));
}

/**
 * Fills the engine with what is kept. What cannot be read is put aside, and nothing of it is lost. From a snapshot that
 * does not fit nothing is taken, and the answer is a refusal or none.
 */
export async function fill(kept: Kept, quick?: Quick): Promise<Answer | undefined> {
  const good: Chunk[] = [];
  const bad: Chunk[] = [];
  must(call(Op.start, { ...kept.device, acked: kept.acked, epochs: kept.epochs, torn: kept.torn }));
  if (quick && !call(Op.load, { kind: 'snapshot', head: quick.head, hash: quick.sum }, quick.bytes).ok) return undefined;
  for (const chunk of quick?.tail ?? (await readChunks())) {
    const { bytes, ...head } = chunk;
    const answer = call(Op.load, { kind: 'chunk', ...head }, bytes);
    if (quick && !answer.ok) return undefined;
    must(answer);
    ((JSON.parse(answer.text) as { aside: boolean }).aside ? bad : good).push(chunk);
  }
  if (bad.length > 0) await setAside(bad);
  else await mergeChunks(good);
  for (const stream of new Set(kept.pending.map((row) => row.stream))) {
    const rows = kept.pending.filter((row) => row.stream === stream);
    const head = { kind: 'pending', stream, from: rows[0]?.seq ?? 0, seqs: rows.map((row) => row.seq), sums: rows.map((row) => row.sum ?? '') };
    must(call(Op.load, head, join(rows.map((row) => row.bytes))));
  }
  return call(Op.loaded, {});
}

/** Reads all that is kept once more, past any snapshot: before it is handed over, what cannot be read is put aside. */
export async function readThrough(): Promise<void> {
  await fill(await readAll());
}
