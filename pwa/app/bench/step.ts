// What each step of the bench is given.

import type { Bench, Step } from '../../shell/contract';
import type { Act } from '../act';

/** What is half done at one step; kept on this phone, so that a reload finds it on the pad again. */
export interface Half {
  step: string;
  text: string;
  lot: string | undefined;
  unit: string | undefined;
  method: string | undefined;
  dilution: string | undefined;
  place: string | undefined;
  says: string | undefined;
}

export function nothing(step: string): Half {
  return { step, text: '', lot: undefined, unit: undefined, method: undefined, dilution: undefined, place: undefined, says: undefined };
}

export interface StepProps {
  batch: string;
  bench: Bench;
  step: Step;
  half: Half;
  change: (change: Partial<Half>) => void;
  act: Act;
  /** the step is written down: forget what was half done and go on */
  after: () => void;
}
