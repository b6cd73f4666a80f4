// What the engine answers and what it takes: the one vocabulary between the app and everything below it.
// Every figure is a string, written by the engine for a person to read; the app shows it and never computes with it.
// The only bare numbers are shares between 0 and 1 that tell how much of a picture to fill.

import type { AgeingCommands, AgeingViews } from './contract-ageing';
import type { AidCommands, AidViews } from './contract-aid';
import type { Bench, BenchCommands, BenchViews } from './contract-bench';
import type { FormulaCommands, FormulaViews } from './contract-formula';
import type { LawViews } from './contract-law';
import type { Lot, LotRow } from './contract-lots';
import type { PhotoCommands, PhotoViews } from './contract-photo';
import type { ReckonViews } from './contract-reckon';
import type { ShareCommands, ShareViews } from './contract-share';
import type { StallCommands, StallViews } from './contract-stall';
import type { WorkshopCommands, WorkshopViews } from './contract-workshop';

export type { Bench };

/** Where a row is kept: on this phone alone, or acknowledged by the home store and on its disk. */
export type Where = 'phone' | 'book';

export type Level = 'stop' | 'care' | 'note' | 'wear' | 'unchecked';

export interface Finding {
  rule: string;
  level: Level;
  /** id of the draft line, letter of the phase, or '' for the whole formula */
  line: string;
  phase: string;
  says: string;
  figure: string;
  limit: string;
  source: string;
  do: string;
  /** from when what it was held against is: "table of law, as of 25 Nov 2026", "own entry, written down 12 Nov 2026"; '' where nothing was */
  date: string;
}

/** A refusal: what happened, what was kept, what to do. `field` names what was typed wrong, in the request's own words. */
export interface Refusal {
  code: string;
  says: string;
  hint: string;
  field: string;
}

export type Result<T> = { ok: true; value: T } | { ok: false; error: Refusal };

/** A figure and how it came about, in words and numbers. */
export interface Figure {
  text: string;
  sum: string;
}

export interface Treatment {
  /** mix, heat, melt, cool, whip, fold */
  do: string;
  /** as typed, with unit: "75 C" or "100 F"; '' when none */
  to: string;
  holdMin: string;
}

export interface DraftPhase {
  letter: string;
  treatment: Treatment;
  /** vessel that it stands in; phases of one name stand in one pot, and without a name in a pot of their own */
  pot?: string;
}

export interface DraftLine {
  /** the app's own mark for this line, unique in the draft */
  id: string;
  phase: string;
  /** key of an ingredient of the given list or of the book; '' when it is a base or not chosen yet */
  ingredient: string;
  /** key of a formula used as a base; '' otherwise */
  base: string;
  /** as typed: "9", "9,5"; ignored when qs */
  percent: string;
  qs: boolean;
  note: string;
}

export interface Plan {
  jars: string;
  fill: string;
  loss: string;
  /** readability of the scale in grams: "0.1" or "0.01" */
  step: string;
  /** key of a container, '' when none was chosen */
  container: string;
}

/** A formula as it stands on the screen, exactly as typed. */
export interface Draft {
  /** '' for a formula not yet saved */
  key: string;
  /** revision that this draft starts from, '' for none */
  parent: string;
  name: string;
  /** rinse-off or leave-on */
  wash: string;
  /** body, face, hair, lip, hand … */
  site: string;
  /** adults, 3 to 12, under 3 */
  age: string;
  phases: DraftPhase[];
  lines: DraftLine[];
  plan: Plan;
  /** months that it keeps unopened, and once opened; '' when not said */
  life?: string;
  afterOpen?: string;
}

export interface Layer {
  phase: string;
  /** share of the jar, 0 to 1; the rim is 1 */
  share: number;
  percent: string;
  /** how the phase's share came about, where it is shown */
  sum?: string;
}

export interface SheetLine {
  id: string;
  name: string;
  percent: Figure;
  grams: Figure;
  /** why this line could not be read, '' when it could */
  trouble: string;
}

