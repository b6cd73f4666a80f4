// One line of the ledger: name, per cent as typed, grams as they follow, and the note that concerns it.

import { useEffect, useRef } from 'preact/hooks';
import type { DraftLine, SheetLine } from '../../shell/contract';
import { Fig } from '../parts/figure';
import { MarginNotes } from './marginnotes';
import type { Placed } from './placing';

interface LineProps {
  line: DraftLine;
  known: SheetLine | undefined;
  notes: readonly Placed[];
  fresh: boolean;
  open: boolean;
  fixed: boolean;
  toggle: () => void;
  setPercent: (text: string) => void;
}

const empty = { text: '', sum: '' };

export function Line({ line, known, notes, fresh, open, fixed, toggle, setPercent }: LineProps) {
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (fresh) input.current?.focus();
  }, [fresh]);
  const name = known?.name || '…';
  // A line that nobody has written on yet is not a mistake; the foot says what is still open.
  const trouble = line.percent === '' ? '' : (known?.trouble ?? '');
  const troubled = `${line.id}-trouble`;
  return (
    <div class="line" data-line={line.id}>
      <div class="row">
        {fixed ? (
          <span class="name">
            {name}
            {line.qs && <small>q.s.</small>}
          </span>
        ) : (
          <button type="button" class="name" aria-expanded={open} onClick={toggle}>
            {name}
            {line.base && <small>base</small>}
            {line.qs && <small>q.s.</small>}
          </button>
        )}
        {line.qs || fixed ? (
          <Fig of={known?.percent ?? empty} label={`${name}, per cent`} />
        ) : (
          <input
            ref={input}
            class="num percent"
            type="text"
            inputMode="decimal"
            autocomplete="off"
            aria-label={`${name}, per cent`}
            aria-invalid={trouble ? true : undefined}
            aria-describedby={trouble ? troubled : undefined}
            value={line.percent}
            onInput={(e) => setPercent(e.currentTarget.value)}
          />
        )}
        <Fig of={known?.grams ?? empty} label={`${name}, grams`} />
      </div>
      {trouble && (
        <p class="trouble" id={troubled}>
          <i class="word">stop</i> {trouble}
        </p>
      )}
      {line.note && !open && <p class="remark">{line.note}</p>}
      <MarginNotes of={notes} />
    </div>
  );
}
