// The words of the workshop itself: the questions of a first run, what Today tells, how long a product lasts, and the
// labels of a batch. The rules of contract.ts hold: figures are strings written by the engine.

/** The labels of a batch as the home store drew them. */
export interface LabelFile {
  pdf: Blob;
  /** what had no room on a label, '' when all of it had */
  says: string;
}
