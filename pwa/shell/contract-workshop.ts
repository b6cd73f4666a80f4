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
  /** the questions of a first run; '' is skipped */
  'workshop.choose': { args: Habits; value: Record<string, never> };
}

export interface WorkshopViews {
  workshop: { args: Record<string, never>; value: Workshop };
  habits: { args: Record<string, never>; value: Habits };
}
