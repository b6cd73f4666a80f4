// The camera of this phone, for a screen that shows what it sees.

import type { RefObject } from 'preact';
import { useEffect } from 'preact/hooks';
import { scan } from '../../shell/client';

/** Reads codes from a video for as long as it is on the screen and `on`. The camera is let go also when it comes late. */
export function useCamera(video: RefObject<HTMLVideoElement | null>, on: boolean, found: (text: string) => void): void {
  useEffect(() => {
    const element = video.current;
    if (!on || !element) return;
    let here = true;
    let stop: (() => void) | undefined;
    void scan(element, (text) => {
      if (here) found(text);
    }).then((end) => {
      if (here) stop = end;
      else end();
    });
    return () => {
      here = false;
      stop?.();
    };
  }, [on]);
}
