// A second tap on the same spot within 300 ms is a drop of water, not a finger (platform.md, Hands).

import { useRef } from 'preact/hooks';

const DROP_MS = 300;
const SPOT_PX = 24;

/** Props for the bench's root: swallows such a tap before anything under it hears of it. */
export function useDropGuard(): { onClickCapture: (e: MouseEvent) => void } {
  const last = useRef({ at: -Infinity, x: 0, y: 0 });
  return {
    onClickCapture(e) {
      // A click without a pointer comes from a keyboard or a reader: those do not drip.
      if (e.detail === 0) return;
      const was = last.current;
      last.current = { at: e.timeStamp, x: e.clientX, y: e.clientY };
      const near = Math.abs(e.clientX - was.x) < SPOT_PX && Math.abs(e.clientY - was.y) < SPOT_PX;
      if (near && e.timeStamp - was.at < DROP_MS) {
        e.preventDefault();
        e.stopPropagation();
      }
    },
  };
}
