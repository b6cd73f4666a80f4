// The engine's words for what law asks for: what will be printed in each region, and what the tables of law hold.
// The rules of contract.ts hold: figures are strings written by the engine.
import type { Draft, Finding } from './contract';

/** One name of an ingredient list. */
export interface PrintedName {
  print: string;
  percent: string;
  /** fixed, any order, colour */
  where: string;
  /** the other side prints it otherwise, elsewhere or not at all */
  differs: boolean;
}

/** One sentence of the cautions, why it stands there, and whether a table of law asks for it. */
export interface PrintedText {
  says: string;
  why: string;
  source: string;
  date: string;
  law: boolean;
  differs: boolean;
}

export interface PrintedSide {
  /** EU, UK, US */
  region: string;
  /** "EU and UK" where both print the same */
  title: string;
  text: string;
  entries: PrintedName[];
  order: string;
  source: string;
  /** how the other of EU and UK differs, '' for not at all */
  also: string;
  /** which names are from memory, '' for none */
  memory: string;
  cautions: PrintedText[];
}

export interface PrintedDifference {
  first: string;
  second: string;
  why: string;
}

/** view `printed`: the ingredient list and the cautions as they will be printed, EU or UK and US side by side */
export interface Printed {
  name: string;
  /** "as planned", or "from what went into batch …" */
  from: string;
  sides: PrintedSide[];
  differ: PrintedDifference[];
  /** residues that their suppliers do not list */
  leftOut: string[];
  findings: Finding[];
  unchecked: Finding[];
}

export interface LawTable {
  key: string;
  name: string;
  covers: string;
  instrument: string;
  asOf: string;
  rows: string;
  regions: string;
  /** "70 read in the source, 5 at second hand, 19 from memory" */
  known: string;
  not: string[];
}

/** view `law`: the tables of law, and what “not in this book's tables” means */
export interface Law {
  /** EU, UK, US: whose law this workshop's formulas are held against */
  region: string;
  tables: LawTable[];
  not: string;
  given: string;
}

export interface LawViews {
  printed: { args: { draft: Draft } | { batch: string }; value: Printed };
  law: { args: Record<string, never>; value: Law };
}
