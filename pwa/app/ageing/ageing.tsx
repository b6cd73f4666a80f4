// A batch's retained sample: what to read next, how it drifts, what eye and nose said, and another batch beside it.

import type { Ageing } from '../../shell/contract-ageing';
import { useAct } from '../act';
import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Findings } from '../parts/findings';
import { Go } from '../parts/link';
import { Photos } from '../parts/photos';
import { Trouble } from '../parts/trouble';
import { Rows } from '../record/rows';
import { go } from '../route';
import { Others } from './beside';
import { Chart, Series } from './chart';

export function AgeingScreen({ id }: { id: string }) {
  const answer = useView('ageing', { key: id });
  const back = { to: `/batches/${id}`, text: 'The record' };
  if (!answer) return <NotThere name="ageing" title="" back={back} />;
  if (!answer.ok) return <NotThere name="ageing" title="As it ages" back={back} error={answer.error} />;
  const of = answer.value;
  return (
    <Screen
      name="ageing"
      look="record"
      back={back}
      title={of.row.name}
      sub={
        <>
          as it ages · batch <b class="num code">{of.row.code}</b> {of.age && `· ${of.age}`}
        </>
      }
      foot={
        of.canWrite && (
          <button type="button" class="btn" onClick={() => go(`/batches/${id}/reading`)}>
            Write a reading
          </button>
        )
      }
    >
      <div class="columns">
        <div>
          <p class="lead" data-part="next">
            {of.next || 'No more readings are asked for.'}
          </p>
          <Sample of={of} />
          {of.charts.map((c) => (
            <Chart key={c.what} of={c} />
          ))}
          {of.charts.length === 0 && <p class="faint">No figure was read yet. Three days of readings make a drift; fewer make none.</p>}
          {of.says && <p class="hint">{of.says}</p>}
          <Findings of={of.findings} />
        </div>
        <div>
          {of.said.length > 0 && (
            <section data-part="said">
              <h2 class="ph">
                <span>by eye, nose and hand</span>
              </h2>
              {of.said.map((s) => (
                <div key={s.when + s.says} class="kv aged-said">
                  <small class="num">{s.when}</small>
                  <span>{s.says}</span>
                </div>
              ))}
            </section>
          )}
          <Photos of={{ batch: id, stage: 'look' }} />
          <Others id={id} of={of.others} />
          <h2 class="ph">
            <span>readings</span>
          </h2>
          <Rows rows={of.rows} />
        </div>
      </div>
    </Screen>
  );
}

function Sample({ of }: { of: Ageing }) {
  const act = useAct();
  if (of.kept) return <p class="faint">{of.kept}.</p>;
  if (!of.canWrite) return null;
  return (
    <>
      <p class="faint">No {of.word} is kept back, so nothing is watched.</p>
      {of.from && (
        <button type="button" class="quiet" disabled={act.busy} onClick={() => void act.run('jars.move', { batch: of.row.key, from: of.from, to: 'kept back', count: '1', jars: '' })}>
          One {of.word} is kept back
        </button>
      )}
      <Trouble error={act.error} />
    </>
  );
}

/** On the record: what is due, and how it drifts. */
export function AgeingPart({ batch }: { batch: string }) {
  const answer = useView('ageing', { key: batch });
  if (!answer?.ok || (!answer.value.canWrite && answer.value.rows.length === 0)) return null;
  const of = answer.value;
  return (
    <section data-part="ageing">
      <h2 class="ph">
        <span>as it ages</span>
        <Go to={`/batches/${batch}/ageing`} class="go">
          open
        </Go>
      </h2>
      {of.next && <p class={of.due ? 'lead' : undefined}>{of.next}</p>}
      {of.charts.flatMap((c) => c.series.map((s) => <Series key={c.what + s.name} of={{ ...s, name: `${c.what}, ${s.name}` }} what="" />))}
    </section>
  );
}
