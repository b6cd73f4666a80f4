// The line at the top of the screen, in calm words: being away from the home store is an ordinary state.

import type { Backup, LinkState, Way } from './contract';

function clock(at: number): string {
  const when = new Date(at);
  return `${String(when.getHours()).padStart(2, '0')}:${String(when.getMinutes()).padStart(2, '0')}`;
}

export interface LinkFacts {
  online: boolean;
  unsent: number;
  /** photos that are on this phone alone */
  photos: number;
  /** ms of the last moment when the home store was known to hold everything, 0 for never */
  settledAt: number;
  trouble: string;
  told: string;
  way: Way | undefined;
  aside: number;
  shut: boolean;
  backup: Backup;
}

export function linkState(facts: LinkFacts): LinkState {
  const { online, unsent, trouble, told, way, aside, shut, backup } = facts;
  return { online, unsent, trouble, told, ...(way && { way }), aside, shut, backup, says: sentence(facts) };
}

function sentence({ online, unsent, photos, settledAt }: LinkFacts): string {
  if (unsent > 0) return unsent === 1 ? '1 row on this phone' : `${unsent} rows on this phone`;
  if (photos > 0) return photos === 1 ? '1 photo on this phone' : `${photos} photos on this phone`;
  if (settledAt > 0) return `in the book ${clock(settledAt)}`;
  return online ? 'in the book' : 'on this phone';
}
