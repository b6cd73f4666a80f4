// Two batches of one product on the table are two tiles, told apart by what stands on their lids: else nobody knows in
// the evening which batch was sold (trade.md, G6).

import type { Tile } from '../../shell/contract-stall';
import { lidMark } from './where';

export interface OneTile extends Tile {
  /** what stands on the lids, '' when only one batch is out */
  lid: string;
}

export function tilesOf(tiles: readonly Tile[]): OneTile[] {
  // What is sold out, or may not be sold, makes room for what can be.
  const last = (t: Tile) => Number(t.left === '0' || t.barred !== '');
  return [...tiles].sort((a, b) => last(a) - last(b)).flatMap((t) => {
    if (t.batch !== '' || t.batches.length < 2) {
      const alone = tiles.filter((other) => other.product === t.product).length === 1;
      const code = t.batches.find((b) => b.batch === t.batch)?.code ?? '';
      return [{ ...t, batch: t.batch || (t.batches[0]?.batch ?? ''), lid: alone || !code ? '' : lidMark(code) }];
    }
    // A bar names its batch: the other one may still be sold.
    return t.batches.map((b) => ({ ...t, batch: b.batch, batches: [b], left: b.left, sum: b.sum, of: '', lid: lidMark(b.code), barred: b.barred, canSell: b.barred === '' }));
  });
}
