// Taken out, not asked about: what a hand did by mistake is put back with one touch.

import { signal } from '@preact/signals';

const last = signal<{ says: string; back: () => void } | undefined>(undefined);
let timer: ReturnType<typeof setTimeout> | undefined;

/** Long enough to read it with wet hands and dry one of them. */
const STANDS_MS = 12_000;

export function offerUndo(says: string, back: () => void): void {
  clearTimeout(timer);
  last.value = { says, back };
  timer = setTimeout(() => (last.value = undefined), STANDS_MS);
}

export function UndoBar() {
  const now = last.value;
  if (!now) return null;
  return (
    <div class="undo" role="status">
      <span>{now.says}</span>
      <button
        type="button"
        class="quiet"
        onClick={() => {
          last.value = undefined;
          now.back();
        }}
      >
        Undo
      </button>
    </div>
  );
}
