// The engine's words for the notebook page, own ingredients, containers, variants and what changed between revisions.
// The rules of contract.ts hold: figures are strings written by the engine.
import type { Draft, Figure, Where } from './contract';

export interface Choice {
  key: string;
  name: string;
}

/** A line of a notebook page: what was typed, and what it was taken to mean. Nothing typed is ever dropped. */
export interface NotebookLine {
  /** ingredient, title, phase, total, plan, remark or unread */
  kind: string;
  typed: string;
  ingredient: string;
  name: string;
  sure: boolean;
  choices: Choice[];
  /** the amount read back with its unit: "42.5 g (1.5 oz)" */
  amount: string;
  grams: string;
  percent: string;
  phase: string;
  qs: boolean;
  says: string;
  /** why the line could not be used, '' when it could */
  trouble: string;
}

/** view `notebook` */
export interface Notebook {
  title: string;
  lines: NotebookLine[];
  total: string;
  totalSays: string;
  /** the lines that could be used, ready for the formula screen */
  draft: Draft;
  unread: number;
}

export interface SubstanceShare {
  inci: string;
  percent: string;
  listed: string;
}

/** A figure of an ingredient and where it comes from: the maker's own entry, a supplier's document, a published source, common practice, from memory. */
export interface SourcedFigure {
  what: string;
  text: string;
  source: string;
  mark: string;
  /** own, supplier, given */
  from: string;
  /** from when it is: "given list, as of 25 Nov 2026", "certificate of 1 Mar 2026" */
  date: string;
}

/** view `ingredient` (args: {key}) */
export interface Ingredient {
  key: string;
  name: string;
  inci: string;
  about: string;
  own: boolean;
  composition: SubstanceShare[];
  figures: SourcedFigure[];
  where: Where;
  /** what the maker wrote down of it, as typed, where anything was */
  typed?: OwnIngredient;
}

export interface OwnIngredient {
  /** '' for a new one; a key of the given list to override its figures */
  key: string;
  name: string;
  inci: string;
  /** lines "INCI name percent", as typed; '' means the one INCI name at 100 % */
  composition: string;
  /** anionic, cationic, amphoteric, non-ionic, none, '' when not known */
  charge: string;
  /** water, oil, both, neither, '' when not known */
  soluble: string;
  phLow: string;
  phHigh: string;
  useLow: string;
  useHigh: string;
  density: string;
  maxTemperature: string;
  /** true when a powder that flies */
  airborne: boolean;
  corrosive: boolean;
  /** "my own entry", or the supplier's document it was read from */
  source: string;
  /** true when it is a preservative; then the pH at which it works */
  preservative?: boolean;
  worksLow?: string;
  worksHigh?: string;
  /** water, plant powder, food for microbes, nut-derived, plastic, colour */
  counts?: string[];
  /** what the supplier's certificate of a scent says: scheme, amendment, its day */
  scheme?: string;
  amendment?: string;
  certified?: string;
  /** lines "category per cent" and "allergen per cent", as typed */
  maxima?: string;
  allergens?: string;
  flash?: string;
  vanillin?: string;
}

export interface ContainerRow {
  key: string;
  name: string;
  /** jar, bottle, tin, tube, bar, pouch */
  word: string;
  brimful: string;
  tare: string;
  material: string;
  onHand: string;
  where: Where;
}

export interface OwnContainer {
  key: string;
  name: string;
  word: string;
  /** mL to the brim, as typed */
  brimful: string;
  tare: string;
  material: string;
  closure: string;
  labelWidth: string;
  labelHeight: string;
  count: string;
  /** a mark of this one filling-in of the form, so that a key pressed twice brings one lot */
  intent?: string;
}

/** view `compare` (args: {key, from, to}): what changed between two revisions, of one formula or of a variant and its origin */
export interface Compare {
  from: string;
  to: string;
  says: string;
  lines: {
    name: string;
    phase: string;
    from: string;
    to: string;
    /** how the two came about, and by how much they differ */
    fromSum: string;
    toSum: string;
    /** same, more, less, added, gone, moved */
    change: string;
  }[];
  /** other differences in words: treatment, kind, plan */
  also: string[];
}

export interface Pot {
  name: string;
  phases: string[];
  temperature: string;
  aim: string;
  /** in range, so that it may be combined */
  ready: boolean;
  says: string;
}

export interface FormulaCommands {
  /** a variant: a formula of its own that remembers where it came from */
  'formula.fork': { args: { formula: string; revision: string; name: string }; value: { key: string } };
  'ingredient.define': { args: OwnIngredient; value: { key: string } };
  'container.define': { args: OwnContainer; value: { key: string } };
}

export interface FormulaViews {
  notebook: { args: { text: string }; value: Notebook };
  ingredient: { args: { key: string }; value: Ingredient };
  containers: { args: Record<string, never>; value: ContainerRow[] };
  compare: { args: { key: string; from: string; to: string }; value: Compare };
}

export type { Figure };
