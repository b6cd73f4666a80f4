// What to wear has its own screen, before the tub is opened.

import { MaskMark } from '../parts/mask';
import { StepLayout } from './layout';
import type { StepProps } from './step';

export function WearStep({ batch, step, act, after }: StepProps) {
  const on = async () => {
    if (await act.run('batch.wear', { batch, phase: step.phase, line: step.line })) after();
  };
  return (
    <StepLayout
      step={step}
      act={act}
      foot={
        <button type="button" class="btn" disabled={act.busy} onClick={() => void on()}>
          On
        </button>
      }
    >
      <div class="wearing">
        <MaskMark size={132} />
        <p class="lead">
          <i class="word">wear</i> {step.wear[0]?.says ?? step.says}
        </p>
        {step.wear[0]?.do && <p>{step.wear[0].do}</p>}
        {step.wear.slice(1).map((f) => (
          <p key={f.rule + f.line}>
            {f.says} {f.do}
          </p>
        ))}
        {step.wear[0]?.source && <p class="src">{step.wear[0].source}</p>}
      </div>
    </StepLayout>
  );
}
