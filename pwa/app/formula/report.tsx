// A laboratory's report, typed line by line: what it is of, who counted, and each microbe in powers of ten.

import type { ChallengeOrganism, ChallengeTyped, Challenges } from '../../shell/contract-ageing';
import { useAct } from '../act';
import { besides, elsewhere, useKept } from '../book';
import { Screen } from '../frame/screen';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';

interface ReportFormProps {
  of: Challenges;
  start: ChallengeTyped;
  back: { to: string; text: string };
  close: () => void;
}

const kinds = ['bacteria', 'yeast', 'mould'];
const days = ['day7', 'day14', 'day28'] as const;

export function ReportForm({ of, start, back, close }: ReportFormProps) {
  const act = useAct();
  const kept = useKept<ChallengeTyped>(`challenge:${start.formula}:${start.of}`);
  const typed = kept.value ?? start;
  const set = (change: Partial<ChallengeTyped>) => kept.edit((now) => ({ ...(now ?? start), ...change }));
  const text = (name: 'laboratory' | 'report' | 'day' | 'method' | 'note' | 'reason') => ({ name, value: typed[name], set: (v: string) => set({ [name]: v }), error: besides(act.error, name) });
  const organism = (i: number, change: Partial<ChallengeOrganism>) => set({ organisms: typed.organisms.map((o, n) => (n === i ? { ...o, ...change } : o)) });
  const leave = () => {
    kept.clear();
    close();
  };
  const keep = async () => {
    if (await act.run('formula.challenge', typed)) leave();
  };
  const counts = typed.form === 'counts';
  return (
    <Screen
      name="report"
      look="record look"
      back={back}
      title="A laboratory's report"
      sub={of.name}
      foot={
        <>
          <Trouble error={act.error?.field.startsWith('organisms[') ? undefined : elsewhere(act.error, ['laboratory', 'report', 'day', 'method', 'note', 'reason'])} />
          <div class="two">
            <button type="button" class="btn second" onClick={leave}>
              Leave it
            </button>
            <button type="button" class="btn" disabled={act.busy} onClick={() => void keep()}>
              Keep the report
            </button>
          </div>
        </>
      }
    >
      <Choice label="It is of" options={of.revisions.map((r) => ({ value: r.key, text: r.name }))} value={typed.revision || (of.revisions[0]?.key ?? '')} set={(revision) => set({ revision, batch: '' })} />
      {of.batches.length > 0 && (
        <Choice label="A jar of batch" options={[{ value: '', text: 'not said' }, ...of.batches.map((b) => ({ value: b.key, text: b.name }))]} value={typed.batch} set={(batch) => set({ batch })} />
      )}
      <Field label="Laboratory" {...text('laboratory')} />
      <Field label="Its number of the report" {...text('report')} />
      <Field label="Day of the report" hint="2026-11-30 or 30 Nov 2026" {...text('day')} />
      <Field label="Method" {...text('method')} />
      <Choice
        label="The figures are"
        options={[
          { value: 'counts', text: 'log counts' },
          { value: 'reductions', text: 'log reductions' },
        ]}
        value={typed.form}
        set={(form) => set({ form })}
      />
      <p class="hint">{counts ? 'In powers of ten: 1,200,000 are 6.08. None found below a limit is <1.' : 'In powers of ten: a thousandth left is 3. Write ≥4.2 where the report does.'}</p>
      {typed.organisms.map((o, i) => (
        <fieldset key={i} class="organism" data-organism={i}>
          <legend>
            {start.organisms[i] ? (
              <>
                <i>{o.name}</i> <small>{o.kind}</small>
              </>
            ) : (
              'Another microbe'
            )}
          </legend>
          {!start.organisms[i] && (
            <>
              <Field label="Name" name={`name${i}`} value={o.name} set={(name) => organism(i, { name })} />
              <Choice label="Kind" quiet options={kinds} value={o.kind} set={(kind) => organism(i, { kind })} />
            </>
          )}
          <div class="organism-days">
            {counts && <Field label="start" name={`start${i}`} mode="decimal" value={o.start} set={(v) => organism(i, { start: v })} />}
            {days.map((d) => (
              <Field key={d} label={d.replace('day', 'day ')} name={`${d}-${i}`} value={o[d]} set={(v) => organism(i, { [d]: v })} />
            ))}
          </div>
          <Trouble error={act.error?.field.startsWith(`organisms[${i}]`) ? act.error : undefined} />
        </fieldset>
      ))}
      <button type="button" class="quiet" onClick={() => set({ organisms: [...typed.organisms, { name: '', kind: '', start: '', day7: '', day14: '', day28: '' }] })}>
        Another microbe
      </button>
      <Field label="Note" {...text('note')} />
      {typed.of && <Field label="Why it is corrected" {...text('reason')} />}
    </Screen>
  );
}