/** view `sheet` (args: Draft): all that follows from a draft, at every keystroke. */
export interface Sheet {
  lines: SheetLine[];
  total: Figure;
  /** '' when the lines fill the jar exactly; else "3.20 % of air under the rim" or "1.40 % over the rim" */
  gap: string;
  over: boolean;
  layers: Layer[];
  mass: Figure;
  planSays: string;
  /** whether the fill fits the container: "120 g at 0.86 g/mL needs 139.5 mL; this jar holds 150 mL", '' without a container */
  fits: string;
  fitsLevel: Level | '';
  /** fill ÷ density against the brim, '' when it could not be checked */
  fitsSum: string;
  findings: Finding[];
  uncheckedCount: number;
  canSave: boolean;
  canMake: boolean;
  /** why saving or making is not offered, '' when it is */
  because: string;
}

export interface FormulaRow {
  key: string;
  name: string;
  revision: string;
  number: number;
  kind: string;
  layers: Layer[];
  batches: number;
  /** true when two revisions were made apart from one parent and neither follows the other */
  forked: boolean;
  where: Where;
}

/** view `formula` (args: {key, revision?}) */
export interface Formula {
  row: FormulaRow;
  /** whose it is when it is another's, and what it is a variant of; '' for neither */
  from: string;
  draft: Draft;
  revisions: { revision: string; number: number; saved: string; by: string; where: Where }[];
  batches: BatchRow[];
}

/** view `ingredients` (args: {q}): the given list, best match first; '' gives all */
export interface IngredientRow {
  key: string;
  name: string;
  inci: string;
  about: string;
  lots: number;
  onHand: string;
}

export interface BatchRow {
  key: string;
  code: string;
  name: string;
  purpose: string;
  /** making, resting, held, released, discarded */
  state: string;
  says: string;
  started: string;
  jars: string;
  where: Where;
}

/** A row of a batch record. A corrected row keeps what it said, struck through, with the reason. */
export interface Row {
  /** device.seq of the entry that this row shows: what a correction points at */
  entry: string;
  /** weighed, temperature, ph, density, note, looked, aged, filled, state */
  what: string;
  title: string;
  value: string;
  detail: string;
  at: string;
  by: string;
  struck: boolean;
  reason: string;
  /** entry that took the place of a struck row, '' otherwise */
  now: string;
  where: Where;
  /** set when the entry no longer fits what came before it: kept and shown, not applied */
  clash: string;
}

export interface JarRow {
  code: string;
  /** as printed: 7K3QX-04-M */
  shown: string;
  number: number;
  place: string;
  where: Where;
}

/** view `batch` (args: {key}) */
export interface Batch {
  row: BatchRow;
  formula: string;
  revision: string;
  revisionNumber: number;
  layers: Layer[];
  mass: Figure;
  made: string;
  rows: Row[];
  /** what went in, by line, from the record and not from the plan */
  wentIn: { line: string; name: string; target: string; actual: string; actualSum: string; lots: { key: string; code: string; grams: string }[]; percent: Figure }[];
  findings: Finding[];
  jars: JarRow[];
  jarsSays: string;
  places: { place: string; count: number }[];
  /** looks on the days after filling, newest first, as rows */
  looks: Row[];
  canLook: boolean;
  canFill: boolean;
  canRelease: boolean;
  canHold: boolean;
  /** '' or why its jars must not be sold: "invented: not for sale" */
  barred: string;
  /** may be given away */
  canGive: boolean;
  /** what is found in the maker's own words on label and card, and the reasons why they may be printed, '' while one has none */
  words: Finding[];
  wordsWhy: string;
}

export interface LotChoice {
  key: string;
  code: string;
  says: string;
  held: boolean;
}

