// Where the jars of a batch stand, and what their lids say.

import type { Places, Standing } from '../../shell/contract-stall';

/** The jars that stand at a place, batch by batch, in the order in which one reads them. */
export function standingAt(places: Places, place: string): Standing[] {
  return places.standings.filter((s) => s.place === place && s.count > 0).sort((a, b) => a.product.localeCompare(b.product) || a.code.localeCompare(b.code));
}

/** What is written by hand on the lids of a batch: the end of its code. */
export function lidMark(code: string): string {
  return code.slice(code.lastIndexOf('-') + 1);
}
