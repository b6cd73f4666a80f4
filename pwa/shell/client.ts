// All that the app sees of the engine, the book and the home store. It holds no rule and no figure:
// it asks the worker and hands on what the worker says.

import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { Commands, LinkState, Result, Views } from './contract';
import type { LabelFile } from './contract-workshop';
import type { PhotoOf } from './contract-photo';
import { find, keep } from './drafts';
import { refused, type FromWorker, type Ready, type Request, type Tab, type ToWorker } from './messages';
import type { Drawn } from './screens';
import { shrink } from './shrink';
import { watchForUpdate } from './update';

export { update, applyUpdate } from './update';
export { readScreen as lastScreen } from './screens';
export { scan, scanPhoto, scanTrouble } from './scanner';

/** How long a view that nobody watches is kept alive, in ms: a screen that comes back at once finds it warm. */
const LINGER = 4000;

const linkState = signal<LinkState>({ online: false, unsent: 0, says: '', trouble: '', told: '', aside: 0, shut: false, backup: { says: '', warn: false } });
const tabState = signal<Tab>('mine');
const readyState = signal<Ready>('starting');
const failureState = signal('');
const persistedState = signal<'asked' | 'kept' | 'not promised'>('asked');

/** What the top of the screen says about this phone and the home store. */
export const link: ReadonlySignal<LinkState> = linkState;
/** 'elsewhere' while another tab of this phone has the book open; takeOver() brings it here. */
export const tab: ReadonlySignal<Tab> = tabState;
export const ready: ReadonlySignal<Ready> = readyState;
/** The sentence to show when ready is 'failed', '' otherwise. */
export const failure: ReadonlySignal<string> = failureState;
/** Whether the browser promised to keep the book when space is short. */
export const persisted: ReadonlySignal<'asked' | 'kept' | 'not promised'> = persistedState;

export type View<T> = ReadonlySignal<Result<T> | undefined>;

interface Live {
  key: string;
  sub: number;
  name: keyof Views;
  args: unknown;
  value: Signal<Result<unknown> | undefined>;
  watched: boolean;
  open: boolean;
  timer: ReturnType<typeof setTimeout> | undefined;
}

const worker = new Worker(__WORKER_URL__, { name: 'stillroom' });
const waiting = new Map<number, (result: Result<unknown>) => void>();
const liveByKey = new Map<string, Live>();
const liveBySub = new Map<number, Live>();
let lastId = 0;

function post(message: ToWorker): void {
  worker.postMessage(message);
}

let heard = false;

worker.addEventListener('message', (event: MessageEvent<FromWorker>) => {
  heard = true;
  const message = event.data;
  switch (message.from) {
    case 'answer': {
      const done = waiting.get(message.id);
      waiting.delete(message.id);
      done?.(message.result);
      return;
    }
    case 'view': {
      const live = liveBySub.get(message.sub);
      if (live) live.value.value = message.result;
      return;
    }
    case 'state':
      linkState.value = message.link;
      tabState.value = message.tab;
      failureState.value = message.failure;
      readyState.value = message.ready;
  }
});

// A worker that cannot start takes no entry with it: what was kept is in IndexedDB. An error after its start is one
// message's fault and not its end.
worker.addEventListener('error', (event) => {
  if (heard) return;
  failureState.value = `The part of Stillroom that keeps the book did not start (${event.message || 'its file could not be loaded'}). All that was kept is kept. Load the page again.`;
  readyState.value = 'failed';
  for (const done of waiting.values()) {
    done(refused('stopped', 'Stillroom did not start, and this was not kept.', 'Load the page again; what you typed still stands in the draft.'));
  }
  waiting.clear();
});

function request(what: Request): Promise<Result<unknown>> {
  const id = ++lastId;
  return new Promise((resolve) => {
    waiting.set(id, resolve);
    post({ to: 'request', id, request: what });
  });
}

function openLive(live: Live): void {
  if (live.open) return;
  live.open = true;
  liveBySub.set(live.sub, live);
  liveByKey.set(live.key, live);
  post({ to: 'subscribe', sub: live.sub, name: live.name, args: live.args });
}

function closeLive(live: Live): void {
  if (!live.open) return;
  live.open = false;
  liveBySub.delete(live.sub);
  if (liveByKey.get(live.key) === live) liveByKey.delete(live.key);
  post({ to: 'release', sub: live.sub });
}

function lingerLive(live: Live): void {
  clearTimeout(live.timer);
  live.timer = setTimeout(() => {
    if (!live.watched) closeLive(live);
  }, LINGER);
}

/**
 * A live view: the worker evaluates it again whenever the book changes. The same name and args give the same signal,
 * so it may be called in every render. It ends by itself some seconds after the last watcher is gone.
 */
