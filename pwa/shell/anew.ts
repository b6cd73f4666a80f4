// Going on as a new device (sync/PROTOCOL.md, section 13): a new name first, then what this phone holds, then the one step
// by which it is the new one. Cut anywhere before that it is what it was, and a second try goes on with the same name.

import { becomeNew, keepHanded, keepNext, readHanded, readToHandOver, type Taken } from './aside';
import type { Device } from './keep';
import { reason, NoStore, register, UNCHANGED, WAS } from './register';
import { rescueLines } from './rescuefile';

interface Handed extends Taken {
  held: number;
  left: string[];
}

/** The home store knows the new name no more: it was brought back from a backup once again. */
class NotKnown extends Error {}

async function handOver(token: string, was: string, lines: readonly string[]): Promise<Handed> {
  const response = await fetch('/api/handover', {
    method: 'POST',
    headers: { Authorization: `Bearer ${token}`, [WAS]: was, 'Content-Type': 'text/plain' },
    body: new Blob(lines.map((line) => line + '\n')),
    cache: 'no-store',
  }).catch(() => {
    throw new NoStore(UNCHANGED);
  });
  if (response.status === 401) throw new NotKnown('');
  if (!response.ok) throw new NoStore((await reason(response)) || `The home store did not take it in (it answered ${response.status}). This phone keeps all that it holds.`);
  const answer = (await response.json().catch(() => undefined)) as Partial<Handed> | undefined;
  if (typeof answer?.has !== 'object' || typeof answer.heads !== 'object' || typeof answer.epoch !== 'string' || typeof answer.held !== 'number' || !Array.isArray(answer.left)) {
    throw new NoStore('What answered was not the home store. Nothing was changed. Check which network this phone is in.');
  }
  return answer as Handed;
}

/** Resolves with what is told afterwards. */
export async function goOnAsNew(): Promise<string> {
  const { was, next, rows } = await readToHandOver();
  const name = async () => {
    const now = await register(was.token);
    await keepNext(now);
    return now;
  };
  const lines = await rescueLines(rows);
  let now = next ?? (await name());
  let handed: Handed;
  try {
    handed = await handOver(now.token, was.token, lines);
  } catch (error) {
    if (!(error instanceof NotKnown)) throw error;
    now = await name();
    handed = await handOver(now.token, was.token, lines);
  }
  const aside = await becomeNew(was, now, handed);
  const rows1 = (n: number) => (n === 1 ? '1 row' : `${n} rows`);
  return [
    'This phone goes on as a new device.',
    handed.held > 0 && `${rows1(handed.held)} that it had not sent ${handed.held === 1 ? 'waits' : 'wait'} for the owner’s word (Today).`,
    aside > 0 && `${rows1(aside)} could not be taken in and ${aside === 1 ? 'is' : 'are'} put aside on this phone: save them as a file (Settings), and enter once more what they said.`,
  ]
    .filter(Boolean)
    .join(' ');
}

/** The home store began another life before the rows that it had taken came back here: they are handed over once more. */
export async function handAgain(now: Device, epochs: Record<string, string>): Promise<void> {
  const stale = (await readHanded()).filter((row) => epochs[row.stream] !== row.epoch);
  for (const device of new Set(stale.map((row) => row.device))) {
    const rows = stale.filter((row) => row.device === device);
    const keys = rows.map((row) => [row.stream, row.seq]);
    const values = rows.map(({ stream, seq, sum, bytes }) => ({ stream, seq, sum, bytes }));
    const lines = await rescueLines(new Map([['meta', { keys: ['device'], values: [{ device }] }], ['pending', { keys, values }]]));
    await keepHanded(rows, await handOver(now.token, rows[0]?.token ?? '', lines));
  }
}
