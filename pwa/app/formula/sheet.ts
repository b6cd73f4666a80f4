// What follows from what is on the screen, asked at every keystroke: one question under way at a time, and only the newest after it.

import { useEffect, useRef, useState } from 'preact/hooks';
import { ask } from '../../shell/client';
import type { Draft, Result, Sheet, Views } from '../../shell/contract';

export function useSheet(draft: Draft | undefined): Result<Sheet> | undefined {
  return useAsked('sheet', draft);
}

/** The newest answer of a view to what stands on the screen; undefined asks nothing. */
export function useAsked<N extends keyof Views>(name: N, args: Views[N]['args'] | undefined): Result<Views[N]['value']> | undefined {
  const [answer, setAnswer] = useState<Result<Views[N]['value']> | undefined>(undefined);
  const state = useRef<{ busy: boolean; next: Views[N]['args'] | undefined; here: boolean }>({ busy: false, next: undefined, here: true });
  const text = args ? JSON.stringify(args) : '';
  useEffect(() => {
    const s = state.current;
    s.here = true;
    return () => {
      s.here = false;
    };
  }, []);
  useEffect(() => {
    if (!args) return;
    const s = state.current;
    s.next = args;
    if (s.busy) return;
    s.busy = true;
    const run = async () => {
      while (s.next && s.here) {
        const asked = s.next;
        s.next = undefined;
        const result = await ask(name, asked);
        if (s.here) setAnswer(result);
      }
      s.busy = false;
    };
    void run();
  }, [text]);
  return answer;
}
