// The service worker: the whole shell is on the phone before it is used, and it stays whole.
// It keeps files of one version only; records are not its business.

const worker = self as unknown as ServiceWorkerGlobalScope;

const PREFIX = 'stillroom-shell-';
const CACHE = PREFIX + __BUILD__;
const PAGE = '/';
/** The one page besides: it must open when the app does not. */
const RESCUE = '/rescue.html';
/** The home store's own page of how it is: nothing of it is kept here. */
const HEALTH = '/health';

/** Paths that are the home store's own answers and never a part of the shell. */
function isStores(path: string): boolean {
  return path === '/ws' || path.startsWith('/api/');
}

async function install(): Promise<void> {
  // Into a cache of its own and all or nothing: a file that cannot be had leaves the old shell as it was.
  const cache = await caches.open(CACHE);
  try {
    await cache.addAll(__SHELL__.map((url) => new Request(url, { cache: 'reload' })));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

async function tidy(): Promise<void> {
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX) && name !== CACHE) await caches.delete(name);
  }
  await worker.clients.claim();
}

async function kept(request: Request): Promise<Response> {
  const cache = await caches.open(CACHE);
  const page = request.mode === 'navigate';
  // Every address of the app, /j/CODE among them, is the one page: it reads the address itself.
  const rescue = new URL(request.url).pathname === RESCUE;
  const found = await cache.match(page && !rescue ? PAGE : request, { ignoreSearch: page });
  return found ?? fetch(request);
}

worker.addEventListener('install', (event) => event.waitUntil(install()));
worker.addEventListener('activate', (event) => event.waitUntil(tidy()));

worker.addEventListener('message', (event) => {
  if (event.data === 'SKIP_WAITING') void worker.skipWaiting();
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== worker.location.origin || isStores(url.pathname)) return;
  event.respondWith(url.pathname === HEALTH ? fetch(request).catch(() => kept(request)) : kept(request));
});
