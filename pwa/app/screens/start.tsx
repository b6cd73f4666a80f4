// Before a batch: what for, how much, what to wear, and what it comes to in grams.

import type { Formula, Plan } from '../../shell/contract';
import { useAct } from '../act';
import { elsewhere, useKept, useView } from '../book';
import { Amounts } from '../formula/amounts';
import { Fits, PlanFields, planWords } from '../formula/plan';
import { useSheet } from '../formula/sheet';
import { NotThere, Screen } from '../frame/screen';
import { Choice } from '../parts/choice';
import { Fig } from '../parts/figure';
import { Findings } from '../parts/findings';
import { Jar } from '../parts/jar';
import { Go } from '../parts/link';
import { Trouble } from '../parts/trouble';
import { go } from '../route';
import { purposes } from '../words';

export function Start({ formula }: { formula: string }) {
  return formula ? <Planned id={formula} /> : <WhichFormula />;
}

function WhichFormula() {
  const answer = useView('formulas', {});
  const back = { to: '/make', text: 'Make' };
  if (!answer) return <NotThere name="start" title="Start a batch" back={back} />;
  if (!answer.ok) return <NotThere name="start" title="Start a batch" back={back} error={answer.error} />;
  return (
    <Screen name="start" title="Start a batch" sub="of which formula" back={back}>
      <div class="tiles">
        {answer.value.map((f) => (
          <Go key={f.key} to={`/make/new?formula=${f.key}`} class="tile">
            <Jar layers={f.layers} height={96} />
            <span>
              <b>{f.name}</b>
              <small>revision {f.number}</small>
            </span>
          </Go>
        ))}
      </div>
      {answer.value.length === 0 && (
        <Go to="/formulas/new" class="btn">
          Write the first formula
        </Go>
      )}
    </Screen>
  );
}

function Planned({ id }: { id: string }) {
  const answer = useView('formula', { key: id, revision: '' });
  const back = { to: `/formulas/${id}`, text: 'Formula' };
  if (!answer) return <NotThere name="start" title="" back={back} />;
  if (!answer.ok) return <NotThere name="start" title="Start a batch" back={back} error={answer.error} />;
  return <Form of={answer.value} />;
}

interface Typed {
  purpose: string;
  plan: Plan;
}

function Form({ of }: { of: Formula }) {
  const act = useAct();
  const kept = useKept<Typed>(`start:${of.row.key}`);
  const begin: Typed = { purpose: 'trial', plan: of.draft.plan };
  const typed = kept.value ?? begin;
  const answer = useSheet({ ...of.draft, plan: typed.plan });
  const sheet = answer?.ok ? answer.value : undefined;
  const plan = (change: Partial<Plan>) => kept.edit((now) => ({ ...(now ?? begin), plan: { ...(now ?? begin).plan, ...change } }));
  const start = async () => {
    const done = await act.run('batch.start', { formula: of.row.key, revision: of.row.revision, purpose: typed.purpose, ...typed.plan });
    if (!done) return;
    kept.clear();
    go(`/make/${done.key}`);
  };
  // Two hot phases ask for the same goggles: here, before anything stands on the bench, once is enough.
  const wear = (sheet?.findings ?? []).filter((f, n, all) => (f.level === 'wear' || f.level === 'stop') && all.findIndex((g) => g.says === f.says && g.do === f.do) === n);
  return (
    <Screen
      name="start"
      look="record"
      back={{ to: `/formulas/${of.row.key}`, text: of.row.name }}
      title="Start a batch"
      sub={`${of.row.name}, revision ${of.row.number}`}
      foot={
        <>
          <div class="plan-row">
            <span>{planWords(sheet)}</span>
            {sheet && <Fig of={sheet.mass} label="Batch" big />}
          </div>
          <Fits sheet={sheet} />
          <Trouble error={elsewhere(act.error, [])} />
          {sheet && !sheet.canMake && sheet.because && <p class="because">{sheet.because}</p>}
          <button type="button" class="btn" disabled={!sheet?.canMake || act.busy} onClick={() => void start()}>
            Start
          </button>
        </>
      }
    >
      <p class="remark" data-part="clean">
        Clean first: wash, wipe vessels and jars with alcohol and let it dry before any hot plate is on; hair, nails, apron; children and pets out.
      </p>
      <Choice label="What it is for" options={purposes} value={typed.purpose} set={(purpose) => kept.edit((now) => ({ ...(now ?? begin), purpose }))} />
      <PlanFields plan={typed.plan} set={plan} />
      <Amounts draft={{ ...of.draft, plan: typed.plan }} setJars={(jars) => plan({ jars })} />
      {wear.length > 0 && (
        <section>
          <h2 class="ph">
            <span>before you begin</span>
          </h2>
          <Findings of={wear} />
        </section>
      )}
    </Screen>
  );
}
