// The engine's words for places, the stall and the look on the next day. The rules of contract.ts hold: figures are
// strings written by the engine.
import type { Where } from './contract';

export interface PlaceRow {
  key: string;
  name: string;
  /** home, stall, crate, shop, sold, given, kept back, discarded */
  what: string;
  inside: string;
  jars: number;
  where: Where;
}

/** A batch's jars at a place. */
export interface Standing {
  batch: string;
  code: string;
  product: string;
  /** jar, bottle, tin, bar, pouch */
  word: string;
  place: string;
  placeName: string;
  count: number;
  /** resting, held, released, discarded: only released ones may be taken to the stall */
  state: string;
  says: string;
  /** '' or why it must not be sold or taken to buyers */
  barred: string;
}

/** One product on the table; two tiles when two batches of it are out. */
export interface Tile {
  product: string;
  /** key of the batch when only one is out, '' when a tap does not say which */
  batch: string;
  batches: { batch: string; code: string; left: string; sum: string; barred: string }[];
  word: string;
  left: string;
  of: string;
  price: string;
  /** '' or why a tap that names no batch must not sell: that of the first batch which is barred */
  barred: string;
  canSell: boolean;
  /** how left came about */
  sum: string;
}

export interface StallRow {
  entry: string;
  /** sold, given, moved, counted */
  what: string;
  title: string;
  value: string;
  detail: string;
  at: string;
  by: string;
  struck: boolean;
  where: Where;
  clash: string;
}

/** view `stall` (args: {place}): '' is the stall */
export interface Stall {
  place: string;
  name: string;
  /** "186.00" */
  taken: string;
  takenSays: string;
  /** the sales of the day, price by price */
  takenSum: string;
  tiles: Tile[];
  rows: StallRow[];
  /** "25 taken: 19 sold, 5 brought back, 1 not accounted for" */
  says: string;
  /** the last sale that can be undone, '' for none */
  undo: string;
}

/** view `places`: where every jar stands */
export interface Places {
  places: PlaceRow[];
  standings: Standing[];
}

/** The look on the day after filling; every word may be ''. */
export interface Look {
  batch: string;
  /** softer, same, firmer, hard */
  firm: string;
  /** paler, same, deeper */
  colour: string;
  /** good, faint, off */
  smell: string;
  /** level, sunk, risen */
  level: string;
  /** dry, wet, drops */
  top: string;
  ph: string;
  note: string;
  /** less, same, more: of what was whipped */
  fluff?: string;
  /** sharp, softer, gone: of what holds a grit */
  grit?: string;
  /** strip or meter, and the per cent in distilled water ('' for neat), of the pH */
  method?: string;
  dilution?: string;
}

export interface StallCommands {
  /** jars of a batch from one place to another; jars '' takes `count` of them, else codes as typed or scanned */
  'jars.move': { args: { batch: string; from: string; to: string; count: string; jars: string }; value: { entry: string; moved: number } };
  'stall.sell': { args: { place: string; product: string; batch: string; jar: string; count: string; price: string }; value: { entry: string } };
  'stall.undo': { args: { entry: string; reason: string }; value: { entry: string } };
  /** "there are n here": replaces what the movements say, keeps what was expected */
  'jars.count': { args: { place: string; batch: string; count: string }; value: { entry: string; expected: string; difference: string } };
  'product.price': { args: { product: string; price: string }; value: { entry: string } };
  'place.name': { args: { key: string; name: string; what: string; inside: string }; value: { key: string } };
  'batch.look': { args: Look; value: { entry: string } };
  /** takes the invented workshop out of the book for good; what the maker wrote stays */
  'demo.remove': { args: Record<string, never>; value: Record<string, never> };
}

export interface StallViews {
  stall: { args: { place: string }; value: Stall };
  places: { args: Record<string, never>; value: Places };
}
