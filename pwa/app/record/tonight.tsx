// Between the filling and the look of the next day: what to write on the lids, when to close them, and one jar kept back.

import { useAct } from '../act';
import { useView } from '../book';
import { Trouble } from '../parts/trouble';

export function Tonight({ batch }: { batch: string }) {
  const act = useAct();
  const answer = useView('tonight', { key: batch });
  if (!answer?.ok || answer.value.says.length === 0) return null;
  const { says, from, word } = answer.value;
  return (
    <section class="tonight" data-part="tonight">
      <h2 class="ph">
        <span>tonight</span>
      </h2>
      <ul>
        {says.map((s) => (
          <li key={s}>{s}</li>
        ))}
      </ul>
      {from && (
        <button type="button" class="quiet" disabled={act.busy} data-part="keep-back" onClick={() => void act.run('jars.move', { batch, from, to: 'kept back', count: '1', jars: '' })}>
          One {word} is kept back
        </button>
      )}
      <Trouble error={act.error} />
    </section>
  );
}
