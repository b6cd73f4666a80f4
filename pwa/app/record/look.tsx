// The day after filling: five words by thumb, then released by name, then labels. Under a minute, and in one place.

import { useState } from 'preact/hooks';
import type { Batch } from '../../shell/contract';
import type { Look } from '../../shell/contract-stall';
import { useAct } from '../act';
import { besides, elsewhere, useKept, useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Findings } from '../parts/findings';
import { Photos } from '../parts/photos';
import { StateWord } from '../parts/stateword';
import { Trouble } from '../parts/trouble';
import { count } from '../words';
import { Labels } from './labels';
import { Rows } from './rows';
import { lookWords } from './lookwords';
import { Release } from './standing';

export function LookScreen({ id }: { id: string }) {
  const answer = useView('batch', { key: id });
  const back = { to: `/batches/${id}`, text: 'The record' };
  if (!answer) return <NotThere name="look" title="" back={back} />;
  if (!answer.ok) return <NotThere name="look" title="Look" back={back} error={answer.error} />;
  return <Page of={answer.value} back={back} />;
}

function Page({ of, back }: { of: Batch; back: { to: string; text: string } }) {
  const [again, setAgain] = useState(false);
  const writing = of.canLook && (again || of.looks.length === 0);
  const { row } = of;
  const head = {
    look: 'record look',
    back,
    title: row.name,
    sub: (
      <>
        batch <b class="num code">{row.code}</b> · {row.jars} · <StateWord state={row.state} />
      </>
    ),
  };
  if (writing) return <LookForm of={of} head={head} after={() => setAgain(false)} />;
  return (
    <Screen name="look" {...head}>
      <div class="columns">
        <div>
          {of.canRelease && <Findings of={of.findings.filter((f) => f.level !== 'wear')} />}
          {of.canRelease && <Release of={of} />}
          {row.state === 'released' && of.jars.length > 0 && <Labels of={of} open />}
          {row.state === 'held' && <p class="lead">{row.says}</p>}
        </div>
        <section data-part="looks">
          <h2 class="ph">
            <span>looked at</span>
            <span class="faint">{count(of.looks.length, 'look', 'looks')}</span>
          </h2>
          <Rows rows={of.looks} />
          {of.canLook && (
            <button type="button" class="quiet" onClick={() => setAgain(true)}>
              Look again
            </button>
          )}
        </section>
      </div>
    </Screen>
  );
}

type Head = Pick<Parameters<typeof Screen>[0], 'title' | 'sub' | 'back' | 'look'>;

function LookForm({ of, head, after }: { of: Batch; head: Head; after: () => void }) {
  const act = useAct();
  const batch = of.row.key;
  const tonight = useView('tonight', { key: batch });
  const words = lookWords(tonight?.ok ? tonight.value.asks : []);
  const kept = useKept<Look>(`look:${batch}`);
  const start: Look = { batch, firm: '', colour: '', smell: '', level: '', top: '', ph: '', note: '' };
  const typed = kept.value ?? start;
  const set = (change: Partial<Look>) => kept.edit((now) => ({ ...(now ?? start), ...change }));
  const keep = async () => {
    if (!(await act.run('batch.look', typed))) return;
    kept.clear();
    after();
  };
  return (
    <Screen
      name="look"
      {...head}
      foot={
        <>
          <Trouble error={elsewhere(act.error, ['ph', 'note'])} />
          <button type="button" class="btn" disabled={act.busy || kept.value === undefined} onClick={() => void keep()}>
            Looked at
          </button>
        </>
      }
    >
      <Photos of={{ batch, stage: 'look' }} />
      <p class="faint">As it is now, beside how it was filled. What you leave out stays empty.</p>
      {words.map((w) => (
        <Choice key={w.name} label={w.label} options={w.options} value={typed[w.name] ?? ''} set={(word) => set({ [w.name]: typed[w.name] === word ? '' : word })} />
      ))}
      <div class="look-more">
        <Field label="pH, if you measured it" name="ph" mode="decimal" value={typed.ph} set={(ph) => set({ ph })} error={besides(act.error, 'ph')} />
        {typed.ph && (
          <div class="ph-how">
            <Choice label="By" quiet options={['strip', 'meter']} value={typed.method ?? ''} set={(method) => set({ method })} />
            <Choice
              label="Sample"
              quiet
              options={[
                { value: '', text: 'neat' },
                { value: '10', text: '10 % in water' },
              ]}
              value={typed.dilution ?? ''}
              set={(dilution) => set({ dilution })}
            />
          </div>
        )}
        <Field label="Note" name="note" value={typed.note} set={(note) => set({ note })} error={besides(act.error, 'note')} />
      </div>
    </Screen>
  );
}
