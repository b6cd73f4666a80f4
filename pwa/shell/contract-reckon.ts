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

export interface ReckonViews {
  /** hold '' takes the likeliest */
  swap: { args: { draft: Draft; line: string; by: string; hold: string }; value: Swap };
}
