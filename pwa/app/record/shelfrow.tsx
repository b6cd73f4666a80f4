// A row of the shelf's own record. What was wrong is put right with a reason, and the old row stays, struck through.

import { useState } from 'preact/hooks';
import type { StallRow } from '../../shell/contract-stall';
import { useAct } from '../act';
import { besides, useKept } from '../book';
import { Field } from '../parts/field';
import { Kept } from '../parts/kept';
import { Correction } from './correction';

export function ShelfRow({ of }: { of: StallRow }) {
  const [open, setOpen] = useState(false);
  return (
    <div class={of.struck ? 'entry struck' : 'entry'} data-entry={of.entry} data-what={of.what} data-struck={of.struck}>
      <div class="entry-line">
        <span>
          {of.struck ? <s>{of.title}</s> : of.title} {of.struck && 'corrected'}
        </span>
        <span class="num">{of.struck ? <s>{of.value}</s> : of.value}</span>
      </div>
      <div class="entry-foot">
        <small>{[of.detail, of.at, of.by].filter(Boolean).join(' · ')}</small>
        <Kept where={of.where} />
      </div>
      {of.clash && (
        <p class="note note-care">
          <i class="word">take care</i> {of.clash}
        </p>
      )}
      {!of.struck && !of.clash && !open && (
        <button type="button" class="quiet correct" aria-label={`Correct ${of.title} ${of.value}`} onClick={() => setOpen(true)}>
          correct
        </button>
      )}
      {open && <CorrectShelfRow of={of} close={() => setOpen(false)} />}
    </div>
  );
}

interface Typed {
  value: string;
  place: string;
  price: string;
  reason: string;
}

const blank: Typed = { value: '', place: '', price: '', reason: '' };
const fields = ['value', 'place', 'price', 'reason'];

function CorrectShelfRow({ of, close }: { of: StallRow; close: () => void }) {
  const act = useAct();
  const kept = useKept<Typed>(`correct:shelf:${of.entry}`);
  const typed = kept.value ?? blank;
  const set = (change: Partial<Typed>) => kept.edit((now) => ({ ...(now ?? blank), ...change }));
  const leave = () => {
    kept.clear();
    close();
  };
  const send = async () => {
    if (!(await act.run('correct', { entry: of.entry, stream: 'shelf', unit: '', lot: '', ...typed }))) return;
    leave();
  };
  return (
    <Correction act={act} reason={typed.reason} setReason={(reason) => set({ reason })} fields={fields} send={send} leave={leave}>
      <Field label="So many it should be" name="value" mode="numeric" hint="Empty leaves the number; 0 if it did not happen." value={typed.value} set={(value) => set({ value })} error={besides(act.error, 'value')} />
      {of.what === 'moved' && <Field label="They went to" name="place" hint="Empty leaves the place." value={typed.place} set={(place) => set({ place })} error={besides(act.error, 'place')} />}
      {(of.what === 'sold' || of.what === 'given') && (
        <Field label="Price of one" name="price" mode="decimal" hint="Empty leaves the price; 0 if it was given." value={typed.price} set={(price) => set({ price })} error={besides(act.error, 'price')} />
      )}
    </Correction>
  );
}
