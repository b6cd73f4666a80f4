// Changes to a formula as it stands on the screen. They move text about and never read it: what a figure means is the engine's to say.

import type { Draft, DraftLine, DraftPhase, Plan } from '../../shell/contract';

/** A change to the draft as it is by then; two of them before the screen is drawn again both stand. */
export type Edit = (change: (now: Draft) => Draft) => void;

const usualPlan: Plan = { jars: '10', fill: '100', loss: '4', step: '', container: '' };

export function blank(): Draft {
  return {
    key: '',
    parent: '',
    name: '',
    wash: 'rinse-off',
    site: 'body',
    age: 'adults',
    phases: [phaseOf('A')],
    lines: [],
    plan: usualPlan,
  };
}

function phaseOf(letter: string): DraftPhase {
  return { letter, treatment: { do: '', to: '', holdMin: '' } };
}

/** A mark that no line of this draft has. */
function freshId(draft: Draft): string {
  for (let n = draft.lines.length + 1; ; n++) {
    const id = `l${n}`;
    if (!draft.lines.some((line) => line.id === id)) return id;
  }
}

export interface Chosen {
  ingredient: string;
  base: string;
}

export function addLine(draft: Draft, phase: string, chosen: Chosen): { draft: Draft; id: string } {
  const id = freshId(draft);
  const line: DraftLine = { id, phase, ...chosen, percent: '', qs: false, note: '' };
  return { draft: { ...draft, lines: [...draft.lines, line] }, id };
}

export function setLine(draft: Draft, id: string, change: Partial<DraftLine>): Draft {
  return {
    ...draft,
    lines: draft.lines.map((line) => {
      if (line.id === id) return { ...line, ...change };
      // Only one line takes what is left; the percent typed for the other one stands again.
      return change.qs ? { ...line, qs: false } : line;
    }),
  };
}

export function removeLine(draft: Draft, id: string): Draft {
  return { ...draft, lines: draft.lines.filter((line) => line.id !== id) };
}

/** Puts a line back where it stood, into the draft as it is by now. */
export function putBackLine(draft: Draft, line: DraftLine, at: number): Draft {
  if (draft.lines.some((l) => l.id === line.id)) return draft;
  const lines = [...draft.lines];
  lines.splice(at, 0, line);
  return { ...draft, lines };
}

export function moveLine(draft: Draft, id: string, by: -1 | 1): Draft {
  const line = draft.lines.find((l) => l.id === id);
  if (!line) return draft;
  const mates = draft.lines.filter((l) => l.phase === line.phase);
  const other = mates[mates.indexOf(line) + by];
  if (!other) return draft;
  return { ...draft, lines: draft.lines.map((l) => (l === line ? other : l === other ? line : l)) };
}

const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';

export function nextLetter(draft: Draft): string {
  return [...alphabet].find((letter) => !draft.phases.some((p) => p.letter === letter)) ?? '';
}

export function addPhase(draft: Draft): Draft {
  const letter = nextLetter(draft);
  return letter ? { ...draft, phases: [...draft.phases, phaseOf(letter)] } : draft;
}

export function setPhase(draft: Draft, letter: string, change: Partial<DraftPhase['treatment']>): Draft {
  return {
    ...draft,
    phases: draft.phases.map((p) => (p.letter === letter ? { ...p, treatment: { ...p.treatment, ...change } } : p)),
  };
}

export function setPot(draft: Draft, letter: string, pot: string): Draft {
  return { ...draft, phases: draft.phases.map((p) => (p.letter === letter ? { ...p, pot } : p)) };
}

export function removePhase(draft: Draft, letter: string): Draft {
  return { ...draft, phases: draft.phases.filter((p) => p.letter !== letter), lines: draft.lines.filter((l) => l.phase !== letter) };
}

/** Puts a phase back with the lines that went with it. */
export function putBackPhase(draft: Draft, phase: DraftPhase, at: number, lines: readonly DraftLine[]): Draft {
  if (draft.phases.some((p) => p.letter === phase.letter)) return draft;
  const phases = [...draft.phases];
  phases.splice(at, 0, phase);
  return { ...draft, phases, lines: [...draft.lines, ...lines] };
}

export function sameDraft(a: Draft, b: Draft): boolean {
  return JSON.stringify({ ...a, parent: '' }) === JSON.stringify({ ...b, parent: '' });
}

/** Lines as they were worked out beside the draft, or as they were before; a line added meanwhile stays. */
export function takeLines(draft: Draft, lines: readonly DraftLine[]): Draft {
  const added = draft.lines.filter((line) => !lines.some((l) => l.id === line.id));
  return { ...draft, lines: [...lines, ...added] };
}
