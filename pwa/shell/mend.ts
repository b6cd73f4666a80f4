// Mending a copy of the book that cannot be read from end to end (sync/PROTOCOL.md, section 14): what follows the good
// beginning comes from the home store, piece by piece, each compared by the engine before it is kept.

import type { Torn } from './actions';
import { asResult, call, Op } from './engine';
import { keepArrivals } from './keep';
import { reason } from './register';

/** Why the home store gave nothing, by its status. */
const CODES: Record<number, string> = { 401: 'token', 403: 'revoked', 409: 'otherwise', 410: 'otherwise' };

export interface Mended {
  /** '' when all of it is here; a code of the engine's; or 'away': it is tried again */
  why: string;
  stream: string;
  /** what a home store says that cannot give it, '' otherwise */
  says: string;
}

async function piece(token: string, torn: Torn): Promise<Response | undefined> {
  const query = new URLSearchParams({ after: String(torn.after), hash: torn.hash, epoch: torn.epoch });
  return fetch(`/api/log/${torn.stream}?${query}`, { headers: { Authorization: `Bearer ${token}` }, cache: 'no-store' }).catch(() => undefined);
}

/** Fetches and keeps all that is missing. `torn` moves on with what is kept, so that a second try goes on from there. */
export async function mend(token: string, torn: readonly Torn[], stopped: () => boolean): Promise<Mended> {
  const out: Mended = { why: '', stream: '', says: '' };
  for (const at of torn) {
    out.stream = at.stream;
    for (;;) {
      const answer = await piece(token, at);
      if (stopped() || !answer) return { ...out, why: 'away' };
      const head = (name: string) => answer.headers.get('Stillroom-' + name) ?? '';
      // A captive portal answers too.
      if (answer.status === 204 && head('Head') !== '') break;
      if (!answer.ok) return { ...out, why: CODES[answer.status] ?? 'away', says: answer.status >= 500 ? await reason(answer) : '' };
      const to = Number(head('To'));
      const body = await answer.arrayBuffer().catch(() => undefined);
      if (stopped() || !body) return { ...out, why: 'away' };
      const bytes = new Uint8Array(body);
      const chunk = { stream: at.stream, epoch: head('Epoch'), from: at.after + 1, to, hash: head('Hash'), mac: head('Mac'), bytes };
      const { bytes: _, ...told } = chunk;
      const said = asResult(call(Op.load, { kind: 'mend', ...told }, bytes));
      if (!said.ok) return { ...out, why: said.error.code };
      await keepArrivals([{ chunk, mine: (said.value as { mine: number[] }).mine }]);
      at.after = to;
      at.hash = chunk.hash;
    }
  }
  return out;
}
