// Pouring the pots together: one key, closed until each pot is in range. A pot is touched to be read again, so that
// nobody stands before a closed key without a way on.

import { useView } from '../book';
import { Note } from '../parts/note';
import { StepLayout } from './layout';
import { stepOf } from './pots';
import { beside, type StepProps } from './step';

export function CombineStep({ batch, bench, step, act, open, after, read }: StepProps) {
  const check = useView('combining', { batch, phase: step.phase });
  const combine = async () => {
    if (await act.run('batch.treated', { batch, phase: step.phase, says: '', do: 'combine' })) after();
  };
  return (
    <StepLayout
      step={step}
      act={act}
      also={[{ text: 'Weigh a poured vessel', open: () => open({ ...beside('topup', bench.pots[0]?.phases[0] ?? step.phase), way: 'poured', at: 'empty' }) }]}
      foot={
        <button type="button" class="btn" disabled={act.busy || bench.pots.some((p) => !p.ready)} data-part="combine" onClick={() => void combine()}>
          Combined
        </button>
      }
    >
      <ul class="pot-list">
        {bench.pots.map((p) => (
          <li key={p.name}>
            <button type="button" class="kv" data-pot={p.name} onClick={() => read(stepOf(bench, p))}>
              <span>
                {p.name} <i class="word go">{p.ready ? 'ready' : ''}</i>
                <small>{p.says}</small>
              </span>
              <span class="num fig">
                <b>{p.temperature || 'not read'}</b>
                <small class="go">{p.temperature ? 'read again' : 'read it'}</small>
              </span>
            </button>
          </li>
        ))}
      </ul>
      {check?.ok && check.value.says && (
        <p class="aid-says" data-part="together">
          {check.value.says}
        </p>
      )}
      {check?.ok && check.value.findings.map((f) => <Note key={f.rule} of={f} />)}
    </StepLayout>
  );
}
