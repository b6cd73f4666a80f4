// Which places the stall moves jars between. Home and the stall are built in; named ones are found by what they are.

import type { Places, Standing } from '../../shell/contract-stall';

export function keyOf(places: Places, what: string): string {
  return places.places.find((p) => p.what === what)?.key ?? what;
}

/** The jars that stand at a place, batch by batch, in the order in which one reads them. */
export function standingAt(places: Places, place: string): Standing[] {
  return places.standings.filter((s) => s.place === place && s.count > 0).sort((a, b) => a.product.localeCompare(b.product) || a.code.localeCompare(b.code));
}

/** What is written by hand on the lids of a batch: the end of its code. */
export function lidMark(code: string): string {
  return code.slice(code.lastIndexOf('-') + 1);
}
