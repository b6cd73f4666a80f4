// What each step of the bench is given, and what is half done there.

import type { Bench, Step } from '../../shell/contract';
import type { Act } from '../act';

/** What is half done at one step; kept on this phone, so that a reload finds it on the pad again. */
export interface Half {
  text: string;
  lot: string | undefined;
  unit: string | undefined;
  method: string | undefined;
  dilution: string | undefined;
  place: string | undefined;
  says: string | undefined;
  /** temperature of the room, as typed */
  room?: string | undefined;
  /** smallest step of a strip or meter, and the temperature of what was measured */
  fine: string | undefined;
  sample: string | undefined;
}

export const nothing: Half = {
  text: '',
  lot: undefined,
  unit: undefined,
  method: undefined,
  dilution: undefined,
  place: undefined,
  says: undefined,
  fine: undefined,
  sample: undefined,
};

/** What is done beside the steps: something more goes in, a pH is adjusted, or a cup is weighed. */
export interface Beside {
  what: 'add' | 'adjust' | 'cup' | 'nets' | 'rescue' | 'topup';
  phase: string;
  line: string;
  ingredient: string;
  lot: string | undefined;
  text: string;
  out: boolean;
  why: string;
  stage: string;
  full: string;
  empty: string | undefined;
  volume: string | undefined;
  /** the way out that is looked at, and whether what is too much was stirred in */
  way?: string | undefined;
  stirred?: string | undefined;
  /** the figure that the pad writes */
  at: 'text' | 'full' | 'empty' | 'volume';
}

export function beside(what: Beside['what'], phase: string, line = ''): Beside {
  const at = what === 'cup' || what === 'topup' ? 'full' : 'text';
  return { what, phase, line, ingredient: '', lot: undefined, text: '', out: false, why: '', stage: 'whipped', full: '', empty: undefined, volume: undefined, at };
}

/** All that is half done at one bench: each step keeps its own, so that a look at another pot loses nothing. */
export interface AtBench {
  /** step that was gone to, '' for the one that is next */
  chosen: string;
  /** a pot is read again though its step is done: it cools while the other one warms */
  again: boolean;
  halves: Record<string, Half>;
  beside: Beside | undefined;
  /** what is too much in the pot, in the words in which it was put off: it does not open by itself again */
  putOff?: string;
}

export const fresh: AtBench = { chosen: '', again: false, halves: {}, beside: undefined };

/** What an older app kept under this name had one step only; it reads as nothing half done. */
export function asAtBench(kept: Partial<AtBench> | undefined): AtBench {
  return kept?.halves ? { ...fresh, ...kept, halves: kept.halves } : fresh;
}

export interface StepProps {
  batch: string;
  bench: Bench;
  step: Step;
  half: Half;
  change: (change: Partial<Half>) => void;
  act: Act;
  /** opens what is done beside the steps */
  open: (what: Beside) => void;
  /** goes to a step that may be written down already, to read its pot anew */
  read: (step: string) => void;
  /** the step is written down: forget what was half done and go on */
  after: () => void;
}
