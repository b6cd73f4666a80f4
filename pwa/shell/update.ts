// The service worker's life as the page sees it: registered once, looked at often, replaced only when a person says so.

import { signal, type ReadonlySignal } from '@preact/signals';

const waitingState = signal(false);
let waitingWorker: ServiceWorker | undefined;
let asked = false;

/** True when a newer Stillroom is downloaded and waits for a quiet moment. */
export const update: ReadonlySignal<boolean> = waitingState;

/** Starts the newer Stillroom; the page loads again once it is in charge. */
export function applyUpdate(): void {
  if (!waitingWorker) return;
  asked = true;
  waitingWorker.postMessage('SKIP_WAITING');
}

function noteWaiting(worker: ServiceWorker | null): void {
  // Without a controller this is the first installation, not an update.
  if (!worker || !navigator.serviceWorker.controller) return;
  waitingWorker = worker;
  waitingState.value = true;
}

function follow(worker: ServiceWorker | null): void {
  if (!worker) return;
  worker.addEventListener('statechange', () => {
    if (worker.state === 'installed') noteWaiting(worker);
  });
}

/** Registers the service worker and looks for a newer one at load, on becoming visible and on pageshow. */
export function watchForUpdate(): void {
  const container = navigator.serviceWorker as ServiceWorkerContainer | undefined;
  if (!container) return;
  container.addEventListener('controllerchange', () => {
    if (asked) location.reload();
  });
  container.register('/sw.js', { updateViaCache: 'none' }).then(
    (registration) => {
      noteWaiting(registration.waiting);
      follow(registration.installing);
      registration.addEventListener('updatefound', () => follow(registration.installing));
      const look = () => {
        // Failing to look is what being away from the home store is like; the next look will do.
        registration.update().catch(() => undefined);
      };
      addEventListener('pageshow', look);
      document.addEventListener('visibilitychange', () => {
        if (document.visibilityState === 'visible') look();
      });
    },
    () => undefined,
  );
}
