// Every figure can be touched and shows how it came about. One panel for the whole page, at its foot.

import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Figure } from '../../shell/contract';

const open = signal<Figure | undefined>(undefined);

export function closeSum(): void {
  open.value = undefined;
}

export function Fig({ of, label, big }: { of: Figure; label?: string; big?: boolean }) {
  const look = big ? 'num fig fig-big' : 'num fig';
  if (!of.sum) return <span class={look}>{of.text}</span>;
  return (
    <button type="button" class={look} aria-label={`${label ? label + ' ' : ''}${of.text}: show the sum`} onClick={() => (open.value = open.value?.text === of.text && open.value.sum === of.sum ? undefined : of)}>
      {of.text}
    </button>
  );
}

export function SumPanel() {
  const figure = open.value;
  useEffect(() => {
    if (!figure) return;
    const onKey = (e: KeyboardEvent) => {
      if (e.key === 'Escape') closeSum();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [figure]);
  if (!figure) return null;
  return (
    <div class="sum" role="status" data-part="sum">
      <div>
        <b class="num">{figure.text}</b>
        <p class="num">{figure.sum}</p>
      </div>
      <button type="button" class="quiet" onClick={closeSum}>
        Close
      </button>
    </div>
  );
}
