// The screen stays on while the bench is open. The browser lets go of the lock whenever the page is hidden, so it is asked again.

import { useEffect } from 'preact/hooks';

export function useAwake(): void {
  useEffect(() => {
    let lock: WakeLockSentinel | undefined;
    let here = true;
    const hold = () => {
      const wakeLock = navigator.wakeLock as WakeLock | undefined;
      if (!wakeLock || document.visibilityState !== 'visible') return;
      wakeLock.request('screen').then(
        (got) => {
          if (here) lock = got;
          else void got.release();
        },
        // Refused on a low battery: the bench works all the same, the screen only sleeps sooner.
        () => undefined,
      );
    };
    hold();
    document.addEventListener('visibilitychange', hold);
    return () => {
      here = false;
      document.removeEventListener('visibilitychange', hold);
      void lock?.release();
    };
  }, []);
}
