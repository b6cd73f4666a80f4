// A correction: what it should say, and why. The old row stays readable.

import { useState } from 'preact/hooks';
import type { Row } from '../../shell/contract';
import { useAct } from '../act';
import { besides, elsewhere, useKept, useView } from '../book';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';

interface Typed {
  value: string;
  unit: string;
  lot: string;
  reason: string;
}

const fields = ['value', 'reason', 'lot'];

export function CorrectForm({ row, close }: { row: Row; close: () => void }) {
  const act = useAct();
  const kept = useKept<Typed>(`correct:${row.entry}`);
  const start: Typed = { value: '', unit: row.what === 'temperature' ? (row.value.includes('F') ? 'F' : 'C') : '', lot: '', reason: '' };
  const typed = kept.value ?? start;
  const set = (change: Partial<Typed>) => kept.edit((now) => ({ ...(now ?? start), ...change }));
  const send = async () => {
    const done = await act.run('correct', { entry: row.entry, ...typed });
    if (!done) return;
    kept.clear();
    close();
  };
  const decimal = row.what === 'weighed' || row.what === 'temperature' || row.what === 'ph';
  return (
    <form
      class="correct-form"
      onSubmit={(e) => {
        e.preventDefault();
        void send();
      }}
    >
      <Field
        label={row.what === 'weighed' ? 'The scale said' : 'It should say'}
        name="value"
        mode={decimal ? 'decimal' : 'text'}
        {...(row.what === 'weighed' ? { unit: 'g' } : {})}
        value={typed.value}
        set={(value) => set({ value })}
        error={besides(act.error, 'value')}
      />
      {row.what === 'temperature' && (
        <Choice
          label="Unit"
          quiet
          options={[
            { value: 'C', text: '°C' },
            { value: 'F', text: '°F' },
          ]}
          value={typed.unit}
          set={(unit) => set({ unit })}
        />
      )}
      {row.what === 'weighed' && <OtherLot name={row.title} lot={typed.lot} set={(lot) => set({ lot })} />}
      <Trouble error={besides(act.error, 'lot')} />
      <Field label="Why" name="reason" value={typed.reason} set={(reason) => set({ reason })} error={besides(act.error, 'reason')} />
      <Trouble error={elsewhere(act.error, fields)} />
      <div class="two">
        <button
          type="button"
          class="quiet"
          onClick={() => {
            kept.clear();
            close();
          }}
        >
          Leave as it was
        </button>
        <button type="submit" class="btn" disabled={act.busy}>
          Correct
        </button>
      </div>
    </form>
  );
}

function OtherLot({ name, lot, set }: { name: string; lot: string; set: (lot: string) => void }) {
  const [open, setOpen] = useState(false);
  const lots = useView('lots', {});
  const same = lots?.ok ? lots.value.filter((l) => l.name === name) : [];
  if (same.length === 0) return null;
  if (!open && !lot) {
    return (
      <button type="button" class="quiet" onClick={() => setOpen(true)}>
        From another lot
      </button>
    );
  }
  return <Choice label="It came from lot" options={[{ value: '', text: 'as written' }, ...same.map((l) => ({ value: l.key, text: l.code }))]} value={lot} set={set} />;
}
