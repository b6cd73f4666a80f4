// The engine's words for a retained sample as it ages: readings, drift, what is due, two batches beside each other; and for what a
// laboratory's challenge test found. The rules of
// contract.ts hold: figures are strings written by the engine, and bare numbers are shares of a picture.
import type { BatchRow, Figure, Finding, Level, Row, Where } from './contract';
import type { Choice } from './contract-formula';

export interface AgedWord {
  of: string;
  word: string;
}

/** One thing that eye, nose or hand can tell of this product, with its words. */
export interface AgedAsk {
  of: string;
  words: string[];
}

/** A mark on an edge of the picture. */
export interface AgedTick {
  at: number;
  text: string;
}

export interface AgedPoint {
  x: number;
  y: number;
  text: string;
}

/** What was read in one condition by one method, and how it drifts in 30 days. */
export interface AgedSeries {
  /** room, warm, cool, window: which mark its points have */
  condition: string;
  name: string;
  drift: Figure;
  says: string;
  points: AgedPoint[];
}

export interface AgedChart {
  /** pH, mass, density */
  what: string;
  unit: string;
  days: AgedTick[];
  values: AgedTick[];
  series: AgedSeries[];
}

/** What eye, nose and hand said on one day. */
export interface AgedSaid {
  when: string;
  says: string;
}

/** view `ageing` (args: {key}) */
export interface Ageing {
  row: BatchRow;
  age: string;
  /** what to read next and when, '' when no look is left */
  next: string;
  due: boolean;
  /** "1 jar kept back", '' when none is */
  kept: string;
  /** place that one can still be kept back from */
  from: string;
  word: string;
  canWrite: boolean;
  conditions: Choice[];
  asks: AgedAsk[];
  charts: AgedChart[];
  said: AgedSaid[];
  /** the readings, newest first */
  rows: Row[];
  /** what was taken for granted, '' when nothing was */
  says: string;
  findings: Finding[];
  /** batches of the same family that can stand beside this one */
  others: BatchRow[];
}

export interface BesideAged {
  what: string;
  when: string;
  one: string;
  other: string;
  differ: Figure;
}

/** view `agedbeside`: two batches, compared only where they are of like age, condition and method */
export interface AgedBeside {
  one: string;
  other: string;
  says: string;
  rows: BesideAged[];
  /** what has no like on the other side, '' when all has */
  unlike: string;
  findings: Finding[];
}

/** One reading of a sample as typed; '' is not measured, and day '' is today. */
export interface AgedArgs {
  batch: string;
  day: string;
  condition: string;
  ph: string;
  /** strip or meter, per cent in distilled water ('' or neat for neat; in a correction '' stays as written), least step, temperature of what was measured */
  method: string;
  dilution: string;
  step: string;
  sample: string;
  /** with container and lid */
  mass: string;
  density: string;
  words: AgedWord[];
  note: string;
}

/** A line of a report as typed; '' was not counted. */
export interface ChallengeOrganism {
  name: string;
  /** bacteria, yeast, mould */
  kind: string;
  start: string;
  day7: string;
  day14: string;
  day28: string;
}

/** A report of a challenge test as typed. */
export interface ChallengeTyped {
  formula: string;
  /** '' for that of the batch, else the newest */
  revision: string;
  batch: string;
  laboratory: string;
  report: string;
  day: string;
  method: string;
  /** counts or reductions, in powers of ten */
  form: string;
  organisms: ChallengeOrganism[];
  note: string;
  /** entry that this one takes the place of, with why; '' for a new one */
  of: string;
  reason: string;
}

/** One microbe: its log reductions on days 7, 14 and 28. */
export interface ChallengeLine {
  name: string;
  kind: string;
  days: Figure[];
}

export interface ChallengeVerdict {
  name: string;
  /** met, not met, not known */
  met: string;
  against: string;
  source: string;
}

export interface ChallengeTest {
  entry: string;
  /** revision and batch */
  title: string;
  by: string;
  /** that the formula changed after it, '' when it did not */
  since: string;
  struck: boolean;
  reason: string;
  lines: ChallengeLine[];
  criteria: ChallengeVerdict[];
  findings: Finding[];
  typed: ChallengeTyped;
  where: Where;
}

/** view `challenges`: reports of a formula, newest first */
export interface Challenges {
  name: string;
  /** the one that speaks for it, in a sentence; '' without one */
  says: string;
  level: Level | '';
  tests: ChallengeTest[];
  revisions: Choice[];
  batches: Choice[];
  blank: ChallengeTyped;
}

export interface AgeingCommands {
  'formula.challenge': { args: ChallengeTyped; value: { entry: string } };
  'batch.age': { args: AgedArgs; value: { entry: string } };
}

export interface AgeingViews {
  /** batch '' asks for the formula alone */
  challenges: { args: { formula: string; batch: string }; value: Challenges };
  ageing: { args: { key: string }; value: Ageing };
  agedbeside: { args: { key: string; other: string }; value: AgedBeside };
}
