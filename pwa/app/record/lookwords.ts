// The thumb-words of a look, and the look that says nothing yet.

import type { Look } from '../../shell/contract-stall';

interface LookWord {
  name: 'firm' | 'colour' | 'smell' | 'level' | 'top' | 'fluff' | 'grit';
  label: string;
  options: readonly string[];
}

const five: readonly LookWord[] = [
  { name: 'firm', label: 'Firm', options: ['softer', 'same', 'firmer', 'hard'] },
  { name: 'colour', label: 'Colour', options: ['paler', 'same', 'deeper'] },
  { name: 'smell', label: 'Smell', options: ['good', 'faint', 'off'] },
  { name: 'level', label: 'Level', options: ['level', 'sunk', 'risen'] },
  { name: 'top', label: 'Top', options: ['dry', 'wet', 'drops'] },
];

/** Of some products only; the engine says of which. */
const some: readonly LookWord[] = [
  { name: 'fluff', label: 'Fluff', options: ['less', 'same', 'more'] },
  { name: 'grit', label: 'Grit', options: ['sharp', 'softer', 'gone'] },
];

export function lookWords(asks: readonly string[]): LookWord[] {
  return [...five, ...some.filter((w) => asks.includes(w.name))];
}

export const noLook: Look = { batch: '', firm: '', colour: '', smell: '', level: '', top: '', ph: '', note: '' };
