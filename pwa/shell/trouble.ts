// Faults of the phone in a maker's words: what happened, what was kept, what to do.

import type { Refusal } from './contract';
import { refusal } from './messages';
import { Forked, TakenAway } from './keep';
import { NoEngine } from './engine';
import { NoStore } from './register';

/** What happened and what to do, one after the other. */
export function sentence({ says, hint }: { says: string; hint: string }): string {
  return [says, hint].filter((part) => part !== '').join(' ');
}

/** Why something was not written on this phone. */
export function notKept(error: unknown): Refusal {
  if (error instanceof TakenAway) {
    return refusal('elsewhere', 'This was not kept: Stillroom is open in another tab.', 'What you typed still stands here. Continue here to keep it.');
  }
  if (error instanceof Forked) {
    return refusal('forked', 'This was not kept: another copy of this phone’s book has written in its place.', 'What you typed still stands here. Look whether it is in the book by now, then try again.');
  }
  const name = error instanceof DOMException ? error.name : '';
  if (name === 'QuotaExceededError') {
    return refusal('full', 'This was not kept: the phone has no room left.', 'What you typed still stands here. Make room on the phone, then try again.');
  }
  return refusal('not-kept', 'This was not kept: the phone could not write it down.', 'What you typed still stands here. Try again; if it stays so, load the page again.');
}

/** Why something that came from the home store was not written; it comes again by itself. */
export function notStored(error: unknown): string {
  const full = error instanceof DOMException && error.name === 'QuotaExceededError';
  return full
    ? 'This phone has no room left for what the home store sends. Nothing is lost. Make room on the phone; it goes on by itself.'
    : 'This phone could not write down what the home store sent. Nothing is lost; it is tried again.';
}

/** Why the book could not be opened, and whether trying again by itself may help. */
export function notOpened(error: unknown): { says: string; again: boolean } {
  if (error instanceof NoStore || error instanceof NoEngine) return { says: error.message, again: true };
  if (error instanceof Unreadable) return { says: error.message, again: false };
  const why = error instanceof Error ? error.message : String(error);
  return { says: `The book on this phone could not be opened (${why}). Nothing was deleted. Load the page again; do not clear this page’s data.`, again: false };
}

/** What is kept cannot be read; the engine's own sentence. */
export class Unreadable extends Error {}

/** Ends of a connection that are a part of life: the next one is opened by itself and nobody need read about it. */
export function isOrdinary(code: string): boolean {
  return code === 'silent' || code === 'closing' || code === 'slow' || code === 'healed';
}

/** Why this phone did not become a new device. It is what it was. */
export function notAnew(error: unknown): Refusal {
  if (error instanceof NoStore) return refusal('away', error.message, '');
  if (error instanceof TakenAway) return refusal('elsewhere', 'Stillroom is open in another tab. Nothing was changed here.', 'Go on there.');
  const why = error instanceof Error ? error.message : String(error);
  return refusal('not-kept', `This phone could not write down its new name (${why}). It is what it was and keeps all that it holds.`, 'Try again.');
}

/** Why a file of the home store could not be had. */
export function notFetched(error: unknown): Refusal {
  if (error instanceof NoStore) return refusal('away', error.message, 'All that was kept on this phone is still here.');
  return refusal('away', 'The home store did not answer as it should.', 'Try again in a moment.');
}
