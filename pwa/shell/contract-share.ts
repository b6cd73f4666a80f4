// The words of sharing: a formula as a file, a table, a card or a class sheet, and what a file would bring into this book.
// The rules of contract.ts hold: figures are strings written by the engine. Nothing here has a place for a cost, a lot or a supplier.
import type { Finding } from './contract';

/** view `share` (args: {key, revision}): a formula as others may have it */
export interface Share {
  name: string;
  number: number;
  /** whose formula it is, '' when nobody said */
  credit: string;
  /** of which formula it is a variant, '' for none */
  from: string;
  /** the formula file, as it is written */
  file: string;
  fileName: string;
  /** what the file carries: "the formula, 1 base and 2 own ingredients" */
  fileSays: string;
  /** the same formula as a table for a spreadsheet */
  table: string;
  tableAs: string;
  /** what was taken out, because it names a supplier or a lot */
  leftOut: string[];
  caution: string;
}

/** A formula as a code to scan, drawn as the path of an SVG: a page of a notebook. path is '' where it is too long for a code. */
export interface PageCode {
  path: string;
  /** modules, the quiet zone among them */
  side: number;
  /** the smallest size in print */
  mm: string;
  text: string;
}

export interface CardLine {
  name: string;
  inci: string;
  percent: string;
  why: string;
}

export interface CardPhase {
  letter: string;
  treatment: string;
  lines: CardLine[];
}

/** view `card` (args: {key, revision}): a formula on paper */
export interface Card {
  name: string;
  number: number;
  kind: string;
  credit: string;
  from: string;
  keeps: string;
  phases: CardPhase[];
  total: string;
  /** the ingredient list of the formula as planned, '' where it cannot be written without guessing */
  ingredients: string;
  cautions: string[];
  wear: Finding[];
  /** stop first, then take care, then note */
  findings: Finding[];
  unchecked: Finding[];
  /** "1 take care, 2 wear, 3 not checked" */
  counts: string;
  sources: string[];
  code: PageCode;
  foot: string;
}

export interface ClassLine {
  phase: string;
  name: string;
  grams: string;
  /** why this is here */
  why: string;
}

export interface ClassPhase {
  letter: string;
  treatment: string;
  lines: ClassLine[];
}

export interface ClassBuy {
  name: string;
  buy: string;
  sum: string;
}

/** view `class`: figures as typed, learners at most 1000 */
export interface Class {
  name: string;
  credit: string;
  learners: number;
  each: string;
  all: string;
  phases: ClassPhase[];
  shopping: ClassBuy[];
  wear: Finding[];
  /** what learners are asked before the tubs are opened */
  ask: string;
  contains: string[];
  cautions: string[];
  findings: Finding[];
  unchecked: string[];
  counts: string;
  leftOut: string[];
  code: PageCode;
  foot: string;
}

export interface ImportLine {
  /** "line 5" of a table, the field of a formula file */
  place: string;
  phase: string;
  typed: string;
  /** what it was taken to be, '' when nothing known */
  name: string;
  amount: string;
  percent: string;
  says: string;
  trouble: string;
}

export interface ImportFormula {
  name: string;
  credit: string;
  total: string;
  says: string;
  /** false when it is in this book already, line for line */
  new: boolean;
  lines: ImportLine[];
}

export interface ImportTrouble {
  /** "line 5, column C, %" */
  place: string;
  formula: string;
  says: string;
  do: string;
}

/** view `import` (args: {text, name}): the dry run of a file; nothing is kept by looking */
export interface Import {
  /** table or file */
  kind: string;
  formulas: ImportFormula[];
  /** own ingredients that come along */
  ingredients: string[];
  troubles: ImportTrouble[];
  /** which columns were not read, what was left out */
  notes: string[];
  /** true when nothing stands in the way of any formula */
  ready: boolean;
  says: string;
}

export interface ShareCommands {
  /** keeps all formulas of a file, or none of them */
  'formulas.import': { args: { text: string; name: string }; value: { keys: string[]; says: string } };
}

export interface ShareViews {
  share: { args: { key: string; revision: string }; value: Share };
  card: { args: { key: string; revision: string }; value: Card };
  class: { args: { key: string; revision: string; learners: string; mass: string; spare: string; step: string }; value: Class };
  import: { args: { text: string; name: string }; value: Import };
}
