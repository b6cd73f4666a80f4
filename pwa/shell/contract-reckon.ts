// The engine's words for what is worked out beside a draft: a swap, an aim, the pH ruler, and how much can be made.
// The rules of contract.ts hold: figures are strings written by the engine, and bare numbers are shares of a picture.
import type { Draft, DraftLine, Figure, Finding } from './contract';
import type { Choice } from './contract-formula';

/** A line before and after, in per cent without the sign. */
export interface LineBeside {
  line: string;
  before: string;
  beforePercent: string;
  after: string;
  afterPercent: string;
  changed: boolean;
}

/** A figure of the whole formula before and after. */
export interface FigureBeside {
  what: string;
  before: string;
  after: string;
  /** how the two came about */
  beforeSum: string;
  afterSum: string;
}

/** view `swap`: a draft before and after one ingredient was exchanged */
export interface Swap {
  from: string;
  to: string;
  /** what is held equal, one of holds */
  hold: string;
  holds: Choice[];
  held: Figure;
  /** which line takes the difference, '' when none has to */
  water: string;
  lines: LineBeside[];
  figures: FigureBeside[];
  /** findings that only the new formula has, and those that only the old one had */
  come: Finding[];
  gone: Finding[];
  /** what the swap cannot answer for */
  notes: Finding[];
  /** the draft's lines as they would be */
  take: DraftLine[];
}

/** A line that cares about pH. from and to are shares of the ruler, which runs from pH 3 to 10. */
export interface RulerBar {
  /** '' for the skin */
  line: string;
  name: string;
  /** surfactant, preservative, thickener, colour, ingredient, skin */
  why: string;
  from: number;
  to: number;
  text: string;
  /** goes on past the end of the ruler */
  beyondLow: boolean;
  beyondHigh: boolean;
  source: string;
}

export interface RulerOverlap {
  /** false when no pH suits all; says then names the two that clash */
  open: boolean;
  from: number;
  to: number;
  text: string;
  says: string;
}

/** How much of one preservative works at a pH. */
export interface RulerShare {
  line: string;
  acid: string;
  text: string;
  /** share that works, 0 to 1 */
  part: number;
  active: string;
  says: string;
}

export interface RulerPoint {
  text: string;
  at: number;
  inside: boolean;
  shares: RulerShare[];
}

export interface RulerNotch {
  text: string;
  /** of a reading: batch and how it was measured */
  method: string;
  at: number;
  off: boolean;
  inside: boolean;
}

/** view `ruler`: the pH at which each line of a draft keeps, and where they meet */
export interface Ruler {
  bars: RulerBar[];
  /** the phase of each bar's line, in the same order; '' for the skin */
  phases: string[];
  overlap: RulerOverlap;
  /** index of the stop at which the cursor stands at first */
  start: number;
  /** last readings of the batches made of it */
  notches: RulerNotch[];
  ticks: RulerNotch[];
  /** every tenth of a point, for the cursor */
  stops: RulerPoint[];
  missing: string;
  notes: Finding[];
}

export interface AimOffer {
  /** active matter, water, oil, hlb, cost */
  what: string;
  name: string;
  unit: string;
  now: string;
  sum: string;
}

export interface AimLine {
  line: string;
  name: string;
  percent: string;
  /** its share is left as it is */
  stays: boolean;
}

export interface AimTarget {
  says: string;
  before: string;
  after: string;
  met: boolean;
  /** by how much it fails, '' when it is met */
  missed: string;
  /** how the two came about, '' where they are not known */
  beforeSum: string;
  afterSum: string;
}

/** view `aim`: what can be aimed at, and the nearest formula that meets it */
export interface Aim {
  offers: AimOffer[];
  lines: AimLine[];
  cost: string;
  shelf: string;
  /** false until a figure was written */
  asked: boolean;
  met: boolean;
  targets: AimTarget[];
  beside: LineBeside[];
  figures: FigureBeside[];
  come: Finding[];
  gone: Finding[];
  notes: Finding[];
  take: DraftLine[];
}

/** A figure that is wanted, as typed; one side may be ''. */
export interface Wanted {
  what: string;
  line: string;
  low: string;
  high: string;
}

/** One way to say how much is to be made. */
export interface Amount {
  says: string;
  mass: Figure;
  /** for the plan, '' where it cannot be taken */
  jars: string;
  /** what was not counted, or what to do */
  not: string;
}

/** view `amounts`: the most that the shelf allows and the most that a vessel holds */
export interface Amounts {
  stock: Amount;
  vessel: Amount;
}

/** One figure beside where it comes from. */
export interface HoldingSource {
  text: string;
  source: string;
}

/** An oil, or what holds it. */
export interface HoldingPart {
  line: string;
  name: string;
  percent: string;
  /** oil, emulsifier */
  role: string;
  hlb: HoldingSource[];
}

export interface HoldingFigure {
  what: string;
  figure: Figure;
  source: string;
}

/** A mark of a low-risk product: met is yes, no or not known. */
export interface HoldingMark {
  says: string;
  met: string;
  figure: string;
}

/** view `holding`: what holds the oil, how dry the water is, the pH of a simple solution; only what this formula has */
export interface Holding {
  says: string;
  parts: HoldingPart[];
  figures: HoldingFigure[];
  marks: HoldingMark[];
  /** what was not worked out, and why */
  not: string[];
  notes: Finding[];
}

export interface ReckonViews {
  holding: { args: { draft: Draft }; value: Holding };
  /** of a draft, or of a batch with its own readings */
  ruler: { args: { draft: Draft } | { batch: string }; value: Ruler };
  /** fixed null takes the likeliest lines to stay; shelf asks for no more than what is there */
  aim: { args: { draft: Draft; targets: Wanted[]; fixed: string[] | null; shelf: boolean }; value: Aim };
  /** vessel in mL and density in g/mL as typed; density '' takes that of earlier batches */
  amounts: { args: { draft: Draft; vessel: string; density: string }; value: Amounts };
  /** hold '' takes the likeliest */
  swap: { args: { draft: Draft; line: string; by: string; hold: string }; value: Swap };
}
