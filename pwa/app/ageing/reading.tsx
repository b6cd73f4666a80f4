// One reading of a retained sample: where it stands, what was measured and how, and what eye, nose and hand say.

import type { Refusal } from '../../shell/contract';
import type { AgedArgs, Ageing } from '../../shell/contract-ageing';
import { useAct } from '../act';
import { besides, elsewhere, useKept, useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';
import { go } from '../route';

export const unread: AgedArgs = { batch: '', day: '', condition: '', ph: '', method: '', dilution: '', step: '', sample: '', mass: '', density: '', words: [], note: '' };

const steps: Record<string, readonly string[]> = { strip: ['0.2', '0.5', '1'], meter: ['0.01', '0.1'] };

interface ReadingProps {
  of: Ageing;
  typed: AgedArgs;
  set: (change: Partial<AgedArgs>) => void;
  error: Refusal | undefined;
  /** A correction: what is left at "as written" stays. */
  again?: boolean;
}

export function ReadingFields({ of, typed, set, error, again }: ReadingProps) {
  const asWritten = again ? [{ value: '', text: 'as written' }] : [];
  const text = (name: 'ph' | 'mass' | 'density' | 'note' | 'day' | 'sample') => ({ name, value: typed[name], set: (v: string) => set({ [name]: v }), error: besides(error, name) });
  return (
    <>
      <Choice label="Where it stands" options={of.conditions.map((c) => ({ value: c.key, text: c.name }))} value={typed.condition} set={(condition) => set({ condition })} />
      <Trouble error={besides(error, 'condition')} />
      <Field label="pH" mode="decimal" {...text('ph')} />
      {(typed.ph || again) && (
        <>
          <div class="ph-how">
            <Choice label="By" quiet options={[...asWritten, { value: 'strip', text: 'strip' }, { value: 'meter', text: 'meter' }]} value={typed.method} set={(method) => set({ method, step: '' })} />
            <Choice
              label="Sample"
              quiet
              options={[...asWritten, { value: again ? 'neat' : '', text: 'neat' }, { value: '10', text: '10 % in water' }]}
              value={typed.dilution}
              set={(dilution) => set({ dilution })}
            />
          </div>
          <Trouble error={besides(error, 'method') ?? besides(error, 'dilution')} />
          {typed.method && <Choice label={`The ${typed.method} shows steps of`} options={steps[typed.method] ?? []} value={typed.step} set={(step) => set({ step: step === typed.step ? '' : step })} />}
          <Field label="Temperature of what you measured" mode="decimal" hint="22 C or 72 F" {...text('sample')} />
        </>
      )}
      <Field label="Mass" mode="decimal" unit="g" hint={`the same ${of.word} each time, with its lid`} {...text('mass')} />
      <Field label="Density" mode="decimal" unit="g/mL" {...text('density')} />
      {of.asks.map((ask) => {
        const said = typed.words.find((w) => w.of === ask.of)?.word ?? '';
        const rest = typed.words.filter((w) => w.of !== ask.of);
        return <Choice key={ask.of} label={ask.of} options={ask.words} value={said} set={(word) => set({ words: word === said ? rest : [...rest, { of: ask.of, word }] })} />;
      })}
      <Field label="Note" {...text('note')} />
      <Field label="Day, if not today" hint="2026-11-30 or 30 Nov 2026" {...text('day')} />
    </>
  );
}

export function ReadingScreen({ id }: { id: string }) {
  const answer = useView('ageing', { key: id });
  const act = useAct();
  const kept = useKept<AgedArgs>(`age:${id}`);
  const there = `/batches/${id}/ageing`;
  const back = { to: there, text: 'As it ages' };
  if (!answer) return <NotThere name="reading" title="" back={back} />;
  if (!answer.ok) return <NotThere name="reading" title="A reading" back={back} error={answer.error} />;
  const of = answer.value;
  const start = { ...unread, batch: id };
  const keep = async () => {
    if (!(await act.run('batch.age', kept.value ?? start))) return;
    kept.clear();
    go(there, true);
  };
  return (
    <Screen
      name="reading"
      look="record look"
      back={back}
      title="A reading"
      sub={
        <>
          {of.row.name} · <b class="num code">{of.row.code}</b> · {of.age}
        </>
      }
      foot={
        <>
          <Trouble error={elsewhere(act.error, ['condition', 'ph', 'method', 'dilution', 'sample', 'mass', 'density', 'note', 'day'])} />
          <button type="button" class="btn" disabled={act.busy || kept.value === undefined} onClick={() => void keep()}>
            Keep the reading
          </button>
        </>
      }
    >
      <p class="faint">Beside how it was when it was filled. What you leave out stays empty.</p>
      <ReadingFields of={of} typed={kept.value ?? start} set={(change) => kept.edit((now) => ({ ...(now ?? start), ...change }))} error={act.error} />
    </Screen>
  );
}
