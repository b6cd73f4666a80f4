// Jars from one place to another: so many of each batch, or code by code with a running count.

import { useState } from 'preact/hooks';
import type { Places, Standing } from '../../shell/contract-stall';
import { useAct } from '../act';
import { useKept, useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Trouble } from '../parts/trouble';
import { go } from '../route';
import { count } from '../words';
import { Codes, type Coded } from './codes';
import { CountRow } from './countrow';
import { standingAt } from './where';

const back = { to: '/stall', text: 'Stall' };

export interface Way {
  name: string;
  title: string;
  from: string;
  to: string;
  /** the verb on the key: "Take 12 jars out" */
  says: (jars: string) => string;
  none: string;
}

export const out: Way = { name: 'stall-out', title: 'Take jars out', from: 'home', to: 'stall', says: (jars) => `Take ${jars} out`, none: 'No jar stands at home. Jars come from a batch that was filled.' };
export const home: Way = { name: 'stall-back', title: 'Bring back', from: 'stall', to: 'home', says: (jars) => `Bring ${jars} back`, none: 'No jar is at the stall.' };

export function Moving({ way }: { way: Way }) {
  const answer = useView('places', {});
  if (!answer) return <NotThere name={way.name} title={way.title} back={back} />;
  if (!answer.ok) return <NotThere name={way.name} title={way.title} back={back} error={answer.error} />;
  return <Form way={way} of={answer.value} />;
}

function Form({ way, of }: { way: Way; of: Places }) {
  const act = useAct();
  const kept = useKept<Record<string, string>>(way.name);
  const codes = useKept<Coded[]>(`${way.name}-codes`);
  const [at, setAt] = useState('');
  const { from, to } = way;
  const standings = standingAt(of, from);
  const typed = kept.value ?? {};
  const coded = codes.value ?? [];
  const may = (s: Standing) => way.to === 'home' || s.barred === '';
  const jars = coded.length + standings.reduce((all, s) => all + (may(s) ? Number.parseInt(typed[s.batch] ?? '', 10) || 0 : 0), 0);
  const send = async () => {
    for (const s of standings) {
      const n = (typed[s.batch] ?? '').trim();
      if (!n || !may(s)) continue;
      setAt(s.batch);
      if (!(await act.run('jars.move', { batch: s.batch, from, to, count: n, jars: '' }))) return;
      kept.edit((now) => ({ ...now, [s.batch]: '' }));
    }
    setAt('');
    for (const batch of new Set(coded.map((c) => c.batch))) {
      const mine = coded.filter((c) => c.batch === batch);
      if (!(await act.run('jars.move', { batch, from, to, count: '', jars: mine.map((c) => c.code).join(' ') }))) return;
      codes.edit((now) => (now ?? []).filter((c) => c.batch !== batch));
    }
    kept.clear();
    codes.clear();
    go('/stall');
  };
  return (
    <Screen
      name={way.name}
      title={way.title}
      back={back}
      sub={way.to === 'stall' ? 'released jars only; a resting or held one stays at home' : 'what was not sold goes home'}
      foot={
        <>
          <Trouble error={at ? undefined : act.error} />
          <button type="button" class="btn" data-part="move" disabled={act.busy || jars === 0} onClick={() => void send()}>
            {jars === 0 ? way.title : way.says(count(jars, 'jar', 'jars'))}
          </button>
        </>
      }
    >
      <div class="columns">
        <section data-part="standings">
          {[...standings].sort((a, b) => Number(may(b)) - Number(may(a))).map((s) => (
            <CountRow
              key={s.batch}
              of={s}
              value={typed[s.batch] ?? ''}
              set={(n) => kept.edit((now) => ({ ...now, [s.batch]: n }))}
              barred={may(s) ? '' : s.barred}
              error={at === s.batch ? act.error : undefined}
              all
            />
          ))}
          {standings.length === 0 && <p class="lead">{way.none}</p>}
        </section>
        <Codes of={coded} edit={codes.edit} toStall={way.to === 'stall'} />
      </div>
    </Screen>
  );
}
