// A step that is written down already: what it says, and the way to correct it.

import { Rows } from '../record/rows';
import { StepLayout } from './layout';
import type { StepProps } from './step';

export function Finished({ bench, step, act, goOn, again }: StepProps & { goOn: () => void; again: () => void }) {
  const rows = bench.rows.filter((r) => r.entry === step.entry);
  const also = bench.rows.filter((r) => r.struck && r.now === step.entry);
  return (
    <StepLayout
      step={step}
      act={act}
      foot={
        <div class="two">
          {step.what === 'heat' && (
            <button type="button" class="btn second" onClick={again}>
              Read again
            </button>
          )}
          <button type="button" class="btn" onClick={goOn}>
            Go on
          </button>
        </div>
      }
    >
      <Rows rows={[...also, ...rows]} openFirst />
    </StepLayout>
  );
}
