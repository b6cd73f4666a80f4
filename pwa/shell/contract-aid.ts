// The engine's words for help at the bench when something goes otherwise than planned. The rules of contract.ts hold:
// figures are strings written by the engine.
import type { Figure, Finding, LotChoice } from './contract';
import type { Choice } from './contract-formula';

/** What a way out does with one line: what is in, what goes in ("+12.0 g") or comes out ("−12.0 g"), and its true share. */
export interface RescueLine {
  line: string;
  name: string;
  in: string;
  add: string;
  percent: Figure;
}

export interface RescueWay {
  /** take back, accept, scale up, discard */
  way: string;
  name: string;
  /** false when `why` closes it */
  open: boolean;
  says: string;
  why: string;
  lines: RescueLine[];
  findings: Finding[];
}

/** view `rescue`: what is too much in the pot, and the ways out, the first to be thought of first */
export interface Rescue {
  /** "12.0 g too much of glycerin is in the pot", '' when nothing is, or when it was accepted */
  says: string;
  /** what the vessel holds, or why that is not known; '' when nothing was said of it */
  room: string;
  do: string;
  stirred: boolean;
  findings: Finding[];
  ways: RescueWay[];
}

/** A vessel weighed before and after heating, or clean and poured out; figures as typed, '' for what is not weighed yet. */
export interface TopUpArgs {
  batch: string;
  phase: string;
  tare: string;
  before: string;
  after: string;
  covered: boolean;
  /** it was poured out: tare and after only */
  poured: boolean;
}

/** view `topup` */
export interface TopUp {
  says: string;
  /** "9.3": grams of water to put back, '' for none */
  putBack: string;
  /** line that it belongs to, and its name */
  line: string;
  name: string;
  /** what the main key says, '' while there is nothing to write */
  key: string;
  findings: Finding[];
}

/** view `cooling`: "About 12 minutes more until it is at 40 °C (between 10 and 15)." */
export interface Cooling {
  says: string;
  /** what may have changed in the cooling, to be marked */
  changes: string[];
  findings: Finding[];
}

/** view `combining`: how warm the pots will be together, '' while one was not read */
export interface Combining {
  says: string;
  findings: Finding[];
}

export interface CostLine {
  name: string;
  grams: string;
  cost: Figure;
}

/** view `cost`: what a jar cost to make from its lots; for the record alone, never for anything that leaves the workshop */
export interface BatchCost {
  /** '' when there are figures, or when the batch is not filled yet */
  says: string;
  jar: Figure;
  all: Figure;
  rows: CostLine[];
  unchecked: string[];
}

/** A point of a trial as typed: grams of solution in the sample in all, and its pH. */
export interface AdjustPoint {
  added: string;
  ph: string;
}

/** A trial of what brings a sample to its pH, as far as it was typed; '' where nothing was. */
export interface AdjustArgs {
  batch: string;
  ingredient: string;
  /** per cent of it in water */
  strength: string;
  sample: string;
  pot: string;
  low: string;
  high: string;
  points: AdjustPoint[];
  /** a new trial, though one stands in the record */
  fresh: boolean;
  /** of solution that goes into the pot, and the lot of the acid or base */
  grams: string;
  lot: string;
}

/** view `adjust` */
export interface Adjust {
  /** what (nothing chosen), trial (being typed), add, measure, done */
  stage: string;
  says: string;
  /** "citric acid, 20 % in water" */
  name: string;
  /** "4.5 to 5.5", '' when nothing is known */
  wanted: string;
  /** what may bring the pH there, that on the shelf first */
  offers: Choice[];
  /** what stands where nothing was typed, and how the pot came about */
  strength: string;
  pot: string;
  potSum: string;
  low: string;
  high: string;
  /** solution and sample are told; the trial can be kept */
  begun: boolean;
  ready: boolean;
  points: string[];
  /** "24.0": grams of the solution that go in next, '' for none */
  add: string;
  lots: LotChoice[];
  findings: Finding[];
}

/** A filled jar on the scale: its number, '' for the next; empty '' where the scale was set to nothing under it. */
export interface NetArgs {
  batch: string;
  jar: string;
  full: string;
  empty: string;
  /** average, minimum or US; '' for that of the region */
  system: string;
}

export interface NetJar {
  number: string;
  net: string;
  /** less than the label says */
  short: boolean;
}

export interface NetRule {
  value: string;
  text: string;
}

/** view `nets`: filled jars against what their label says */
export interface Nets {
  says: string;
  /** number of the jar to weigh, '' when all were */
  next: string;
  /** "24 jars of 120 g" */
  of: string;
  /** what the container weighs, '' when not known */
  empty: string;
  /** the net mass as it is being typed */
  typed: string;
  weighed: NetJar[];
  system: string;
  /** [] where there is no choice */
  systems: NetRule[];
  findings: Finding[];
}

export interface AidCommands {
  'batch.net': { args: NetArgs; value: { entry: string } };
  /** writes a trial down; a better one is a new one */
  'batch.trial': { args: AdjustArgs; value: { entry: string } };
  /** what went into the pot of the solution that was tried: acid or base and its water, each by its name */
  'batch.adjust': { args: AdjustArgs; value: { entry: string } };
  /** what a vessel lost as steam, took in, or kept when it was poured; water put back is a batch.add of its own */
  'batch.topup': { args: TopUpArgs; value: { entry: string } };
  'batch.cooling': { args: { batch: string; phase: string; changed: string }; value: { entry: string } };
  /** accept, scale up or discard; what is taken back out is a batch.add with `out` */
  'batch.rescue': { args: { batch: string; way: string; stirred: string; room: string }; value: { entry: string } | Record<string, never> };
}

export interface AidViews {
  nets: { args: NetArgs; value: Nets };
  adjust: { args: AdjustArgs; value: Adjust };
  combining: { args: { batch: string; phase: string }; value: Combining };
  cost: { args: { key: string }; value: BatchCost };
  topup: { args: TopUpArgs; value: TopUp };
  /** room as typed, '' when not measured; unit holds where none was typed */
  cooling: { args: { batch: string; phase: string; room: string; unit: string }; value: Cooling };
  /** stirred is yes, no, or '' for what the record says; room is mL that the vessel may be filled with */
  rescue: { args: { batch: string; stirred: string; room: string }; value: Rescue };
}
