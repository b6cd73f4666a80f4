// A correction: what it should say, and why. The old row stays readable.

import { useState } from 'preact/hooks';
import type { Refusal, Row } from '../../shell/contract';
import type { AgedArgs } from '../../shell/contract-ageing';
import type { Look } from '../../shell/contract-stall';
import { ReadingFields, unread } from '../ageing/reading';
import { useAct } from '../act';
import { besides, useKept, useView } from '../book';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';
import { place } from '../route';
import { Correction } from './correction';
import { lookWords, noLook } from './lookwords';

interface Typed {
  value: string;
  unit: string;
  lot: string;
  reason: string;
  look: Look | undefined;
  aged?: AgedArgs;
  method?: string;
  dilution?: string;
}

const fields = ['value', 'reason', 'lot', 'method', 'dilution', 'condition', 'ph', 'sample', 'mass', 'density', 'note', 'day'];

const labels: Record<string, string> = { weighed: 'The scale said', filled: 'So many were filled' };
const units: Record<string, string> = { weighed: 'g', density: 'g/mL', net: 'g' };

export function CorrectForm({ row, close }: { row: Row; close: () => void }) {
  const act = useAct();
  const kept = useKept<Typed>(`correct:${row.entry}`);
  const start: Typed = { value: '', unit: row.what === 'temperature' ? (row.value.includes('F') ? 'F' : 'C') : '', lot: '', reason: '', look: undefined };
  const typed = kept.value ?? start;
  const { look, aged, ...said } = typed;
  const set = (change: Partial<Typed>) => kept.edit((now) => ({ ...(now ?? start), ...change }));
  const leave = () => {
    kept.clear();
    close();
  };
  const send = async () => {
    const done = await act.run('correct', { entry: row.entry, ...said, ...(look ? { look } : {}), ...(aged ? { aged } : {}) });
    if (!done) return;
    leave();
  };
  const decimal = row.what === 'weighed' || ['temperature', 'ph', 'density', 'net', 'filled'].includes(row.what);
  return (
    <Correction act={act} reason={typed.reason} setReason={(reason) => set({ reason })} fields={fields} send={send} leave={leave}>
      {row.what === 'aged' ? (
        <ReadAgain typed={aged ?? unread} error={act.error} set={(change) => kept.edit((now) => ({ ...(now ?? start), aged: { ...(now?.aged ?? unread), ...change } }))} />
      ) : row.what === 'looked' ? (
        <LookAgain look={look ?? noLook} set={(change) => kept.edit((now) => ({ ...(now ?? start), look: { ...(now?.look ?? noLook), ...change } }))} />
      ) : (
        <Field
          label={labels[row.what] ?? 'It should say'}
          name="value"
          mode={decimal ? 'decimal' : 'text'}
          {...(units[row.what] ? { unit: units[row.what] } : {})}
          value={typed.value}
          set={(value) => set({ value })}
          error={besides(act.error, 'value')}
        />
      )}
      {row.what === 'filled' && <p class="hint">Jars that stay keep their codes. What is too many goes from the end; what is missing gets the next numbers.</p>}
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
      {row.what === 'ph' && <HowRead method={typed.method ?? ''} dilution={typed.dilution ?? ''} set={set} />}
      {row.what !== 'aged' && <Trouble error={besides(act.error, 'method') ?? besides(act.error, 'dilution')} />}
      {row.what === 'weighed' && <OtherLot name={row.title} lot={typed.lot} set={(lot) => set({ lot })} />}
      <Trouble error={besides(act.error, 'lot')} />
    </Correction>
  );
}

/** How a pH was read; what is left at "as written" stays. */
function HowRead({ method, dilution, set }: { method: string; dilution: string; set: (change: { method?: string; dilution?: string }) => void }) {
  const asWritten = { value: '', text: 'as written' };
  return (
    <>
      <Choice label="By" quiet options={[asWritten, { value: 'strip', text: 'strip' }, { value: 'meter', text: 'meter' }]} value={method} set={(m) => set({ method: m })} />
      <Choice label="Sample" quiet options={[asWritten, { value: 'neat', text: 'neat' }, { value: '10', text: '10 % in water' }]} value={dilution} set={(d) => set({ dilution: d })} />
    </>
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

/** A reading of the retained sample; the address says of which batch. */
function ReadAgain({ typed, set, error }: { typed: AgedArgs; set: (change: Partial<AgedArgs>) => void; error: Refusal | undefined }) {
  const answer = useView('ageing', { key: place.value.parts[1] ?? '' });
  if (!answer?.ok) return null;
  return (
    <>
      <p class="hint">Say what was wrong. What you leave out stays as it is.</p>
      <ReadingFields of={answer.value} typed={typed} set={set} error={error} again />
    </>
  );
}

/** The words of a look; one that is left out stays as it was written. */
function LookAgain({ look, set }: { look: Look; set: (change: Partial<Look>) => void }) {
  return (
    <>
      <p class="hint">Choose what was wrong. What you leave out stays as it is.</p>
      {lookWords(['fluff', 'grit']).map((w) => (
        <Choice key={w.name} label={w.label} options={w.options} value={look[w.name] ?? ''} set={(word) => set({ [w.name]: look[w.name] === word ? '' : word })} />
      ))}
      <Field label="pH" name="ph" mode="decimal" value={look.ph} set={(ph) => set({ ph })} />
      <Field label="Note" name="note" value={look.note} set={(note) => set({ note })} />
    </>
  );
}
