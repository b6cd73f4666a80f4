// The words of the workshop itself: the questions of a first run, what Today tells, how long a product lasts, and the
// labels of a batch. The rules of contract.ts hold: figures are strings written by the engine.

/** The labels of a batch as the home store drew them. */
export interface LabelFile {
  pdf: Blob;
  /** what had no room on a label, '' when all of it had */
  says: string;
}

/** view `workshop`: who makes, and where */
export interface Workshop {
  maker: string;
  address: string;
  contact: string;
  region: string;
}

/** view `habits`: the answers of a first run, each with its default where it was skipped */
export interface Habits {
  /** EU, UK, US, elsewhere or '' */
  region: string;
  /** g or oz: oz stands beside grams */
  mass: string;
  /** C or F: what a temperature without a unit is read as, and what is shown beside the other */
  degrees: string;
  /** three letters: EUR, GBP, USD */
  money: string;
  /** grams, as typed */
  scaleStep: string;
  scaleHolds: string;
  /** true once they were answered or skipped */
  asked?: boolean;
}

export interface WorkshopCommands {
  'workshop.name': { args: Workshop; value: Record<string, never> };
  /** the owner's word for what waits, at most 500 rows at once */
  'waiting.accept': { args: Record<string, never>; value: Record<string, never> };
  /** the questions of a first run; '' is skipped */
  'workshop.choose': { args: Habits; value: Record<string, never> };
}

/** One thing that wants a hand soon. */
export interface AttendRow {
  title: string;
  value: string;
  says: string;
  /** where it is done: count, lot, receive, shelf, stall, ageing, make */
  to: string;
  key: string;
}

/** view `attend`: what Today tells besides batches, each list short */
export interface Attend {
  /** jars away from home */
  stall: AttendRow[];
  /** running low, by what the last batches took */
  low: AttendRow[];
  /** lots whose date is near or past */
  expiring: AttendRow[];
  /** retained samples whose next reading is due */
  ageing: AttendRow[];
}

/** view `waiting`: rows that are in the book and count for nothing until the owner accepts them */
export interface Waiting {
  count: number;
  says: string;
  /** true on a device that may give the owner's word */
  mine: boolean;
}

export interface WorkshopViews {
  waiting: { args: Record<string, never>; value: Waiting };
  workshop: { args: Record<string, never>; value: Workshop };
  attend: { args: Record<string, never>; value: Attend };
  habits: { args: Record<string, never>; value: Habits };
}
