// Faults of the phone in a maker's words: what happened, what was kept, what to do.

import type { Refusal } from './contract';
import { refusal } from './messages';
import { Forked, TakenAway } from './keep';
import { NoStore } from './register';

/** Why something was not written on this phone. */
export function notKept(error: unknown): Refusal {
  if (error instanceof TakenAway) {
    return refusal('elsewhere', 'This was not kept: Stillroom is open in another tab.', 'What you typed still stands here. Continue here to keep it.');
  }
  if (error instanceof Forked) {
    return refusal('forked', 'This was not kept: another copy of this phone’s book has written in its place.', 'Load the page again and enter it once more.');
  }
  const name = error instanceof DOMException ? error.name : '';
  if (name === 'QuotaExceededError') {
    return refusal('full', 'This was not kept: the phone has no room left.', 'What you typed still stands here. Make room on the phone, then try again.');
  }
  return refusal('not-kept', 'This was not kept: the phone could not write it down.', 'What you typed still stands here. Try again; if it stays so, load the page again.');
}

/** Why a file of the home store could not be had. */
export function notFetched(error: unknown): Refusal {
  if (error instanceof NoStore) return refusal('away', error.message, 'All that was kept on this phone is still here.');
  return refusal('away', 'The home store did not answer as it should.', 'Try again in a moment.');
}
