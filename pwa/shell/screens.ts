// The last screen as it was drawn, kept beside the book that it shows, so that the two can only go together.

import { result, transact } from './idb';
import type { Device } from './keep';

export interface Drawn {
  /** address that it stands at */
  at: string;
  /** build that drew it */
  build: string;
  /** class of the house */
  look: string;
  html: string;
}

/** Name among the drafts. */
export const SCREEN = 'last screen';

/** The page reads it itself: the worker is busy with starting. undefined when there is none, or none of this device's book. */
export async function readScreen(): Promise<Drawn | undefined> {
  try {
    return await transact(['meta', 'drafts'], 'readonly', (tx) => {
      const device = result(tx.objectStore('meta').get('device') as IDBRequest<Device | undefined>);
      const drawn = result(tx.objectStore('drafts').get(SCREEN) as IDBRequest<(Drawn & { device: string }) | undefined>);
      return () => {
        const last = drawn();
        return last && last.device === device()?.device ? last : undefined;
      };
    });
  } catch {
    // Without it the start is only less quick.
    return undefined;
  }
}