export function view<N extends keyof Views>(name: N, args: Views[N]['args']): View<Views[N]['value']> {
  const key = name + ' ' + JSON.stringify(args);
  const known = liveByKey.get(key);
  if (known) return known.value as View<Views[N]['value']>;
  const value: Signal<Result<unknown> | undefined> = signal<Result<unknown> | undefined>(undefined, {
    watched() {
      live.watched = true;
      clearTimeout(live.timer);
      openLive(live);
    },
    unwatched() {
      live.watched = false;
      lingerLive(live);
    },
  });
  const live: Live = { key, sub: ++lastId, name, args, value, watched: false, open: false, timer: undefined };
  openLive(live);
  lingerLive(live);
  return value as View<Views[N]['value']>;
}

/** Ends a view now, without waiting for it to end by itself. */
export function release<T>(of: View<T>): void {
  for (const live of liveBySub.values()) {
    if (live.value === of) {
      closeLive(live);
      return;
    }
  }
}

/** A view asked once. */
export function ask<N extends keyof Views>(name: N, args: Views[N]['args']): Promise<Result<Views[N]['value']>> {
  return request({ do: 'ask', name, args }) as Promise<Result<Views[N]['value']>>;
}

/** Resolves when what it did is durably kept on this phone and folded, or with a refusal that says what was kept. */
export function command<N extends keyof Commands>(name: N, args: Commands[N]['args']): Promise<Result<Commands[N]['value']>> {
  return request({ do: 'command', name, args }) as Promise<Result<Commands[N]['value']>>;
}

/** One computation of the calculator by its name; request and value are its documented JSON. */
export function calc<T>(name: string, what: unknown): Promise<Result<T>> {
  return request({ do: 'calc', name, request: JSON.stringify(what) }) as Promise<Result<T>>;
}

/** Keeps something half typed on this phone only; it survives a reload. undefined removes it. */
export function keepDraft(name: string, value: unknown): Promise<void> {
  return keep(name, value, (under, newest) => request({ do: 'keepDraft', name: under, value: newest }));
}

export function draft<T>(name: string): Promise<T | undefined> {
  return find<T>(name, (under) => request({ do: 'draft', name: under }));
}

/** Keeps the screen as it is drawn, for the next start. Nothing waits for it. */
export function keepScreen(drawn: Drawn): void {
  post({ to: 'screen', drawn });
}

/** Makes a photo small, keeps it on this phone and then writes down what it shows. */
export async function keepPhoto(file: Blob, of: PhotoOf): Promise<Result<unknown>> {
  const made = await shrink(file).catch(() => undefined);
  if (!made) return refused('no picture', 'This file is not a picture that this browser can read.', 'Take it again, or choose another.');
  const { name, bytes, width, height } = made;
  const size = bytes.byteLength;
  const kept = await request({ do: 'keepPhoto', name, bytes });
  return kept.ok ? command('photo.keep', { ...of, photo: name, bytes: size, width, height, text: '' }) : kept;
}

/** A photo by its name, undefined while neither this phone nor the home store can be asked for it. */
export function photo(name: string): Promise<Result<Blob | undefined>> {
  return request({ do: 'photo', name }) as Promise<Result<Blob | undefined>>;
}

/** The PDF of a batch's labels, made by the home store. */
export function labels(batch: string, sheet: string): Promise<Result<LabelFile>> {
  return request({ do: 'labels', batch, sheet }) as Promise<Result<LabelFile>>;
}

/** Gives this phone a new name at the home store and hands over what it holds; what came of it stands in `link` when the book is open again. */
export function goOnAsNew(): Promise<Result<unknown>> {
  return request({ do: 'anew' });
}

/** Opens the book in this tab; the tab that had it shows that it is open elsewhere. */
export function takeOver(): void {
  post({ to: 'takeOver' });
}

async function askToPersist(): Promise<void> {
  const storage = navigator.storage as StorageManager | undefined;
  // Missing in some engines (platform.md): then nothing is promised, and the page says so.
  if (!storage || typeof storage.persist !== 'function') {
    persistedState.value = 'not promised';
    return;
  }
  const promised = await storage.persist().catch(() => false);
  persistedState.value = promised ? 'kept' : 'not promised';
}

void askToPersist();
watchForUpdate();
addEventListener('online', () => post({ to: 'wake', why: 'online' }));
addEventListener('pageshow', () => post({ to: 'wake', why: 'visible' }));
document.addEventListener('visibilitychange', () => {
  post({ to: 'wake', why: document.visibilityState === 'visible' ? 'visible' : 'hidden' });
});
