// What follows from the draft, asked at every keystroke: one question under way at a time, and only the newest text after it.

import { useEffect, useRef, useState } from 'preact/hooks';
import { ask } from '../../shell/client';
import type { Draft, Result, Sheet } from '../../shell/contract';

export function useSheet(draft: Draft | undefined): Result<Sheet> | undefined {
  const [answer, setAnswer] = useState<Result<Sheet> | undefined>(undefined);
  const state = useRef<{ busy: boolean; next: Draft | undefined; here: boolean }>({ busy: false, next: undefined, here: true });
  const text = draft ? JSON.stringify(draft) : '';
  useEffect(() => {
    const s = state.current;
    s.here = true;
    return () => {
      s.here = false;
    };
  }, []);
  useEffect(() => {
    if (!draft) return;
    const s = state.current;
    s.next = draft;
    if (s.busy) return;
    s.busy = true;
    const run = async () => {
      while (s.next && s.here) {
        const asked = s.next;
        s.next = undefined;
        const result = await ask('sheet', asked);
        if (s.here) setAnswer(result);
      }
      s.busy = false;
    };
    void run();
  }, [text]);
  return answer;
}
