// Which notes stand open, and beside what: by line, by phase, or about the whole.

import type { Finding } from '../../shell/contract';
import { OPEN_AT_FIRST } from '../parts/findings';
import { heaviestFirst } from '../words';

export interface Placed {
  of: Finding;
  open: boolean;
}

export interface Margin {
  line(id: string): Placed[];
  phase(letter: string): Placed[];
  whole: Placed[];
  /** how many are folded to their word */
  folded: number;
}

export function placeNotes(findings: readonly Finding[], all: boolean): Margin {
  const checked = findings.filter((f) => f.level !== 'unchecked');
  const open = new Set(all ? checked : heaviestFirst(checked).slice(0, OPEN_AT_FIRST));
  const placed = checked.map((of) => ({ of, open: open.has(of) }));
  return {
    line: (id) => placed.filter((p) => p.of.line === id && id !== ''),
    phase: (letter) => placed.filter((p) => p.of.line === '' && p.of.phase === letter && letter !== ''),
    whole: placed.filter((p) => p.of.line === '' && p.of.phase === ''),
    folded: placed.length - open.size,
  };
}
