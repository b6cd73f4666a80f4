// Lots of what came in or was made here, and where each of them went. The rules of contract.ts hold.

import type { BatchRow, Figure, JarRow, Where } from './contract';

export interface LotRow {
  key: string;
  code: string;
  ingredient: string;
  name: string;
  onHand: Figure;
  expiry: string;
  supplier: string;
  supplierLot: string;
  held: boolean;
  where: Where;
}

/** view `lot` (args: {key, all}): from a lot to every batch and jar; the first jars alone unless all are asked for */
export interface Lot {
  row: LotRow;
  received: string;
  source: string;
  batches: { batch: BatchRow; grams: string }[];
  jars: JarRow[];
  places: { place: string; count: number }[];
  says: string;
  /** how many there are, listed or not */
  jarsCount: number;
  /** "and 59,800 jars more, not listed here", '' when all are listed */
  more: string;
}
