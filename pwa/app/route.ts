// Where the app is: the address is the only memory of it, so reload and the back key work as everywhere else.

import { computed, signal } from '@preact/signals';

const address = signal(location.pathname + location.search);

export interface Place {
  /** path in parts, without empty ones: ["formulas", "KEY"] */
  parts: string[];
  query: URLSearchParams;
}

export const place = computed<Place>(() => {
  const url = new URL(address.value, location.origin);
  return {
    parts: url.pathname.split('/').filter(Boolean).map(decodeURIComponent),
    query: url.searchParams,
  };
});

export function go(to: string, replace = false): void {
  if (replace) history.replaceState(null, '', to);
  else history.pushState(null, '', to);
  address.value = to;
  scrollTo(0, 0);
}

addEventListener('popstate', () => {
  address.value = location.pathname + location.search;
});
