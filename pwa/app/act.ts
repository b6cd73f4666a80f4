// Doing one thing at a time: a command under way cannot be sent twice, and its refusal stays until the next try.

import { useState } from 'preact/hooks';
import { command } from '../shell/client';
import type { Commands, Refusal } from '../shell/contract';

export interface Act {
  busy: boolean;
  error: Refusal | undefined;
  forget(): void;
  /** The command's answer, or undefined when it was refused: then `error` says why. */
  run<N extends keyof Commands>(name: N, args: Commands[N]['args']): Promise<Commands[N]['value'] | undefined>;
}

export function useAct(): Act {
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<Refusal | undefined>(undefined);
  return {
    busy,
    error,
    forget: () => setError(undefined),
    async run(name, args) {
      if (busy) return undefined;
      setBusy(true);
      const result = await command(name, args);
      setBusy(false);
      setError(result.ok ? undefined : result.error);
      return result.ok ? result.value : undefined;
    },
  };
}
