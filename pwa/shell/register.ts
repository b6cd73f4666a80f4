// A phone gets its name from the home store once in its life, and never another while anything is kept under it.

import type { Backup } from './contract';
import type { LabelFile } from './contract-workshop';
import type { Device } from './keep';

export class NoStore extends Error {}

function isDevice(answer: unknown): answer is Device {
  if (typeof answer !== 'object' || answer === null) return false;
  const fields = answer as Record<string, unknown>;
  return ['device', 'token', 'letter', 'role'].every((name) => typeof fields[name] === 'string');
}

/** The token of the device that this phone was before: one that was taken off the list gets no new name. */
export const WAS = 'Stillroom-Was';

export const UNCHANGED = 'The home store does not answer. Nothing was changed: this phone is what it was and keeps all that it holds. Try again where the home store answers.';

export async function register(was = ''): Promise<Device> {
  let response: Response;
  try {
    response = await fetch('/api/devices', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json', ...(was && { [WAS]: was }) },
      body: '{}',
      cache: 'no-store',
    });
  } catch {
    if (was) throw new NoStore(UNCHANGED);
    throw new NoStore('The home store does not answer, and this phone is not known to it yet. Start the home store and this page goes on by itself.');
  }
  if (!response.ok) throw new NoStore((await reason(response)) || `The home store did not take this phone in (it answered ${response.status}). This page tries again.`);
  // A captive portal answers too, with a page of its own: believe only what has the right shape.
  const answer: unknown = await response.json().catch(() => undefined);
  if (!isDevice(answer)) {
    throw new NoStore('What answered was not the home store. Check which network this phone is in; this page tries again.');
  }
  return { device: answer.device, token: answer.token, letter: answer.letter, role: answer.role };
}

/** The home store's own sentence, which it sends as plain text. A page of somebody else's is not one. */
export async function reason(response: Response): Promise<string> {
  if (!response.headers.get('Content-Type')?.startsWith('text/plain')) return '';
  return (await response.text().catch(() => '')).trim();
}

export async function fetchBackup(token: string): Promise<Backup> {
  const response = await fetch('/api/backup', { headers: { Authorization: `Bearer ${token}` }, cache: 'no-store' });
  const { says, warn } = (await response.json()) as Backup;
  if (!response.ok || typeof says !== 'string') throw new NoStore('');
  return { says, warn: warn === true };
}

/** The labels of a batch as a PDF, and what had no room on them. The home store makes it, so without it there is a sentence and no file. */
export async function fetchLabels(token: string, batch: string, sheet: string): Promise<LabelFile> {
  const query = new URLSearchParams({ batch, sheet });
  const response = await fetch('/api/labels?' + query, { headers: { Authorization: `Bearer ${token}` }, cache: 'no-store' }).catch(() => {
    throw new NoStore('Labels are made by the home store, and it does not answer now.');
  });
  if (!response.ok) {
    throw new NoStore((await reason(response)) || `The home store could not make the labels (it answered ${response.status}).`);
  }
  if (response.headers.get('Content-Type')?.split(';')[0] !== 'application/pdf') {
    throw new NoStore('What answered was not the home store. Check which network this phone is in.');
  }
  return { pdf: await response.blob(), says: response.headers.get('Stillroom-Says') ?? '' };
}
