// An ingredient that was missing from the list is written down on a page of its own; this remembers which list asked for it.

import type { Chosen } from './change';

let asked: { label: string; address: string } | undefined;
let made: { chosen: Chosen; name: string } | undefined;

export function askedFrom(label: string): void {
  asked = { label, address: location.pathname + location.search };
  made = undefined;
}

export function wasMade(key: string, name: string): void {
  made = { chosen: { ingredient: key, base: '' }, name };
}

/** What was written down for this list, once. */
export function takeMade(label: string): { chosen: Chosen; name: string } | undefined {
  if (!made || asked?.label !== label || asked.address !== location.pathname + location.search) return undefined;
  const mine = made;
  made = asked = undefined;
  return mine;
}
