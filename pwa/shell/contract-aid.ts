// The engine's words for help at the bench when something goes otherwise than planned. The rules of contract.ts hold:
// figures are strings written by the engine.
import type { Figure, Finding } from './contract';

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
  do: string;
  stirred: boolean;
  findings: Finding[];
  ways: RescueWay[];
}

export interface AidCommands {
  /** accept, scale up or discard; what is taken back out is a batch.add with `out` */
  'batch.rescue': { args: { batch: string; way: string; stirred: string }; value: { entry: string } | Record<string, never> };
}

export interface AidViews {
  /** stirred is yes, no, or '' for what the record says */
  rescue: { args: { batch: string; stirred: string }; value: Rescue };
}
