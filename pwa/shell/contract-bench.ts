// The engine's words for what the bench does beside its steps, for readings with their method, for the evening after
// filling and for corrections. The rules of contract.ts hold: figures are strings written by the engine.
import type { BatchRow, Figure, Finding, Layer, LotChoice, Row, Step } from './contract';
import type { Pot } from './contract-formula';
import type { AgedArgs } from './contract-ageing';
import type { Look, StallRow } from './contract-stall';

/** view `bench` (args: {key}): the batch as a line of steps, one to do now */
export interface Bench {
  row: BatchRow;
  steps: Step[];
  /** index of the first step not done; steps.length when all are done */
  now: number;
  layers: Layer[];
  rows: Row[];
  plannedJars: number;
  /** vessels that stand side by side until they are combined, with the last temperature read in each; [] when there is one */
  pots: Pot[];
  /** "pH 6.4 stands outside 4.5 to 5.5", '' when it does not */
  ph: string;
}

/** view `addition`: what is known of something before it goes in beside the plan */
export interface Addition {
  name: string;
  /** whether the formula names it */
  says: string;
  lots: LotChoice[];
  wear: Finding[];
  /** "300.0 g in so far", '' for nothing */
  in: string;
  last: string;
}

/** A density as typed in g/mL, or a cup weighed full and empty with the volume that it holds. */
export interface CupArgs {
  batch: string;
  /** before whipping, whipped, with grit, or '' */
  stage: string;
  /** g/mL; '' when the cup was weighed */
  value: string;
  full: string;
  empty: string;
  /** mL */
  volume: string;
}

/** view `cup`: a density as it is being typed */
export interface Cup {
  /** of the cup that was used last in this book, '' for none */
  empty: string;
  volume: string;
  density: Figure;
  overrun: Figure;
  last: string;
  /** whether the planned fill fits the container at this density, '' without one */
  fits: string;
}

/** view `tonight`: what is worth doing between the filling and the look of the next day */
export interface Tonight {
  says: string[];
  /** place that a jar can be kept back from, '' when one was kept back */
  from: string;
  word: string;
  /** words of the look that only this product has: fluff, grit */
  asks: string[];
}

export interface AdditionArgs {
  batch: string;
  /** line of the formula of which more goes in, '' for something that it does not name */
  line: string;
  ingredient: string;
  phase: string;
}

export interface BenchCommands {
  /** what goes in beside the plan, or is spooned out again */
  'batch.add': { args: AdditionArgs & { lot: string; grams: string; out: boolean; why: string }; value: { entry: string } };
  /** step is the smallest step of strip or meter, sample the temperature of what was measured: "22", "22 C" */
  'batch.ph': { args: { batch: string; value: string; method: string; dilution: string; step?: string; sample?: string; unit?: string }; value: { entry: string } };
  'batch.density': { args: CupArgs; value: { entry: string } };
  /**
   * Replaces what an entry said; value in the words of its kind, reason required. Numbers of entries repeat between
   * streams, so a sale, a movement or a count says that it is of the shelf. method and dilution are those of a pH: absent
   * leaves them as they were, dilution 'neat' says that it was not diluted; with one of them value may be ''.
   */
  correct: {
    args: { entry: string; value: string; unit: string; lot: string; reason: string; stream?: 'shelf'; place?: string; price?: string; look?: Look; aged?: AgedArgs; method?: string; dilution?: string };
    value: { entry: string };
  };
}

export interface BenchViews {
  addition: { args: AdditionArgs; value: Addition };
  cup: { args: CupArgs; value: Cup };
  /** sales, movements and counts of a batch's jars, newest first */
  moves: { args: { key: string }; value: StallRow[] };
  tonight: { args: { key: string }; value: Tonight };
}
