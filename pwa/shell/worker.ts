// The one worker: it owns the engine, IndexedDB and the line to the home store, and answers the page.

import { goOnAsNew } from './anew';
import { Book } from './book';
import type { LinkState, Result, Way } from './contract';
import { asResult, call, Op } from './engine';
import { readThrough } from './fill';
import { keepDraft, readDraft } from './keep';
import { LiveViews } from './live';
import { refused, type FromWorker, type Ready, type Request, type Tab, type ToWorker } from './messages';
import { Owner } from './owner';
import { SCREEN } from './screens';
import { findPhoto } from './photos';
import { fetchLabels } from './register';
import { notAnew, notFetched, notKept, notOpened } from './trouble';

const RETRY = 3000;

let book: Book | undefined;
let opening = 0;
let tab: Tab = 'mine';
let ready: Ready = 'starting';
let failure = '';
const unknown: LinkState = { online: false, unsent: 0, says: '', trouble: '', told: '', aside: 0, shut: false, backup: { says: '', warn: false } };
let link = unknown;
let said = '';
/** what happened before the book was opened last, for a person to read */
let told = '';
/** the way on that was tried in vain: it stands until the home store says how things are */
let stuck: Way | undefined;
let retry: ReturnType<typeof setTimeout> | undefined;
/** Requests that came before the book was open wait here: the page need not know when that is. */
let early: (() => void)[] = [];

function post(message: FromWorker): void {
  postMessage(message);
}

function tell(): void {
  const message: FromWorker = { from: 'state', link, tab, ready, failure };
  const text = JSON.stringify(message);
  if (text === said) return;
  said = text;
  post(message);
}

const views = new LiveViews(post);

const owner = new Owner({
  mine: () => {
    tab = 'mine';
    void openBook();
  },
  elsewhere: () => {
    void closeBook();
    tab = 'elsewhere';
    // What another tab does with the home store is not known here.
    link = unknown;
    ready = 'starting';
    letGo();
    tell();
  },
});

/**
 * There is one engine: a book may fill it only when the last one has written its last, and when one that was still being
 * opened as the tab changed has come to its end. Two that fill it side by side leave it with neither.
 */
let turn: Promise<void> = Promise.resolve();

function closeBook(): Promise<void> {
  opening++;
  clearTimeout(retry);
  views.run(false);
  const last = book;
  book = undefined;
  if (last) turn = turn.then(() => last.close());
  return turn;
}

function openBook(): Promise<void> {
  if (ready === 'ready') ready = 'starting';
  void closeBook();
  const mine = opening;
  tell();
  turn = turn.then(() => fill(mine));
  return turn;
}

async function fill(mine: number): Promise<void> {
  if (mine !== opening) return;
  const next = new Book({
    changed: () => views.changed(),
    // What is on disk is whole; the engine in memory no longer is.
    broken: (what = '') => {
      if (mine !== opening) return;
      // A log that is swapped right after says nothing of its own.
      told = what || told;
      void openBook();
    },
    link: (state) => {
      if (mine !== opening) return;
      link = state;
      tell();
    },
  }, told, stuck);
  stuck = undefined;
  try {
    await next.open();
  } catch (error) {
    await next.close();
    if (mine !== opening) return;
    const { says, again } = notOpened(error);
    failure = says;
    ready = 'failed';
    letGo();
    tell();
    if (again) retry = setTimeout(() => void openBook(), RETRY);
    return;
  }
  if (mine !== opening) {
    await next.close();
    return;
  }
  book = next;
  failure = '';
  ready = 'ready';
  tell();
  views.run(true);
  letGo();
}

/** Another name for this phone, with the book closed meanwhile; it opens again whatever came of it. */
async function goAnew(): Promise<Result<unknown>> {
  ready = 'starting';
  const { way } = link;
  void closeBook();
  tell();
  let result: Result<unknown> = { ok: true, value: undefined };
  turn = turn.then(readThrough).then(goOnAsNew).then(
    (what) => {
      told = what;
    },
    (error: unknown) => {
      const no = notAnew(error);
      told = no.says;
      stuck = way;
      result = { ok: false, error: no };
    },
  );
  await turn;
  if (tab === 'mine') await openBook();
  return result;
}

function letGo(): void {
  const waiting = early;
  early = [];
  for (const go of waiting) go();
}

async function answer(request: Request): Promise<Result<unknown>> {
  // Drafts need neither the engine nor the store.
  if (request.do === 'draft') return { ok: true, value: await readDraft(request.name) };
  while (!book && ready === 'starting' && tab === 'mine') await new Promise<void>((resolve) => early.push(resolve));
  if (!book) {
    if (tab === 'elsewhere') return refused('elsewhere', 'Stillroom is open in another tab.', 'Nothing was kept here. Continue here, then try again.');
    return refused('failed', failure, 'Nothing was kept.');
  }
  switch (request.do) {
    case 'ask':
      return asResult(call(Op.view, { name: request.name, args: request.args }));
    case 'command':
      return book.command(request.name, request.args);
    case 'calc':
      return asResult(call(Op.calc, { name: request.name }, new TextEncoder().encode(request.request)));
    case 'keepDraft':
      try {
        await keepDraft(request.name, request.value);
        return { ok: true, value: undefined };
      } catch (error) {
        return { ok: false, error: notKept(error) };
      }
    case 'keepPhoto':
      try {
        await book.keepPhoto(request.name, request.bytes);
        return { ok: true, value: undefined };
      } catch (error) {
        return { ok: false, error: notKept(error) };
      }
    case 'photo':
      return { ok: true, value: await findPhoto(request.name, book.token) };
    case 'anew':
      return goAnew();
    case 'labels':
      try {
        return { ok: true, value: await fetchLabels(book.token, request.batch, request.sheet) };
      } catch (error) {
        return { ok: false, error: notFetched(error) };
      }
  }
}

addEventListener('message', (event: MessageEvent<ToWorker>) => {
  const message = event.data;
  switch (message.to) {
    case 'request':
      answer(message.request).then(
        (result) => post({ from: 'answer', id: message.id, result }),
        (error: unknown) => post({ from: 'answer', id: message.id, result: { ok: false, error: notKept(error) } }),
      );
      return;
    case 'subscribe':
      views.subscribe(message.sub, message.name, message.args);
      return;
    case 'release':
      views.release(message.sub);
      return;
    case 'screen':
      // Lost at worst, and then the next start is only less quick.
      if (book && ready === 'ready') keepDraft(SCREEN, { ...message.drawn, device: book.id }).catch(() => undefined);
      return;
    case 'takeOver':
      if (tab === 'elsewhere') owner.takeOver();
      return;
    case 'wake':
      if (message.why === 'hidden') return;
      if (ready === 'failed') void openBook();
      book?.nudge();
  }
});

owner.start();