export interface Step {
  /** stable within the batch: "weigh:3", "heat:A", "ph", "fill" */
  id: string;
  /** wear, weigh, heat, cool, combine, treat, ph, fill */
  what: string;
  phase: string;
  title: string;
  says: string;
  /** line id for a weighing */
  line: string;
  target: Figure;
  /** "300.0", without unit: what the key "scale reads 300.0" says */
  reads: string;
  /** weighed so far and still to go, '' for other steps */
  actual: string;
  toGo: string;
  /** how full the jar is before this step and at its target, 0 to 1 */
  before: number;
  after: number;
  done: boolean;
  lots: LotChoice[];
  wear: Finding[];
  /** entry of the row that closed this step, '' when open */
  entry: string;
  last: string;
}

/** view `jar` (args: {code}): the code as typed or as scanned, link or not */
export interface Jar {
  code: string;
  shown: string;
  /** set when the code was read with help ("O was read as 0") */
  read: string;
  batch: Batch;
  number: number;
  of: number;
  place: string;
  bestBefore: string;
  net: string;
  /** how the two came about */
  bestSum: string;
  netSum: string;
}

/** view `today` */
export interface Today {
  date: string;
  making: BatchRow[];
  resting: BatchRow[];
  held: BatchRow[];
  formulas: number;
  lots: number;
  demo: boolean;
  maker: string;
}

export type { Backup, LinkState, Way } from './contract-link';

/** Commands and their arguments; each answers Result of what stands behind it. */
export interface Commands extends AgeingCommands, AidCommands, BenchCommands, FormulaCommands, PhotoCommands, ShareCommands, StallCommands, WorkshopCommands {
  'formula.save': { args: Draft; value: { key: string; revision: string } };
  'lot.receive': {
    args: { ingredient: string; code: string; supplier: string; supplierLot: string; grams: string; expiry: string; cost: string };
    value: { key: string };
  };
  'lot.hold': { args: { lot: string; held: boolean; reason: string }; value: Record<string, never> };
  'batch.start': {
    args: { formula: string; revision: string; purpose: string; jars: string; fill: string; loss: string; step: string; container: string };
    value: { key: string; code: string };
  };
  /** grams as typed, or '' with asPlanned for the key "scale reads …" */
  'batch.weigh': { args: { batch: string; line: string; lot: string; grams: string; asPlanned: boolean; more: boolean }; value: { entry: string } };
  'batch.wear': { args: { batch: string; phase: string; line: string }; value: { entry: string } };
  /** value with or without unit: "75", "75 C", "167 F" */
  'batch.temperature': { args: { batch: string; phase: string; value: string; unit: string }; value: { entry: string } };
  'batch.treated': { args: { batch: string; phase: string; says: string; do?: 'combine' }; value: { entry: string } };
  /** why questioned words may be printed on this batch */
  'batch.words': { args: { batch: string; reason: string }; value: Record<string, never> };
  'batch.note': { args: { batch: string; text: string }; value: { entry: string } };
  'batch.fill': { args: { batch: string; jars: string; place: string; note: string }; value: { entry: string; jars: number } };
  'batch.hold': { args: { batch: string; reason: string }; value: Record<string, never> };
  /** sale is why a trial may be sold; '' leaves a trial a trial */
  'batch.release': { args: { batch: string; by: string; looked: string; sale: string }; value: Record<string, never> };
}

/** Views and their arguments. */
export interface Views extends AgeingViews, AidViews, BenchViews, FormulaViews, LawViews, PhotoViews, ReckonViews, ShareViews, StallViews, WorkshopViews {
  today: { args: Record<string, never>; value: Today };
  formulas: { args: Record<string, never>; value: FormulaRow[] };
  formula: { args: { key: string; revision: string }; value: Formula };
  sheet: { args: Draft; value: Sheet };
  ingredients: { args: { q: string }; value: IngredientRow[] };
  batches: { args: Record<string, never>; value: BatchRow[] };
  batch: { args: { key: string }; value: Batch };
  bench: { args: { key: string }; value: Bench };
  lots: { args: Record<string, never>; value: LotRow[] };
  lot: { args: { key: string; all?: boolean }; value: Lot };
  jar: { args: { code: string }; value: Jar };
}
