// The notes beside one line or phase: each opens by itself, and what to wear is said in one line until it is touched.

import { useState } from 'preact/hooks';
import { Note } from '../parts/note';
import type { Finding } from '../../shell/contract';
import { levelWord } from '../words';
import { MaskMark } from '../parts/mask';
import type { Placed } from './placing';

/** A note in one line: its word and what it says. */
function Short({ of, open }: { of: Finding; open: () => void }) {
  return (
    <button type="button" class={`note short note-${of.level}`} aria-expanded={false} data-rule={of.rule} data-level={of.level} onClick={open}>
      {of.level === 'wear' && <MaskMark size={20} />}
      <span>
        <i class="word">{levelWord[of.level]}</i> {of.says}
      </span>
    </button>
  );
}

function Opening({ of }: { of: Finding }) {
  const [open, setOpen] = useState(of.level !== 'wear');
  return open ? <Note of={of} /> : <Short of={of} open={() => setOpen(true)} />;
}

export function MarginNotes({ of }: { of: readonly Placed[] }) {
  return (
    <>
      {of.filter((p) => p.open).map((p) => (
        <Opening key={p.of.rule + p.of.says} of={p.of} />
      ))}
    </>
  );
}
