// "There are n here": what is counted beside what the book expects, and the difference said in words.

import { useState } from 'preact/hooks';
import type { Places } from '../../shell/contract-stall';
import { useAct } from '../act';
import { useKept, useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { CountRow } from './countrow';
import { standingAt } from './where';

const back = { to: '/stall', text: 'Stall' };

export function Counting() {
  const answer = useView('places', {});
  if (!answer) return <NotThere name="stall-count" title="Count" back={back} />;
  if (!answer.ok) return <NotThere name="stall-count" title="Count" back={back} error={answer.error} />;
  return <Form of={answer.value} />;
}

/** The book's "−2" or "+1" in words. */
function lacking(difference: string): string {
  if (difference === '0') return 'it agrees';
  return difference.slice(1) + (difference.startsWith('+') ? ' more than expected' : ' not accounted for');
}

function Form({ of }: { of: Places }) {
  const act = useAct();
  const kept = useKept<Record<string, string>>('stall-count');
  const [said, setSaid] = useState<Record<string, string>>({});
  const [at, setAt] = useState('');
  const typed = kept.value ?? {};
  const place = 'stall';
  const standings = standingAt(of, place);
  const waiting = standings.some((s) => (typed[s.batch] ?? '').trim() !== '');
  const keep = async () => {
    for (const s of standings) {
      const n = (typed[s.batch] ?? '').trim();
      if (!n) continue;
      setAt(s.batch);
      const done = await act.run('jars.count', { place, batch: s.batch, count: n });
      if (!done) return;
      setSaid((now) => ({ ...now, [s.batch]: `kept: ${done.expected} expected, ${n} counted: ${lacking(done.difference)}` }));
      kept.edit((now) => ({ ...now, [s.batch]: '' }));
    }
    setAt('');
  };
  return (
    <Screen
      name="stall-count"
      title="Count"
      back={back}
      sub="what stands on the table now; leave a line empty that you did not count"
      foot={
        <button type="button" class="btn" disabled={act.busy || !waiting} onClick={() => void keep()}>
          Keep the count
        </button>
      }
    >
      <div class="paper">
        {standings.map((s) => (
          <CountRow key={s.batch} of={s} value={typed[s.batch] ?? ''} set={(n) => kept.edit((now) => ({ ...now, [s.batch]: n }))} error={at === s.batch ? act.error : undefined}>
            {said[s.batch] && (
              <p class="remark num" role="status" data-part="difference">
                {said[s.batch]}
              </p>
            )}
          </CountRow>
        ))}
        {standings.length === 0 && <p class="lead">No jar is at the stall, so there is nothing to count.</p>}
      </div>
    </Screen>
  );
}
