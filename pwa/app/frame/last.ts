// The last screen, drawn at once: the engine takes its time to start, and what one reads first is where one left off.
//
// What is kept is the screen as it was drawn, not what it was drawn from: it cannot be touched, promises nothing, and goes
// as soon as the live screen stands under it. It belongs to one device's book, one build and one address, and is shown
// for no other.

import { effect } from '@preact/signals';
import { keepScreen, lastScreen, ready, tab } from '../../shell/client';

/** A change is kept when the screen has been still for so long, in ms, or when the page goes out of sight. */
const STILL = 2000;
/** Longer than this the live screen is not waited for: it then says itself what it waits for. */
const PATIENCE = 1500;
/** A screen longer than this is not kept, in characters. */
const LONG = 300_000;

const page = document.documentElement;
const shadow = document.getElementById('last');
const app = document.getElementById('app');

const address = () => location.pathname + location.search;

/** What is written in a field is not in the markup of its element, and what finds a live screen must not find its picture. */
function picture(house: Element): string {
  const copy = house.cloneNode(true) as Element;
  const fields = house.querySelectorAll<HTMLInputElement | HTMLTextAreaElement>('input, textarea');
  copy.querySelectorAll<HTMLInputElement | HTMLTextAreaElement>('input, textarea').forEach((field, i) => {
    const from = fields[i];
    if (!from) return;
    if (field instanceof HTMLTextAreaElement) field.textContent = from.value;
    else {
      field.setAttribute('value', from.value);
      field.toggleAttribute('checked', from instanceof HTMLInputElement && from.checked);
    }
  });
  for (const gone of copy.querySelectorAll('.sum, .undo, .update, video, img')) gone.remove();
  for (const e of copy.querySelectorAll('*')) {
    for (const name of e.getAttributeNames()) {
      if (/^(data-|for$|name$|href$|aria-(controls|describedby|activedescendant))/.test(name)) e.removeAttribute(name);
    }
  }
  const state = copy.querySelector('.state');
  if (state) state.textContent = 'opening the book';
  return copy.innerHTML;
}

function settled(): Element | undefined {
  const house = app?.querySelector('.house:not(.alone)');
  return house && !house.querySelector('.not-yet') && house.querySelector('main') ? house : undefined;
}

function clear(): void {
  page.classList.remove('waking');
  if (shadow) shadow.textContent = '';
}

let kept = '';

function keepNow(): void {
  if (ready.value !== 'ready' || tab.value !== 'mine' || page.classList.contains('waking')) return;
  const house = settled();
  if (!house) return;
  const html = picture(house);
  const now = address() + html;
  if (html.length > LONG || now === kept) return;
  kept = now;
  keepScreen({ at: address(), build: __BUILD__, look: house.className, html });
}

function watch(): void {
  if (!app) return;
  let timer: ReturnType<typeof setTimeout> | undefined;
  new MutationObserver(() => {
    if (page.classList.contains('waking') && ready.value === 'ready' && settled()) clear();
    clearTimeout(timer);
    timer = setTimeout(keepNow, STILL);
  }).observe(app, { childList: true, subtree: true, characterData: true });
  addEventListener('pagehide', keepNow);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') keepNow();
  });
}

export async function showLastScreen(): Promise<void> {
  watch();
  const asked = address();
  const last = await lastScreen();
  if (!shadow || ready.value !== 'starting' || tab.value !== 'mine') return;
  if (!last || last.at !== asked || asked !== address() || last.build !== __BUILD__) return;
  shadow.innerHTML = `<div class="${last.look}">${last.html}</div>`;
  page.classList.add('waking');
  const done = effect(() => {
    if (tab.value !== 'mine' || ready.value === 'failed') clear();
    else if (ready.value === 'ready') setTimeout(clear, PATIENCE);
    else return;
    queueMicrotask(() => done());
  });
}
