// A batch's record: its jar, what went in, every row, its jars, and what may be done with it now.

import type { Batch } from '../../shell/contract';
import { AgeingPart } from '../ageing/ageing';
import { FillCheck } from '../bench/nets';
import { NoteForm } from '../bench/steps';
import { useView } from '../book';
import { Tested } from '../formula/challenge';
import { NotThere, Screen } from '../frame/screen';
import { AsPrinted } from '../law/printed';
import { PHRuler } from '../formula/ruler';
import { Fig } from '../parts/figure';
import { Findings } from '../parts/findings';
import { Jar } from '../parts/jar';
import { Kept } from '../parts/kept';
import { Go } from '../parts/link';
import { StateWord } from '../parts/stateword';
import { Photos } from '../parts/photos';
import { go } from '../route';
import { Cost } from './cost';
import { Jars } from './jars';
import { Labels } from './labels';
import { Moves } from './moves';
import { Rows } from './rows';
import { Standing } from './standing';
import { Tonight } from './tonight';
import { WentIn } from './wentin';

/** What a photo shows that is taken now; later it is a photo of its day. */
const stages: Record<string, 'bench' | 'filled'> = { making: 'bench', resting: 'filled' };

const back = { to: '/make', text: 'Make' };

export function BatchScreen({ id }: { id: string }) {
  const answer = useView('batch', { key: id });
  if (!answer) return <NotThere name="batch" title="" back={back} />;
  if (!answer.ok) return <NotThere name="batch" title="Batch" back={back} error={answer.error} />;
  const batch = answer.value;
  return (
    <Screen
      name="batch"
      look="record"
      back={back}
      title={batch.row.name}
      sub={
        <>
          batch <b class="num code">{batch.row.code}</b> · {batch.row.purpose} · <StateWord state={batch.row.state} />
        </>
      }
      foot={<BatchFoot of={batch} />}
    >
      <div class="columns">
        <div>
          <BatchHead of={batch} />
          <Tonight batch={id} />
          <WentIn of={batch.wentIn} />
          {batch.wentIn.some((l) => l.actual) && <AsPrinted args={{ batch: id }} />}
          <Cost batch={id} />
          <Jars jars={batch.jars} says={batch.jarsSays} places={batch.places} />
          {batch.jars.length > 0 && <FillCheck batch={id} />}
          <Moves batch={id} />
          {batch.jars.length > 0 && <Labels of={batch} />}
        </div>
        <div>
          <AgeingPart batch={id} />
          {batch.row.state !== 'making' && <Tested formula={batch.formula} batch={id} />}
          {batch.looks.length > 0 && (
            <section data-part="looks">
              <h2 class="ph">
                <span>looked at</span>
                <Go to={`/batches/${id}/look`} class="go">
                  look again
                </Go>
              </h2>
              <Rows rows={batch.looks} />
            </section>
          )}
          <Findings of={batch.row.state === 'making' ? batch.findings : batch.findings.filter((f) => f.level !== 'wear')} />
          <h2 class="ph">
            <span>the record</span>
            <Kept where={batch.row.where} />
          </h2>
          <Rows rows={batch.rows} />
          {batch.rows.some((r) => r.what === 'ph') && <PHRuler batch={id} />}
          <Photos of={{ batch: id, stage: stages[batch.row.state] ?? '' }} />
          <NoteForm batch={batch.row.key} />
        </div>
      </div>
    </Screen>
  );
}

function BatchFoot({ of }: { of: Batch }) {
  if (of.row.state === 'making') {
    return (
      <button type="button" class="btn" onClick={() => go(`/make/${of.row.key}`)}>
        Go on at the bench
      </button>
    );
  }
  if (!of.canHold && !of.canRelease) return null;
  return <Standing of={of} />;
}

export function BatchHead({ of }: { of: Batch }) {
  return (
    <div class="record-head">
      <Jar layers={of.layers} fit />
      <div>
        {of.row.says && <p class="lead">{of.row.says}</p>}
        <div class="kv">
          <span>made</span>
          <span class="num">{of.made || of.row.started}</span>
        </div>
        <div class="kv">
          <span>in all</span>
          <Fig of={of.mass} label="Batch" />
        </div>
        <Go to={`/formulas/${of.formula}?revision=${encodeURIComponent(of.revision)}`} class="kv">
          <span>formula</span>
          <span class="go">revision {of.revisionNumber}</span>
        </Go>
      </div>
    </div>
  );
}
