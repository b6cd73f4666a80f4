// The words for what the contract names by a short sign.

import type { Finding, Level, Treatment, Where } from '../shell/contract';

export const levelWord: Record<Level, string> = {
  stop: 'stop',
  care: 'take care',
  note: 'note',
  wear: 'wear',
  unchecked: 'not checked',
};

const weight: Record<Level, string> = { stop: 'a', care: 'b', wear: 'c', note: 'd', unchecked: 'e' };

/** Heaviest first; equals stay in the order in which the engine gave them. */
export function heaviestFirst(findings: readonly Finding[]): Finding[] {
  return [...findings].sort((a, b) => weight[a.level].localeCompare(weight[b.level]));
}

export const whereWord: Record<Where, string> = { phone: 'on this phone', book: 'in the book' };

export const washes = ['rinse-off', 'leave-on'];
export const sites = ['body', 'face', 'hair', 'lip', 'hand', 'foot', 'eye area', 'bath', 'spray or mist', 'nail', 'intimate', 'whole body'];
export const ages = ['adults', '3 to 12', 'under 3'];
export const purposes = ['trial', 'sale', 'gift', 'class', 'own use'];
export const doings = ['mix', 'heat', 'melt', 'cool', 'whip', 'fold'];

/** "heat to 75 C, hold 20 min", as it was typed. */
export function treatmentWords(t: Treatment, pot = ''): string {
  const to = t.to ? ` to ${t.to.replace(/\s*°?\s*([cf])$/i, (_, unit: string) => ` °${unit.toUpperCase()}`)}` : '';
  const hold = t.holdMin ? `, hold ${t.holdMin} min` : '';
  const stands = pot ? `, in ${pot}` : '';
  return (t.do ? t.do + to + hold : to.trim() + hold) + stands;
}

export function count(n: number, one: string, many: string): string {
  return `${n} ${n === 1 ? one : many}`;
}
