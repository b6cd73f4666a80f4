// Pouring the pots together: one key, closed with the reason until each pot is in range.

import { StepLayout } from './layout';
import type { StepProps } from './step';

export function CombineStep({ batch, bench, step, act, after }: StepProps) {
  const waits = bench.pots.filter((p) => !p.ready);
  const combine = async () => {
    if (await act.run('batch.treated', { batch, phase: step.phase, says: '', do: 'combine' })) after();
  };
  return (
    <StepLayout
      step={step}
      act={act}
      foot={
        <>
          {waits.length > 0 && (
            <p class="because" data-part="waits">
              {waits.map((p) => p.says || `${p.name} is not in range yet`).join('; ')}
            </p>
          )}
          <button type="button" class="btn" disabled={act.busy || waits.length > 0} data-part="combine" onClick={() => void combine()}>
            Combined
          </button>
        </>
      }
    >
      <ul class="pot-list">
        {bench.pots.map((p) => (
          <li key={p.name} class="kv">
            <span>
              {p.name}
              <small>{p.says}</small>
            </span>
            <b class="num">{p.temperature || 'not read'}</b>
          </li>
        ))}
      </ul>
    </StepLayout>
  );
}
