// What crosses between the page and its worker. Requests carry an id and are answered once; views are pushed.

import type { Commands, LinkState, Refusal, Result, Views } from './contract';
import type { Drawn } from './screens';

export type Tab = 'mine' | 'elsewhere';
export type Ready = 'starting' | 'ready' | 'failed';

export type Wake = 'online' | 'visible' | 'hidden';

export type Request =
  | { do: 'ask'; name: keyof Views; args: unknown }
  | { do: 'command'; name: keyof Commands; args: unknown }
  | { do: 'calc'; name: string; request: string }
  | { do: 'keepDraft'; name: string; value: unknown }
  | { do: 'draft'; name: string }
  | { do: 'keepPhoto'; name: string; bytes: ArrayBuffer }
  | { do: 'photo'; name: string }
  | { do: 'anew' }
  | { do: 'labels'; batch: string; sheet: string };

export type ToWorker =
  | { to: 'request'; id: number; request: Request }
  | { to: 'subscribe'; sub: number; name: keyof Views; args: unknown }
  | { to: 'release'; sub: number }
  | { to: 'wake'; why: Wake }
  | { to: 'screen'; drawn: Drawn }
  | { to: 'takeOver' };

export type FromWorker =
  | { from: 'answer'; id: number; result: Result<unknown> }
  | { from: 'view'; sub: number; result: Result<unknown> }
  | { from: 'state'; link: LinkState; tab: Tab; ready: Ready; failure: string };

export function refusal(code: string, says: string, hint = '', field = ''): Refusal {
  return { code, says, hint, field };
}

export function refused<T>(code: string, says: string, hint = ''): Result<T> {
  return { ok: false, error: refusal(code, says, hint) };
}
