// What the app is told of this phone and the home store.

/** What the top of the screen says about this phone and the home store. */
export interface LinkState {
  /** true while the home store answers */
  online: boolean;
  /** rows that only this phone has */
  unsent: number;
  /** "in the book 09:12", "on this phone" */
  says: string;
  /** a sentence when something is wrong, '' otherwise */
  trouble: string;
  /** what happened just before the book was opened last, '' when nothing is to be told */
  told: string;
  /** how a person goes on when this phone cannot by itself */
  way?: Way;
  /** rows that were put aside and are in no book: on this phone and in its file */
  aside: number;
  /** nothing is written on this phone for now, and what is shown may be less than there is */
  shut: boolean;
  backup: Backup;
}

/** What happened, what is kept, what will happen. */
export interface Way {
  title: string;
  happened: string;
  kept: string;
  will: string;
  /** the key: go on as a new device */
  anew: boolean;
}

/** What the home store says of its backups; empty until it answered. */
export interface Backup {
  says: string;
  /** somebody should look: none yet, the last one failed, or it is old */
  warn: boolean;
}
