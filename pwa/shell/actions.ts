// What the engine asks the shell to do after an input, as JSON beside raw bytes.

import type { Way } from './contract';
import { split, type Answer } from './engine';

export type Action =
  | { do: 'send' }
  | { do: 'persist'; stream: string; epoch: string; after: number; last: number; hash: string; mac: string; mine?: number[] }
  /** envelopes after `after` to `last`, which a restored store wants back */
  | { do: 'fetch'; stream: string; after: number; last: number }
  /** what follows `after` is replaced in one stroke; then the book is read anew */
  | { do: 'swap'; stream: string; epoch: string; was: number; after: number; last: number; hash: string; mac: string; mine?: number[]; seq: number }
  | { do: 'acked'; stream: string; seq: number }
  | { do: 'welcomed'; role: string; letter: string; store: string; clock: string; epochs: Record<string, string> }
  | { do: 'stop'; code: string; says: string; hint: string; fatal: boolean; way?: Way };

/** Why nothing is written on this phone for now. */
export interface Shut {
  tells: string;
  way?: Way;
}

/** Where this phone's copy of a log cannot be read on. */
export interface Torn {
  stream: string;
  after: number;
  /** running hash there, hex */
  hash: string;
  epoch: string;
  last: number;
}

export interface Outcome {
  actions: Action[];
  /** rows that only this phone has */
  unsent: number;
  /** envelopes that the book in memory is folded from */
  folded: number;
  /** views may say something else now */
  changed: boolean;
  shut?: Shut;
  mend?: Torn[];
}

export interface Step {
  action: Action;
  /** for send, persist and swap: the bytes */
  bytes: Uint8Array;
}

const nothing = new Uint8Array();

/** Pairs the actions with their bytes: send, persist and swap take one item each, in order. */
export function steps(answer: Answer): Omit<Outcome, 'actions'> & { steps: Step[] } {
  const { actions, ...outcome } = JSON.parse(answer.text) as Outcome;
  const items = split(answer.raw);
  let next = 0;
  return {
    ...outcome,
    steps: actions.map((action) => ({
      action,
      bytes: action.do === 'send' || action.do === 'persist' || action.do === 'swap' ? (items[next++] ?? nothing) : nothing,
    })),
  };
}
